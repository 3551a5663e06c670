"""Cautions: each is called by what the answer involves, and never left out."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from upstand.edition import Edition, Record
from upstand.procedure.steps import Step
from upstand.procedure.triggers import called_by
from upstand.query.defaults import Settled

SEVERITIES = ("danger", "warning", "care")


@dataclass(frozen=True, slots=True)
class Caution:
    """A caution and the triggers that called it."""

    record: Record
    because: tuple[str, ...]


def cautions_of_step(
    step: Step, first: bool, settled: Settled, cautions: Iterable[Caution]
) -> tuple[str, ...]:
    """Return the ids of the cautions whose hazard a step brings: its rules are read there.

    What the place itself can do belongs to the first step, the resin's harm to mixing it, and
    what a surface holds to its first preparation, unless a later one says it is its own.
    """
    carriers: list[Mapping[str, Any] | Record] = [step.activity]
    hazards: set[str] = set()
    for part in step.preparations:
        here, *later = part.record.get("steps")[part.step :]
        carriers.append(here)
        if part.step == 0:
            hazards |= set(part.substrate.get("hazards")).difference(
                *(after.get("hazards", ()) for after in later)
            )
    if step.primer is not None:
        carriers.append(step.primer)
    if step.activity.id == "mix":
        carriers.append(settled.resin)
    if first:
        carriers.append(settled.detail)
    hazards |= {hazard for carrier in carriers for hazard in carrier.get("hazards", ())}
    return tuple(c.record.id for c in cautions if c.record.get("hazard") in hazards)


def find_cautions(triggers: frozenset[str], edition: Edition) -> tuple[Caution, ...]:
    """Return every caution that the triggers call, the gravest first."""
    called = [
        Caution(record, because)
        for record in edition.kind("cautions").values()
        if (because := tuple(called_by(record, triggers)))
    ]
    return tuple(
        sorted(called, key=lambda c: (SEVERITIES.index(c.record.get("severity")), c.record.id))
    )
