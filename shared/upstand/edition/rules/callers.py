"""What is said for an activity is said for one that calls for it, and in its order.

Preparation steps, primers and a detail's own work are found by the name of their activity: under a
wrong name they would vanish from the procedure in silence.
"""

from __future__ import annotations

from collections.abc import Iterator

from upstand.edition.faults import Fault
from upstand.edition.held import activities_in_order, held_by
from upstand.edition.source import Source


def check(source: Source) -> Iterator[Fault]:
    """Yield steps and primers under an activity that is not theirs, and steps out of order."""
    in_order = activities_in_order(source)
    preparing = [t.path for t in in_order if t.node.get("needs") == "preparation"]
    primes = [t.path for t in in_order if t.node.get("stage") == "prime"]
    for thing in source.kind("preparations"):
        steps = thing.node.get("steps")
        last = -1
        for number, step in enumerate(steps if isinstance(steps, list) else []):
            called = step.get("activity") if isinstance(step, dict) else None
            path = f"steps.{number}.activity"
            if called not in preparing:
                why = "is not an activity of preparing"
                yield thing.fault(
                    path, called, "callers", why, f"use one of: {', '.join(preparing)}"
                )
                continue
            place = preparing.index(str(called))
            if place < last:
                why = "comes after a later one: degrease, then grind, abrade, clean"
                yield thing.fault(path, called, "callers", why, "put the steps in this order")
            last = max(last, place)
    for thing in source.kind("primers"):
        priming = thing.node.get("activity")
        if priming not in primes:
            why = "is not an activity of priming"
            cure = f"use one of: {', '.join(primes)}"
            yield thing.fault("activity", priming, "callers", why, cure)
    for thing in source.kind("details"):
        work, held = thing.node.get("work"), held_by(thing, in_order)
        for number, row in enumerate(work if isinstance(work, list) else []):
            called = row.get("activity") if isinstance(row, dict) else None
            if called not in held:
                why, path = "is not among this detail's activities", f"work.{number}.activity"
                yield thing.fault(path, called, "callers", why, "add it there, or say it elsewhere")
