"""Every amount is written in a unit of the closed list, and measures what its field is for.

What a source says in both systems of units is the same in both, but for the rounding.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from upstand.edition.amounts import AmountFault, amount, amount_in
from upstand.edition.faults import Fault
from upstand.edition.schema.shapes import step
from upstand.edition.schema.values import DoseOf, RangeOf, TimeOf, ValueOf
from upstand.edition.source import Source, Thing
from upstand.quantity.units import UNITS, system_unit

SIGNED = ("temperature", "temperature_difference")
#: By how much the two may differ: 8 in is 1.6 % more than 200 mm.
ROUNDED = 0.03


def check(source: Source) -> Iterator[Fault]:
    """Yield amounts that cannot be read, of another dimension, or below zero."""
    for thing in source.things:
        for path, shape, node in thing.of(ValueOf, RangeOf, TimeOf, DoseOf):
            if not isinstance(node, dict):
                continue
            wanted: str = shape.dimension  # type: ignore[attr-defined]
            for place, written, dimension in _amounts(path, node, wanted):
                yield from _amount(thing, place, written, dimension)
            if "also" in node:
                yield from _also(thing, path, node)


def _amounts(path: str, node: dict[str, Any], wanted: str) -> Iterator[tuple[str, Any, str]]:
    for name in ("value", "also", "low", "high"):
        if name in node:
            yield step(path, name), node[name], wanted
    if "at" in node:
        yield step(path, "at"), node["at"], "temperature"
    points = node.get("points")
    for number, point in enumerate(points if isinstance(points, list) else []):
        if isinstance(point, dict):
            for name, written in point.items():
                dimension = "temperature" if name == "at" else wanted
                yield step(path, f"points.{number}.{name}"), written, dimension


def _amount(thing: Thing, path: str, written: Any, wanted: str) -> Iterator[Fault]:
    if isinstance(written, bool) and wanted in ("any", "flag"):
        return
    if path.endswith(".percent") and isinstance(written, (int, float)):
        written = f"{written} percent"
    cure = _cure(wanted)
    try:
        number, unit = amount(written)
    except AmountFault as error:
        yield thing.fault(path, written, "units", str(error), cure)
        return
    dimension = UNITS[unit]
    if wanted not in ("any", dimension):
        why = f"measures {_spoken(dimension)}, not {_spoken(wanted)}"
        yield thing.fault(path, written, "units", why, cure)
    elif number < 0 and dimension not in SIGNED:
        yield thing.fault(path, written, "units", "is below zero", "write zero or more")


def _also(thing: Thing, path: str, node: dict[str, Any]) -> Iterator[Fault]:
    written, place = node["also"], step(path, "also")
    try:
        number, unit = amount(node.get("value"))
        _, other = amount(written)
        said = amount_in(written, unit)
    except ValueError:
        return  # said above
    if (unit == system_unit(unit, "us")) == (other == system_unit(other, "us")):
        cure = "write it as its source does in the other system, or leave it out"
        yield thing.fault(place, written, "units", "is of the same system of units", cure)
    elif abs(said - number) > ROUNDED * abs(number):
        why = f"is not {node['value']}, not even rounded"
        yield thing.fault(place, written, "units", why, "write both as the source does")


def _spoken(dimension: str) -> str:
    return "a plain count" if dimension == "count" else dimension.replace("_", " ")


def _cure(wanted: str) -> str:
    if wanted == "count":
        return "write a plain number"
    if wanted == "any":
        return "write number, space, unit"
    units = [unit for unit, dimension in UNITS.items() if dimension == wanted]
    return f"write it in {' or '.join(units)}"
