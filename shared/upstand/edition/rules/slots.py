"""Slots stand only in texts that are filled, and only those that the filler knows."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

from upstand.edition.faults import Fault, near
from upstand.edition.schema.kinds.vocabulary import LIMIT_SLOTS, STEP_SLOTS
from upstand.edition.schema.shapes import Prose, step
from upstand.edition.source import Source, Thing

_SLOT = re.compile(r"\{([a-z][a-z0-9_]*)\}")
_FIGURE = re.compile(r"\{((?:parameters|limits)/[a-z0-9-]{1,64})\}")
_BRACE = re.compile(r"[{}]")
#: Slots of the texts that are filled, by kind.
FILLED: Mapping[str, Sequence[str]] = {
    "activities": STEP_SLOTS,
    "limits": LIMIT_SLOTS,
    "primers": ("at",),
    "resins": ("at",),
}


def check(source: Source) -> Iterator[Fault]:
    """Yield slots unknown, in one language only, or where nothing fills them."""
    for thing in source.things:
        declared = FILLED.get(thing.kind, ())
        for path, shape, node in thing.of(Prose):
            if not isinstance(node, dict):
                continue
            if shape.figures:
                yield from _figures(source, thing, path, node)
            else:
                yield from _text(thing, path, node, declared if shape.slots else None)


def _figures(source: Source, thing: Thing, path: str, node: dict[str, object]) -> Iterator[Fault]:
    """Figures of the edition that are there, the same in both languages."""
    found: dict[str, set[str]] = {}
    for lang, text in node.items():
        if not isinstance(text, str):
            continue
        place = step(path, lang)
        found[lang] = set(_FIGURE.findall(text))
        for named in sorted(found[lang]):
            if not source.has(named):
                why, cure = "is no parameter and no limit", source.nearest(named)
                yield thing.fault(place, f"{{{named}}}", "slots", why, cure)
        if _BRACE.search(_FIGURE.sub("", text)):
            why = "has a brace that is no figure of the edition"
            yield thing.fault(place, text, "slots", why, "write {parameters/ID} or {limits/ID}")
    if len({frozenset(figures) for figures in found.values()}) > 1:
        why, cure = "has figures in one language only", "write the same in both"
        yield thing.fault(path, None, "slots", why, cure)


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
