"""A check that speaks of a statement has one, and says nothing of a place where it stands."""

from __future__ import annotations

import re
from collections.abc import Iterator

from upstand import LANGUAGES
from upstand.edition.faults import Fault
from upstand.edition.source import Source

POINTS = {
    "en": re.compile(r"\b(the|that of the) statement\b", re.IGNORECASE),
    "es": re.compile(r"\blo publicado\b|\bque se dice\b", re.IGNORECASE),
}
PLACES = {
    "en": re.compile(r"\b(statement|value|figure)s? (below|above)\b", re.IGNORECASE),
    "es": re.compile(r"\bse dice (abajo|arriba)\b", re.IGNORECASE),
}


def check(source: Source) -> Iterator[Fault]:
    """Yield texts of checks that point at a statement that is not there, or at a place."""
    for thing in source.kind("checks"):
        for field in ("method", "acceptance"):
            node = thing.node.get(field)
            for lang in LANGUAGES:
                text = node.get(lang) if isinstance(node, dict) else None
                if not isinstance(text, str):
                    continue
                path, placed = f"{field}.{lang}", PLACES[lang].search(text)
                if placed:
                    why = f"says {placed[0]!r}: each door puts the statement elsewhere"
                    cure = "say the statement"
                    yield thing.fault(path, text, "statements", why, cure)
                if POINTS[lang].search(text) and not thing.node.get("standard"):
                    why = "speaks of a statement that this check does not have"
                    cure = "add `standard`, or say the number here as a statement"
                    yield thing.fault(path, text, "statements", why, cure)
