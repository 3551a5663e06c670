"""Cautions: each is called by what the answer involves, and never left out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from upstand.edition import Edition, Record
from upstand.layout import Layout
from upstand.query.defaults import Settled
from upstand.stages.materials import Takeoff

SEVERITIES = ("danger", "warning", "care")


@dataclass(frozen=True, slots=True)
class Caution:
    """A caution and the triggers that called it."""

    record: Record
    because: tuple[str, ...]


def find_triggers(
    settled: Settled, layout: Layout, takeoff: Takeoff, activities: Iterable[str], edition: Edition
) -> frozenset[str]:
    """Name everything in an answer that a caution may be triggered by."""
    substrates = [
        edition.record(f"substrates/{s}")
        for s in sorted({f.substrate for f in layout.surfaces if f.substrate is not None})
    ]
    preparations = [
        edition.record(s.get("preparation"))
        for s in substrates
        if edition.has(str(s.get("preparation")))
    ]
    products = [m.record for m in takeoff.materials]
    used = [edition.record(f"activities/{a}") for a in activities]
    tokens = {"always", f"detail/{settled.detail.id}"}
    tokens |= {f"substrate/{s.id}" for s in substrates}
    tokens |= {f"family/{s.get('family')}" for s in substrates}
    tokens |= {f"activity/{a.id}" for a in used}
    tokens |= {f"{p.kind.rstrip('s')}/{p.id}" for p in products}
    carriers = [settled.detail, *substrates, *products, *used]
    tokens |= {f"hazard/{h}" for record in carriers for h in record.get("hazards", ())}
    tokens |= {
        f"hazard/{h}"
        for p in preparations
        for step in p.get("steps")
        for h in step.get("hazards", ())
    }
    return frozenset(tokens)


def find_cautions(triggers: frozenset[str], edition: Edition) -> tuple[Caution, ...]:
    """Return every caution that the triggers call, the gravest first."""
    called = [
        Caution(record, because)
        for record in edition.kind("cautions").values()
        if (because := tuple(_called_by(record, triggers)))
    ]
    return tuple(
        sorted(called, key=lambda c: (SEVERITIES.index(c.record.get("severity")), c.record.id))
    )


def _called_by(record: Record, triggers: frozenset[str]) -> Iterator[str]:
    for together in record.get("when", ()):
        if all(token in triggers for token in together):
            yield " + ".join(together)
