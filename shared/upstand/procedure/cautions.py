"""Cautions: each is called by what the answer involves, and never left out."""

from __future__ import annotations

from dataclasses import dataclass

from upstand.edition import Edition, Record
from upstand.procedure.triggers import called_by

SEVERITIES = ("danger", "warning", "care")


@dataclass(frozen=True, slots=True)
class Caution:
    """A caution and the triggers that called it."""

    record: Record
    because: tuple[str, ...]


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
