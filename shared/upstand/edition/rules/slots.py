"""Slots stand only in texts that are filled, and only those that the filler knows."""

from __future__ import annotations

import re
from collections.abc import Generator, Iterator, Sequence

from upstand.edition.faults import Fault, near
from upstand.edition.schema.kinds.vocabulary import LIMIT_SLOTS
from upstand.edition.schema.shapes import Prose, step
from upstand.edition.source import Source, Thing

_SLOT = re.compile(r"\{([a-z][a-z0-9_]*)\}")
_BRACE = re.compile(r"[{}]")
STEP_SLOTS = "step-slots"


def check(source: Source) -> Iterator[Fault]:
    """Yield slots undeclared, unused, in one language only, or where nothing fills them."""
    steps = source.raw.get("wording", {}).get(STEP_SLOTS)
    step_slots = steps.get("slots", []) if isinstance(steps, dict) else []
    for thing in source.things:
        declared: Sequence[str] = ()
        if thing.kind == "wording":
            held = thing.node.get("slots")
            declared = [str(slot) for slot in held] if isinstance(held, list) else []
        elif thing.kind == "activities":
            declared = step_slots
        elif thing.kind == "limits":
            declared = LIMIT_SLOTS
        used: set[str] = set()
        for path, shape, node in thing.of(Prose):
            if isinstance(node, dict):
                used |= yield from _text(thing, path, node, declared if shape.slots else None)
        if thing.kind == "wording" and "text" in thing.node:
            for slot in declared:
                if slot not in used:
                    why, cure = "is declared and not in the text", "use it or take it out"
                    yield thing.fault("slots", slot, "slots", why, cure)


def _text(
    thing: Thing, path: str, node: dict[str, object], declared: Sequence[str] | None
) -> Generator[Fault, None, set[str]]:
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
            cure = f"nearest: {', '.join(nearest)}" if nearest else "declare it under slots"
            why = "is a slot that is not declared"
            yield thing.fault(place, f"{{{slot}}}", "slots", why, cure)
    if declared is not None and len({frozenset(slots) for slots in found.values()}) > 1:
        only = sorted(found.get("en", set()) ^ found.get("es", set()))
        why = f"has slots in one language only: {', '.join(only)}"
        yield thing.fault(path, None, "slots", why, "fill the same slots in both")
    return set().union(*found.values()) if found else set()
