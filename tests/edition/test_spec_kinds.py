"""The tables about kinds hold together: no rule names a field or an activity that there is not."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from upstand.edition import Edition
from upstand.edition.overlay.loosening import LADDERS, RANGES, TABLE
from upstand.edition.rules.trade_order import BEFORE, CHAIN
from upstand.edition.schema.kinds import KINDS
from upstand.edition.schema.shapes import AnyOf, Field, Fields, ListOf, MapOf, Shape


def inside(shape: Shape) -> Iterator[Fields]:
    """Yield the mappings with fields that a node of a shape may be or list."""
    if isinstance(shape, Fields):
        yield shape
    elif isinstance(shape, (ListOf, MapOf)):
        yield from inside(shape.item)
    elif isinstance(shape, AnyOf):
        for one in shape.shapes:
            yield from inside(one)


def found(kind: str, path: str) -> list[Field]:
    shapes: list[Shape] = [KINDS[kind]]
    fields: list[Field] = []
    for name in path.split("."):
        held = [fields for shape in shapes for fields in inside(shape)]
        fields = [each.fields[name] for each in held if name in each.fields]
        shapes = [field.shape for field in fields]
    return fields


NAMED = [
    *((kind, path) for kind, fields in TABLE.items() for path in fields),
    *((kind, path) for kind, fields in RANGES.items() for path in fields),
    *LADDERS,
]


# primers share a table with resins, and have not all its fields
RESINS_ONLY = {
    path for path in TABLE["primers"] if not found("primers", path) and found("resins", path)
}


@pytest.mark.parametrize(("kind", "path"), NAMED)
def test_what_can_be_loosened_is_a_field(kind: str, path: str) -> None:
    if kind == "primers" and path in RESINS_ONLY:
        kind = "resins"
    if kind == "resins" and path not in ("stops.facts",) and not found(kind, path):
        kind = "primers"
    assert found(kind, path)


def test_activities_of_the_trade_order_are_known(edition: Edition) -> None:
    names = {name for earlier, later, _ in BEFORE for name in (earlier, later)} | set(CHAIN)
    assert names <= set(edition.kind("activities"))


def test_the_trade_order_has_no_circle(edition: Edition) -> None:
    after: dict[str, set[str]] = {}
    for earlier, later, _ in BEFORE:
        after.setdefault(earlier, set()).add(later)
    done: set[str] = set()
    left = set(edition.kind("activities"))
    while left:
        free = {name for name in left if not any(name in after.get(other, ()) for other in left)}
        assert free, f"in a circle: {sorted(left)}"
        done |= free
        left -= free
    assert done == set(edition.kind("activities"))


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_and_field_says_what_it_means(kind: str) -> None:
    assert KINDS[kind].about
    assert {"name", "note"} <= set(KINDS[kind].fields)
    assert all(field.means and field.shape.means for field in KINDS[kind].fields.values())
