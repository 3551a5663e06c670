"""Sentences with slots, in the reader's language, from the edition's `wording`."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from upstand.edition import Edition

SLOT = re.compile(r"\{([a-z_]+)\}")


def fill(text: str, slots: Mapping[str, str]) -> str:
    """Put the slots' texts in their places; one pass, so that a slot's text is never read again.

    Raises KeyError where the text has a slot that is not given.

    >>> fill("Wait {time}.", {"time": "2 h"})
    'Wait 2 h.'
    """
    return SLOT.sub(lambda found: slots[found.group(1)], text)


def lower_first(sentence: str) -> str:
    """Begin a text small, to stand inside a sentence; an abbreviation keeps its capitals.

    >>> lower_first("Carbon steel"), lower_first("TPO sheet")
    ('carbon steel', 'TPO sheet')
    """
    if len(sentence) > 1 and sentence[1].isupper():
        return sentence
    return sentence[:1].lower() + sentence[1:]


@dataclass(frozen=True, slots=True)
class Words:
    """The edition's wording in one language."""

    edition: Edition
    lang: str

    def say(self, wording: str, /, **slots: str) -> str:
        """Return a sentence with its slots filled; KeyError names a slot that is missing."""
        return fill(self.edition.record(f"wording/{wording}").text("text", self.lang), slots)

    def name(self, path: str) -> str:
        """Return the name of a record, such as `primers/metal-wood`."""
        return self.edition.record(path).text("name", self.lang)

    def list(self, parts: list[str]) -> str:
        """Join parts to a list in a sentence: `a, b and c`."""
        if len(parts) < 2:
            return "".join(parts)
        joint = {"en": " and ", "es": " y "}[self.lang]
        return ", ".join(parts[:-1]) + joint + parts[-1]
