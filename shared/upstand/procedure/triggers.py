"""What an answer involves, as tokens: cautions and checks hang on them, not on common lists."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from upstand.edition import Edition, Record
from upstand.layout import Layout
from upstand.query.defaults import Settled
from upstand.stages.materials import Takeoff

__all__ = ["called_by", "find_triggers"]


def find_triggers(
    settled: Settled, layout: Layout, takeoff: Takeoff, activities: Iterable[str], edition: Edition
) -> frozenset[str]:
    """Name everything in an answer that a caution or a check may hang on."""
    substrates = [
        edition.record(f"substrates/{s}")
        for s in sorted({f.substrate for f in layout.surfaces if f.substrate is not None})
    ]
    prepared = [
        step
        for s in substrates
        if edition.has(str(s.get("preparation")))
        for step in edition.record(s.get("preparation")).get("steps")
    ]
    products = [m.record for m in takeoff.materials]
    used = [edition.record(f"activities/{a}") for a in activities]
    tokens = {"always", f"detail/{settled.detail.id}"}
    tokens |= {"members"} if settled.members else set()
    tokens |= {"plates"} if settled.plates else set()
    tokens |= {f"section/{m.section}" for m in settled.members}
    tokens |= {f"substrate/{s.id}" for s in substrates}
    tokens |= {f"family/{s.get('family')}" for s in substrates}
    tokens |= {f"activity/{a.id}" for a in used}
    tokens |= {f"{p.kind.rstrip('s')}/{p.id}" for p in products}
    tokens |= {p.kind.rstrip("s") for p in products}
    tokens |= {
        f"tool/{str(t).partition('/')[2]}" for step in prepared for t in step.get("tools", ())
    }
    carriers = [settled.detail, *substrates, *products, *used]
    tokens |= {f"hazard/{h}" for record in carriers for h in record.get("hazards", ())}
    tokens |= {f"hazard/{h}" for step in prepared for h in step.get("hazards", ())}
    return frozenset(tokens)


def called_by(record: Record, triggers: frozenset[str]) -> Iterator[str]:
    """Yield what calls a record: each group of tokens that are all there."""
    for together in record.get("when", ()):
        if all(token in triggers for token in together):
            yield " + ".join(together)
