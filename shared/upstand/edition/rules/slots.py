"""Slots stand only in texts that are filled, and only those that the filler knows."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

from upstand.edition.faults import Fault, near
from upstand.edition.schema.kinds.vocabulary import LIMIT_SLOTS, STEP_SLOTS
from upstand.edition.schema.shapes import Prose, step
from upstand.edition.source import Source, Thing

_SLOT = re.compile(r"\{([a-z][a-z0-9_]*)\}")
_BRACE = re.compile(r"[{}]")
#: Slots of the texts that are filled, by kind.
FILLED: Mapping[str, Sequence[str]] = {"activities": STEP_SLOTS, "limits": LIMIT_SLOTS}


def check(source: Source) -> Iterator[Fault]:
    """Yield slots unknown, in one language only, or where nothing fills them."""
    for thing in source.things:
        declared = FILLED.get(thing.kind, ())
        for path, shape, node in thing.of(Prose):
            if isinstance(node, dict):
                yield from _text(thing, path, node, declared if shape.slots else None)


def _text(
    thing: Thing, path: str, node: dict[str, object], declared: Sequence[str] | None
) -> Iterator[Fault]:
    found: dict[str, set[str]] = {}
    for lang, text in node.items():
        if not isinstance(text, str):
            continue
        place = step(path, lang)
        found[lang] = set(_SLOT.findall(text))
        if declared is None:
            if _BRACE.search(text):
                why = "has braces, and nothing fills slots in this text"
                yield thing.fault(place, text, "slots", why, "write the words out")
            continue
        if _BRACE.search(_SLOT.sub("", text)):
            why = "has a brace that is no slot"
            yield thing.fault(place, text, "slots", why, "write {name}, name of a-z, 0-9 and _")
        for slot in sorted(found[lang] - set(declared)):
            nearest = near(slot, declared)
            cure = f"nearest: {', '.join(nearest)}" if nearest else f"one of {', '.join(declared)}"
            why = "is a slot that nothing fills"
            yield thing.fault(place, f"{{{slot}}}", "slots", why, cure)
    if declared is not None and len({frozenset(slots) for slots in found.values()}) > 1:
        only = sorted(found.get("en", set()) ^ found.get("es", set()))
        why = f"has slots in one language only: {', '.join(only)}"
        yield thing.fault(path, None, "slots", why, "fill the same slots in both")
