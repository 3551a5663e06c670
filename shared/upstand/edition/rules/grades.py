"""Every value says how sure it is, and where from; a source that is named is registered."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from upstand.edition.faults import Fault, near
from upstand.edition.schema.shapes import step
from upstand.edition.schema.values import GRADES, Sourced
from upstand.edition.source import Source, Thing

NEED_SOURCE = ("standard", "secondary")
NO_SOURCE = ("practice", "assumed")


def check(source: Source) -> Iterator[Fault]:
    """Yield unknown grades, sources missing, unregistered or out of place."""
    for thing in source.things:
        for path, _, node in thing.of(Sourced):
            basis = node.get("basis") if isinstance(node, dict) else None
            if isinstance(basis, dict):
                yield from _basis(source, thing, step(path, "basis"), basis)


def _basis(source: Source, thing: Thing, path: str, basis: dict[str, Any]) -> Iterator[Fault]:
    grade = basis.get("grade")
    if grade not in GRADES:
        nearest = near(str(grade), GRADES) or GRADES
        why, cure = "is not a grade", f"write one of: {', '.join(nearest)}"
        yield thing.fault(step(path, "grade"), grade, "grades", why, cure)
        return
    if grade == "product" and not source.overlaid:
        why = "stands for a product's sheet, which an edition does not hold"
        cure = "lay it over with an overlay, or grade it for what it is"
        yield thing.fault(step(path, "grade"), grade, "grades", why, cure)
    for name in ("source", "locator"):
        if grade in NEED_SOURCE and not basis.get(name):
            why = f"is missing; a value of grade {grade} says where it was read"
            cure = "name it (sources/ID; table, clause or page), or grade it memory"
            yield thing.fault(step(path, name), None, "grades", why, cure)
    held = basis.get("source")
    if held is None:
        return
    if grade in NO_SOURCE:
        why = f"is named for a value of grade {grade}, which has none"
        cure = "grade it for what the source gives, or take the source out"
        yield thing.fault(step(path, "source"), held, "grades", why, cure)
    if not str(held).startswith("sources/") or not source.has(str(held)):
        why = "is not in the register of sources"
        cure = source.nearest(f"sources/{str(held).removeprefix('sources/')}")
        yield thing.fault(step(path, "source"), held, "grades", why, cure)
