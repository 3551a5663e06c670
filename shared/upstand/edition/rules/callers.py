"""What is said for an activity is said for one that calls for it, and in its order.

Preparation steps, primers and a detail's own work are found by the name of their activity: under a
wrong name they would vanish from the procedure in silence.
"""

from __future__ import annotations

from collections.abc import Iterator

from upstand.edition.faults import Fault
from upstand.edition.source import Source

PREPARING = tuple(f"activities/{id}" for id in ("degrease", "grind", "abrade", "clean"))
PRIMING = tuple(f"activities/prime-{id}" for id in ("metal", "masonry", "sheet"))


def check(source: Source) -> Iterator[Fault]:
    """Yield steps and primers under an activity that is not theirs, and steps out of order."""
    for thing in source.kind("preparations"):
        steps = thing.node.get("steps")
        last = -1
        for number, step in enumerate(steps if isinstance(steps, list) else []):
            called = step.get("activity") if isinstance(step, dict) else None
            path = f"steps.{number}.activity"
            if called not in PREPARING:
                why = "is not an activity of preparing"
                yield thing.fault(
                    path, called, "callers", why, f"use one of: {', '.join(PREPARING)}"
                )
                continue
            place = PREPARING.index(str(called))
            if place < last:
                why = "comes after a later one: degrease, then grind, abrade, clean"
                yield thing.fault(path, called, "callers", why, "put the steps in this order")
            last = max(last, place)
    for thing in source.kind("primers"):
        priming = thing.node.get("activity")
        if priming not in PRIMING:
            why = "is not an activity of priming"
            cure = f"use one of: {', '.join(PRIMING)}"
            yield thing.fault("activity", priming, "callers", why, cure)
    for thing in source.kind("details"):
        activities, work = thing.node.get("activities"), thing.node.get("work")
        held = activities if isinstance(activities, list) else []
        for number, row in enumerate(work if isinstance(work, list) else []):
            called = row.get("activity") if isinstance(row, dict) else None
            if called not in held:
                why, path = "is not among this detail's activities", f"work.{number}.activity"
                yield thing.fault(path, called, "callers", why, "add it there, or say it elsewhere")
