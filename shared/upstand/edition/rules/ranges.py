"""Low is not above high, and a table's temperatures rise from row to row."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from upstand.edition.amounts import amount, amount_in
from upstand.edition.faults import Fault
from upstand.edition.schema.shapes import step
from upstand.edition.schema.values import DoseOf, RangeOf, TimeOf
from upstand.edition.source import Source, Thing


def check(source: Source) -> Iterator[Fault]:
    """Yield ends the wrong way round and temperatures that do not rise."""
    for thing in source.things:
        for path, _, node in thing.of(RangeOf, TimeOf, DoseOf):
            if not isinstance(node, dict):
                continue
            yield from _ends(thing, path, node)
            points = node.get("points")
            if isinstance(points, list):
                yield from _points(thing, step(path, "points"), points)


def _ends(thing: Thing, path: str, node: dict[str, Any]) -> Iterator[Fault]:
    if _above(node.get("low"), node.get("high")):
        found = f"{node['low']} to {node['high']}"
        yield thing.fault(path, found, "ranges", "has low above high", "change them round")


def _points(thing: Thing, path: str, points: list[Any]) -> Iterator[Fault]:
    rows = [row for row in points if isinstance(row, dict)]
    for number, row in enumerate(rows):
        yield from _ends(thing, step(path, number), row)
        if number and not _above(row.get("at"), rows[number - 1].get("at")):
            why = "does not rise from row to row"
            place = step(path, f"{number}.at")
            yield thing.fault(place, row.get("at"), "ranges", why, "order rows by temperature")


def _above(one: Any, other: Any) -> bool:
    """Tell whether one amount is above the other; what cannot be read is another rule's."""
    try:
        number, unit = amount(one)
        return number > amount_in(other, unit)
    except ValueError:
        return False
