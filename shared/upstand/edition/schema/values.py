"""Shapes of sourced values: a number, a range, a time, a dose table, a statement."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, ClassVar

from upstand.edition.schema.shapes import (
    Choice,
    ListOf,
    Part,
    Prose,
    Ref,
    Shape,
    Words,
    Wrong,
    shown,
    step,
)

__all__ = [
    "GRADES",
    "DoseOf",
    "PairOf",
    "RangeOf",
    "Sourced",
    "Statement",
    "TableOf",
    "TimeOf",
    "ValueOf",
]

GRADES = ("standard", "secondary", "computed", "practice", "memory", "assumed", "product")
"""From read in the source itself down to our own choice; ``product`` stands in overlays only."""

DATED = r"[0-9]{4}-[0-9]{2}-[0-9]{2}"

_BASIS = ("grade", "source", "locator")
_PROSE = Prose()
_TIMED = Prose(slots=True)  # may say the temperature that the time holds at
_DATE = Words('a date, "YYYY-MM-DD"', DATED)
_COLUMNS = ListOf(Words("the name of a column", r"[a-z][a-z0-9_]*"), 2)
_SECTION = Ref(("sections",))
_RESIN = Ref(("resins",))
_BY = Choice(("material", "lowest-surface", "warmest-surface"))
_SCALES = Choice(("halves", "none", "table"))
_KEEP = Choice(("shorter", "longer", "as-stated"))


class Sourced(Shape):
    """A mapping that carries a basis. ``measures`` are its own fields, of which one is needed."""

    __slots__ = ()

    measures: ClassVar[tuple[str, ...]] = ()
    extras: ClassVar[tuple[str, ...]] = ()

    def fits(self, node: Any) -> bool:
        """Any mapping with one of the measures."""
        return isinstance(node, dict) and any(name in node for name in self.measures)

    def faults(self, node: Any, path: str) -> Iterator[Wrong]:
        """Refuse a missing measure, basis or date, a basis of the wrong form, other fields."""
        if not isinstance(node, dict):
            yield self.wrong(node, path)
            return
        known = (*self.measures, *self.extras, "basis", "checked_on", "note")
        for name in node:
            if name not in known:
                cure = f"a value has only: {', '.join(known)}"
                yield Wrong(step(path, name), "", "is not a field of this value", cure)
        if not any(node.get(name) is not None for name in self.measures):
            yield self.wrong(node, path)
        yield from _basis_faults(node.get("basis"), step(path, "basis"))
        if "checked_on" not in node:
            cure = 'write checked_on: "YYYY-MM-DD"'
            yield Wrong(step(path, "checked_on"), "", "is missing", cure)
        else:
            yield from _DATE.faults(node["checked_on"], step(path, "checked_on"))
        if "note" in node:
            yield from _PROSE.faults(node["note"], step(path, "note"))

    def parts(self, node: Any, path: str) -> Iterator[Part]:
        """Yield the value and its prose."""
        yield Part(path, self, node)
        if isinstance(node, dict):
            for name in ("note", "why_none", "sign", "window", "says"):
                if isinstance(node.get(name), dict):
                    shape = _TIMED if name in ("why_none", "sign") else _PROSE
                    yield Part(step(path, name), shape, node[name])


def _basis_faults(basis: Any, path: str) -> Iterator[Wrong]:
    means = "{grade: ..., source?: sources/ID, locator?: ...}"
    if not isinstance(basis, dict):
        why = "is missing" if basis is None else "is not a basis"
        yield Wrong(path, "", why, f"write {means}")
        return
    for name in basis:
        if name not in _BASIS:
            yield Wrong(step(path, name), "", "is not a field of a basis", f"write {means}")
    for name in ("source", "locator"):
        if name in basis and not isinstance(basis[name], str):
            yield Wrong(step(path, name), str(basis[name]), "is not text", f"write {means}")


@dataclass(frozen=True, slots=True)
class ValueOf(Sourced):
    """One number of a dimension, or true or false where the dimension is ``flag``.

    ``any``: any dimension, or a flag (the fact says which). `also` is the same as its source says
    it in the other system of units: shown, and held to, as it stands there.
    """

    dimension: str
    measures: ClassVar[tuple[str, ...]] = ("value",)
    extras: ClassVar[tuple[str, ...]] = ("also",)

    @property
    def means(self) -> str:
        """How to write it."""
        return f"a value ({self.dimension}): {{value, basis, checked_on}}"


@dataclass(frozen=True, slots=True)
class RangeOf(Sourced):
    """A lower and an upper end, or one of them."""

    dimension: str
    measures: ClassVar[tuple[str, ...]] = ("low", "high")

    @property
    def means(self) -> str:
        """How to write it."""
        return f"a range ({self.dimension}): {{low, high, basis, checked_on}}"


@dataclass(frozen=True, slots=True)
class TimeOf(Sourced):
    """A time at a temperature, a table of them, or (``words``) a window said in words."""

    words: bool = False
    dimension: ClassVar[str] = "time"
    measures: ClassVar[tuple[str, ...]] = ("low", "high", "points", "window")
    extras: ClassVar[tuple[str, ...]] = ("at", "by", "scales", "keep", "why_none", "sign")

    @property
    def means(self) -> str:
        """How to write it."""
        words = ", or {window: {en, es}, basis, checked_on}" if self.words else ""
        return f"a time: {{at, low, high, by, scales, keep, basis, checked_on}}{words}"

    def faults(self, node: Any, path: str) -> Iterator[Wrong]:
        """Refuse besides: words where a time is meant, a table and a time at once, no `by`."""
        yield from Sourced.faults(self, node, path)
        if not isinstance(node, dict):
            return
        if "window" in node:
            if not self.words:
                cure = "write the time and the temperature it holds at"
                yield Wrong(step(path, "window"), "", "words stand for a time", cure)
            yield from _PROSE.faults(node["window"], step(path, "window"))
            return
        if "points" in node:
            yield from _points(node["points"], step(path, "points"), ("low", "high"))
            for name in ("at", "low", "high"):
                if name in node:
                    cure = "keep the table or the stated time"
                    yield Wrong(step(path, name), "", "stands beside a table", cure)
        for name, shape in (("by", _BY), ("scales", _SCALES), ("keep", _KEEP)):
            if name not in node:
                yield Wrong(step(path, name), "", "is missing", f"write {shape.means}")
            else:
                yield from shape.faults(node[name], step(path, name))
        for name in ("why_none", "sign"):
            if name in node:
                yield from _PROSE.faults(node[name], step(path, name))


@dataclass(frozen=True, slots=True)
class DoseOf(Sourced):
    """Percent by weight at temperatures; never extrapolated."""

    dimension: ClassVar[str] = "fraction"
    measures: ClassVar[tuple[str, ...]] = ("points",)

    @property
    def means(self) -> str:
        """How to write it."""
        return "a dose table: {points: [{at, percent}, ...], basis, checked_on}"

    def faults(self, node: Any, path: str) -> Iterator[Wrong]:
        """Refuse besides: points without a temperature and a share."""
        yield from Sourced.faults(self, node, path)
        if isinstance(node, dict) and "points" in node:
            yield from _points(node["points"], step(path, "points"), ("percent",))


def _points(node: Any, path: str, names: tuple[str, ...]) -> Iterator[Wrong]:
    row = f"{{at, {', '.join(names)}}}"
    if not isinstance(node, list) or not node:
        yield Wrong(path, shown(node), f"is not a list of {row}", f"write a list of {row}")
        return
    for number, point in enumerate(node):
        # one end of a range may be missing
        if (
            not isinstance(point, dict)
            or "at" not in point
            or not set(point) - {"at"} <= set(names)
        ):
            yield Wrong(step(path, number), shown(point), f"is not {row}", f"write {row}")
        elif len(point) == 1:
            yield Wrong(step(path, number), shown(point), "states nothing", f"write {row}")


@dataclass(frozen=True, slots=True)
class TableOf(Sourced):
    """Listed sizes of sections: columns, and a row for each size."""

    measures: ClassVar[tuple[str, ...]] = ("rows",)
    extras: ClassVar[tuple[str, ...]] = ("section", "unit", "columns")

    @property
    def means(self) -> str:
        """How to write it."""
        return "a table: {section, unit, columns, rows, basis, checked_on}"

    def faults(self, node: Any, path: str) -> Iterator[Wrong]:
        """Refuse besides: rows of another length than the columns, cells neither text nor size."""
        yield from Sourced.faults(self, node, path)
        if not isinstance(node, dict):
            return
        columns, rows = node.get("columns"), node.get("rows")
        yield from _COLUMNS.faults(columns, step(path, "columns"))
        yield from _SECTION.faults(node.get("section"), step(path, "section"))
        if not isinstance(columns, list) or not isinstance(rows, list):
            return
        for number, row in enumerate(rows):
            place = step(path, f"rows.{number}")
            if not isinstance(row, list) or len(row) != len(columns):
                yield Wrong(place, shown(row), "does not fit the columns", "a cell for each column")
            elif not all(_cell(cell) for cell in row):
                yield Wrong(place, shown(row), "has a cell that is no size", "text, or above 0")

    def parts(self, node: Any, path: str) -> Iterator[Part]:
        """Yield the table and the section it is of."""
        yield from Sourced.parts(self, node, path)
        if isinstance(node, dict) and isinstance(node.get("section"), str):
            yield Part(step(path, "section"), _SECTION, node["section"])


def _cell(cell: Any) -> bool:
    if isinstance(cell, bool):
        return False
    return (isinstance(cell, str) and bool(cell)) or (isinstance(cell, (int, float)) and cell > 0)


@dataclass(frozen=True, slots=True)
class PairOf(Sourced):
    """A resin that a primer is known to go under, and how that is known."""

    measures: ClassVar[tuple[str, ...]] = ("resin",)

    @property
    def means(self) -> str:
        """How to write it."""
        return "a resin: {resin: resins/ID, basis, checked_on}"

    def faults(self, node: Any, path: str) -> Iterator[Wrong]:
        """Refuse besides: a resin that is no id of one."""
        yield from Sourced.faults(self, node, path)
        if isinstance(node, dict) and "resin" in node:
            yield from _RESIN.faults(node["resin"], step(path, "resin"))

    def parts(self, node: Any, path: str) -> Iterator[Part]:
        """Yield the pair and the resin it is of."""
        yield from Sourced.parts(self, node, path)
        if isinstance(node, dict) and isinstance(node.get("resin"), str):
            yield Part(step(path, "resin"), _RESIN, node["resin"])


@dataclass(frozen=True, slots=True)
class Statement(Sourced):
    """A published rule or fact in words."""

    measures: ClassVar[tuple[str, ...]] = ("says",)

    @property
    def means(self) -> str:
        """How to write it."""
        return "a statement: {says: {en, es}, basis, checked_on}"

    def faults(self, node: Any, path: str) -> Iterator[Wrong]:
        """Refuse besides: what it says not in prose."""
        yield from Sourced.faults(self, node, path)
        if isinstance(node, dict) and "says" in node:
            yield from _PROSE.faults(node["says"], step(path, "says"))
