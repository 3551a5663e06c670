"""Whoever is told to close an open tube is told beside it to leave vents in use open.

A plumbing vent or flue that is closed sends what it carries back to the people below.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from upstand.edition.faults import Fault
from upstand.edition.schema.shapes import Prose
from upstand.edition.source import Source

KINDS = ("activities", "checks", "details", "sections", "tools")
CLOSE = re.compile(
    r"\b(cap|caps|capped|close|closed|plug|tape|sleeve)\b[^.:;]*\bopen (tube|pipe|end)s?\b"
    r"|\bopen (tube|pipe|end)s?\b[^.:;]*\b(cap|caps|capped|closed|plugged|taped)\b",
    re.IGNORECASE,
)
VENT = re.compile(r"\bvents?\b", re.IGNORECASE)


def check(source: Source) -> Iterator[Fault]:
    """Yield texts that have an open tube closed, in records that do not speak of vents."""
    for kind in KINDS:
        for thing in source.kind(kind):
            texts = [
                (path, str(node.get("en", "")))
                for path, _, node in thing.of(Prose)
                if isinstance(node, dict)
            ]
            if any(VENT.search(text) for _, text in texts):
                continue
            for path, text in texts:
                if CLOSE.search(text):
                    why = "has an open tube closed, and does not say that a vent in use stays open"
                    cure = "say that vents, flues and drains in use are never closed"
                    yield thing.fault(f"{path}.en", text, "vents", why, cure)
