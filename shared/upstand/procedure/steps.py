"""Ordered steps with hold points: which activities a detail takes, and in what order."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import inf

from upstand.edition import Edition, Record
from upstand.edition.applies import activities_of
from upstand.layout import Layout
from upstand.query.defaults import Settled
from upstand.stages.materials import Takeoff


@dataclass(frozen=True, slots=True)
class Preparation:
    """One step of a preparation, for every surface of one substrate."""

    substrate: Record
    surfaces: tuple[str, ...]
    step: int
    record: Record


@dataclass(frozen=True, slots=True)
class Step:
    """One step: an activity, the preparation it carries out, or the primer it applies."""

    activity: Record
    preparations: tuple[Preparation, ...] = ()
    primer: Record | None = None
    surfaces: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Procedure:
    """The steps in order."""

    steps: tuple[Step, ...]

    def activities(self) -> tuple[str, ...]:
        """Return the ids of the activities used, in order, each once."""
        return tuple(dict.fromkeys(step.activity.id for step in self.steps))


def order_steps(settled: Settled, layout: Layout, takeoff: Takeoff, edition: Edition) -> Procedure:
    """Put the detail's activities in order, leaving out what no surface calls for.

    Two-part primers go first, then one-part ones, the slowest of each first; cleaning again after
    a night comes behind the last two-part primer, or before the first primer.
    """
    preparations = _preparations(layout, edition)
    primed = _primed(layout, takeoff, edition)
    by_slowness = sorted(
        primed, key=lambda p: (p[0].get("parts") == 1, -_waiting_minutes(p[0]), p[0].id)
    )
    steps: list[Step] = []
    primers_done = False
    for path in activities_of(edition, settled.detail):
        activity = edition.record(path)
        need = activity.get("needs")
        if need == "primer":
            if not primers_done:
                steps += _primer_steps(by_slowness, edition)
                primers_done = True
        elif need == "preparation":
            parts = tuple(p for p in preparations if _activity_of(p) == path)
            if parts:
                steps.append(Step(activity, preparations=parts))
        elif need == "grinding":
            if any(_activity_of(p) == "activities/grind" for p in preparations):
                steps.append(Step(activity))
        elif need == "rusting-metal":
            if any(
                edition.record(f"substrates/{s.substrate}").get("rusts")
                for s in layout.surfaces
                if s.role == "member"
            ):
                steps.append(Step(activity))
        elif need != "thin":
            steps.append(Step(activity))
    return Procedure(tuple(_night_in_place(steps)))


def _activity_of(part: Preparation) -> str:
    return str(part.record.get("steps")[part.step]["activity"])


def _preparations(layout: Layout, edition: Edition) -> list[Preparation]:
    """List each preparation step of each substrate, surfaces of one substrate together."""
    found = []
    for substrate_id in layout.substrates:
        substrate = edition.record(f"substrates/{substrate_id}")
        path = str(substrate.get("preparation"))
        if not edition.has(path):
            continue
        surfaces = tuple(s.id for s in layout.surfaces if s.substrate == substrate_id)
        record = edition.record(path)
        found += [
            Preparation(substrate, surfaces, number, record)
            for number in range(len(record.get("steps", ())))
        ]
    return found


def _primed(
    layout: Layout, takeoff: Takeoff, edition: Edition
) -> list[tuple[Record, tuple[str, ...]]]:
    paths = dict.fromkeys(takeoff.primer_of.values())
    return [
        (
            edition.record(path),
            tuple(s.id for s in layout.surfaces if takeoff.primer_of.get(s.id) == path),
        )
        for path in paths
    ]


def _waiting_minutes(primer: Record) -> float:
    """How long a primer keeps the crew waiting, as stated: one without a time goes first."""
    waits = [primer.value(name) for name in ("cure", "flash_off") if primer.has(name)]
    return max((w.magnitude("min", "high") for w in waits if w.high is not None), default=inf)


def _primer_steps(
    primed: Sequence[tuple[Record, tuple[str, ...]]], edition: Edition
) -> Iterator[Step]:
    for primer, surfaces in primed:
        yield Step(edition.record(primer.get("activity")), primer=primer, surfaces=surfaces)


def _night_in_place(steps: list[Step]) -> list[Step]:
    """Move what follows a night to where the night falls: behind the last two-part primer.

    Without one it stands before the first primer, and before the last wipe that belongs to it.
    """
    nights = [s for s in steps if s.activity.get("needs") == "night"]
    rest = [s for s in steps if s.activity.get("needs") != "night"]
    if not nights:
        return rest
    slow = [i for i, s in enumerate(rest) if s.primer is not None and s.primer.get("parts") == 2]
    first = (i for i, s in enumerate(rest) if s.activity.get("stage") in ("prime", "lay"))
    at = slow[-1] + 1 if slow else next(first, len(rest))
    return [*rest[:at], *nights, *rest[at:]]
