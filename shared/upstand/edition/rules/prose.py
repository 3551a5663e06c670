"""Every text stands in English and in Spanish, and both are there to be read."""

from __future__ import annotations

import re
from collections.abc import Iterator

from upstand import LANGUAGES
from upstand.edition.faults import Fault
from upstand.edition.schema.shapes import Prose, step
from upstand.edition.source import Source

_SLOT = re.compile(r"\{[^{}]*\}")
_WORD = re.compile(r"[^\W\d_]{3,}")
SAME_WORDS = 4
"""From so many words on, English and Spanish alike is a text not translated."""


def check(source: Source) -> Iterator[Fault]:
    """Yield languages missing, empty, unknown, or the same in both."""
    for thing in source.things:
        for path, _, node in thing.of(Prose):
            if not isinstance(node, dict):
                continue
            for lang in LANGUAGES:
                text = node.get(lang)
                if not isinstance(text, str) or not text.strip():
                    why, cure = "is missing or empty", f"say it in {_spoken(lang)}"
                    yield thing.fault(step(path, lang), text, "prose", why, cure)
                elif text != text.strip():
                    why = "starts or ends in a blank"
                    yield thing.fault(step(path, lang), text, "prose", why, "take the blank out")
            for lang in sorted(set(node) - set(LANGUAGES)):
                why, cure = "is not a language here", "write en and es"
                yield thing.fault(step(path, lang), lang, "prose", why, cure)
            text = node.get("en")
            if isinstance(text, str) and text == node.get("es"):
                words = _WORD.findall(_SLOT.sub(" ", text))
                if len(words) >= SAME_WORDS:
                    why = "is the same as the English"
                    yield thing.fault(step(path, "es"), text, "prose", why, "say it in Spanish")


def _spoken(lang: str) -> str:
    return {"en": "English", "es": "Spanish"}[lang]
