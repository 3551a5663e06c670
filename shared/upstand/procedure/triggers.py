"""What an answer involves, as tokens: cautions and checks hang on them, not on common lists."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from upstand.edition import Edition, Record
from upstand.layout import Layout
from upstand.query.defaults import Settled
from upstand.stages.materials import Takeoff

__all__ = ["called_by", "find_triggers", "stop_triggers", "surface_triggers"]


def find_triggers(
    settled: Settled, layout: Layout, takeoff: Takeoff, activities: Iterable[str], edition: Edition
) -> frozenset[str]:
    """Name everything in an answer that a caution or a check may hang on."""
    substrates = [
        edition.record(f"substrates/{s}")
        for s in sorted({f.substrate for f in layout.surfaces if f.substrate is not None})
    ]
    products = [m.record for m in takeoff.materials]
    used = [edition.record(f"activities/{a}") for a in activities]
    tokens = {"always", f"detail/{settled.detail.id}"}
    tokens |= {"members"} if settled.members else set()
    tokens |= {"plates"} if settled.plates else set()
    tokens |= {f"section/{m.section}" for m in settled.members}
    tokens = tokens.union(*(surface_triggers(s, edition) for s in substrates))
    tokens |= {f"activity/{a.id}" for a in used}
    tokens |= {f"{p.kind.rstrip('s')}/{p.id}" for p in products}
    tokens |= {p.kind.rstrip("s") for p in products}
    carriers = [settled.detail, *products, *used]
    tokens |= {f"hazard/{h}" for record in carriers for h in record.get("hazards", ())}
    return frozenset(tokens)


def surface_triggers(substrate: Record, edition: Edition) -> frozenset[str]:
    """Name what a surface brings with it: its substance, the tools and harm of preparing it."""
    path = str(substrate.get("preparation"))
    steps = edition.record(path).get("steps") if edition.has(path) else ()
    tokens = {f"substrate/{substrate.id}", f"family/{substrate.get('family')}"}
    tokens |= {f"tool/{str(tool).partition('/')[2]}" for s in steps for tool in s.get("tools", ())}
    tokens |= {f"hazard/{h}" for record in (substrate, *steps) for h in record.get("hazards", ())}
    return frozenset(tokens)


def stop_triggers(layout: Layout, edition: Edition) -> frozenset[str]:
    """Name what bears on standing near a surface that nobody may touch: no work, so no tools."""
    records = [edition.record(f"substrates/{s}") for s in layout.substrates]
    return frozenset({"always"}.union(*(surface_triggers(r, edition) for r in records)))


def called_by(record: Record, triggers: frozenset[str]) -> Iterator[str]:
    """Yield what calls a record: each group of tokens that are all there."""
    for together in record.get("when", ()):
        if all(token in triggers for token in together):
            yield " + ".join(together)
