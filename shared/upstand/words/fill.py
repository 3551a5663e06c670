"""Fills sentences: slots become text, in the reader's language and units."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import NamedTuple

from upstand.edition import Record
from upstand.quantity.shown import Speech
from upstand.quantity.traced import Traced
from upstand.words.model import Rounded, Said, Sentence, Slot, Span, TradeText
from upstand.words.store import label

SLOT = re.compile(r"\{([a-z_]+)\}")
#: After these a sentence or a heading begins.
BEGINS = re.compile(r"[.?!:“]\s?$")


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
    """Says things in one language and one system of units."""

    lang: str
    speech: Speech = field(default_factory=lambda: Speech("us"))

    def say(self, id: str, /, **slots: Slot) -> str:
        """Say a sentence of the software; KeyError names one, or a slot, that is missing."""
        return self._filled(label(id, self.lang), slots)

    def said(self, said: Said) -> str:
        """Say a sentence that waits for its language."""
        if isinstance(said, Sentence):
            return self._filled(label(said.id, self.lang), said.slots)
        text = self._filled(said.record.text(said.path, self.lang), said.slots)
        return lower_first(text) if said.small else text

    def slot(self, slot: Slot) -> str:
        """Write what a slot holds."""
        if isinstance(slot, str):
            return slot
        if isinstance(slot, Traced):
            return self.speech.text(slot)
        if isinstance(slot, Rounded):
            return self.speech.text(slot.traced, slot.style)
        if isinstance(slot, Span):
            return self.speech.span(slot.low, slot.high, slot.styles)
        if isinstance(slot, Record):
            return self.name(slot)
        if isinstance(slot, tuple):
            parts = [self.slot(each) for each in slot]
            # parts that hold commas are kept apart by more
            return "; ".join(parts) if any("," in part for part in parts) else self.list(parts)
        return self.said(slot)

    def name(self, record: Record) -> str:
        """Return the name of a record."""
        return record.text("name", self.lang)

    def list(self, parts: Sequence[str]) -> str:
        """Join parts to a list in a sentence: `a, b and c`."""
        if len(parts) < 2:
            return "".join(parts)
        joint = {"en": " and ", "es": " y "}[self.lang]
        return ", ".join(parts[:-1]) + joint + parts[-1]

    def _filled(self, text: str, slots: Mapping[str, Slot]) -> str:
        """Fill only the slots that the text has: what it does not say is not written."""
        if "{" not in text:
            return text
        places, tail = _places(text)
        parts = []
        for before, name, inside in places:
            slot = slots[name]
            parts.append(before)
            parts.append(slot if isinstance(slot, str) else self._in_place(slot, inside))
        return "".join(parts) + tail

    def _in_place(self, slot: Slot, inside: bool) -> str:
        """Write a slot; what a thing is called is small inside a sentence."""
        if isinstance(slot, Record):
            return lower_first(self.name(slot)) if inside else self.name(slot)
        if isinstance(slot, tuple) and all(isinstance(each, Record) for each in slot):
            return self.slot(
                tuple(
                    TradeText(one, "name", small=inside or n > 0)
                    for n, one in enumerate(slot)
                    if isinstance(one, Record)
                )
            )
        return self.slot(slot)


class _Place(NamedTuple):
    """A slot in a text: what stands before it, its name, whether it is inside a sentence."""

    before: str
    name: str
    inside: bool


@lru_cache(maxsize=4096)
def _places(text: str) -> tuple[tuple[_Place, ...], str]:
    """Take a text apart at its slots, once: the slots, and what stands behind the last."""
    found, at = [], 0
    for slot in SLOT.finditer(text):
        inside = slot.start() > 0 and not BEGINS.search(text, 0, slot.start())
        found.append(_Place(text[at : slot.start()], slot[1], inside))
        at = slot.end()
    return tuple(found), text[at:]
