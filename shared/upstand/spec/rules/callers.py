"""Preparation steps belong to preparing activities, primers to priming ones, and details to both.

A detail that can meet a substrate needs the activities that its preparation and primer call for;
those are held by name, so a step under a wrong name would vanish from the procedure in silence.
"""

from __future__ import annotations

from collections.abc import Iterator

from upstand.spec.faults import Fault
from upstand.spec.source import Source

PREPARING = tuple(f"activities/{id}" for id in ("degrease", "grind", "abrade", "clean"))
PRIMING = tuple(f"activities/prime-{id}" for id in ("metal", "masonry", "sheet"))


def check(source: Source) -> Iterator[Fault]:
    """Yield steps and primers under an activity that is not theirs, and steps out of order."""
    for thing in source.kind("preparations"):
        steps = thing.node.get("steps")
        last = -1
        for number, step in enumerate(steps if isinstance(steps, list) else []):
            held = step.get("activity") if isinstance(step, dict) else None
            path = f"steps.{number}.activity"
            if held not in PREPARING:
                why = "is not an activity of preparing"
                yield thing.fault(path, held, "callers", why, f"use one of: {', '.join(PREPARING)}")
                continue
            place = PREPARING.index(str(held))
            if place < last:
                why = "comes after a later one: degrease, then grind, abrade, clean"
                yield thing.fault(path, held, "callers", why, "put the steps in this order")
            last = max(last, place)
    for thing in source.kind("primers"):
        held = thing.node.get("activity")
        if held not in PRIMING:
            why = "is not an activity of priming"
            cure = f"use one of: {', '.join(PRIMING)}"
            yield thing.fault("activity", held, "callers", why, cure)
