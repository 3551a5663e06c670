"""A number that decides something is a value, a statement or a slot, never words in a text.

So it has its grade, and one place. What stands in a name, or is how a thing is called, decides
nothing.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from upstand.edition.faults import Fault
from upstand.edition.schema.shapes import Prose, step
from upstand.edition.source import Source

_SLOT = re.compile(r"\{[^{}]*\}")
_SPELLED = "one|two|three|four|five|six|seven|eight|nine|ten|twelve|fifteen|twenty|thirty|half an?"
_UNITS = "minutes?|hours?|days?|weeks?|months?|years?|inch(?:es)?|f[eo]et|foot|mils?|per ?cent"
_FIGURE = re.compile(
    rf"\d|\b(?:(?:{_SPELLED}|a) minute|(?:{_SPELLED}) (?:{_UNITS}))\b|\btwice its\b", re.I
)

#: Fields that carry a basis or only name: a note tells of its value, a statement is one.
BESIDE = ("name", "note", "says", "means", "read", "title")
#: How things are called, by kind: everything else is a value.
CALLED: dict[str, tuple[str, ...]] = {
    "preparations": (r"\b60 grit\b", r"\bgrano 60\b", r"\b18 gauge\b", r"\bcalibre 18\b"),
    "tools": (r"\b18 gauge\b", r"\bcalibre 18\b"),
    # designations of listed shapes, such as L3X3X1/4 or EMT 1
    "sections": (r"\b[A-Z]{1,4} ?\d[\dX./-]*",),
    # what is typed where there is nothing
    "inputs": (r"; 0 (?:where|si)\b",),
}


def check(source: Source) -> Iterator[Fault]:
    """Yield texts with a figure in them."""
    for thing in source.things:
        if thing.kind in ("sources", "terms"):
            continue
        called = re.compile("|".join(CALLED.get(thing.kind, (r"(?!)",))))
        for path, _, node in thing.of(Prose):
            if not isinstance(node, dict) or path.rpartition(".")[2] in BESIDE:
                continue
            for lang, text in node.items():
                bare = called.sub("", _SLOT.sub("", text)) if isinstance(text, str) else ""
                found = _FIGURE.search(bare)
                if found:
                    why = f"says {found[0]!r}, a figure without grade or source"
                    cure = "make it a value and a slot, a statement, or a sign that is seen"
                    yield thing.fault(step(path, lang), text, "figures", why, cure)
