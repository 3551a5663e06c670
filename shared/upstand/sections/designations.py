"""Standard shapes by their designation, and pipes by their nominal size, from an edition's tables.

Every record of sections that has tables is a list: a row names its shape in the first column.
"""

from __future__ import annotations

import functools
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import zip_longest
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, NamedTuple

from upstand.edition.faults import near
from upstand.quantity.traced import Origin, Traced
from upstand.quantity.units import convert
from upstand.sections.names import (
    LONGEST,
    PIPE,
    Key,
    read_designation,
    read_number,
    read_size,
)
from upstand.telling.said import Said, say

if TYPE_CHECKING:
    from upstand.edition.model import Edition

#: Lists print a thickness to the thousandth, rounded either way: 3/16 is 0.188, 5/16 is 0.312.
_ROUNDED = Fraction(6, 10_000)
_NONE = Fraction(0)
_LETTERS = re.compile("[A-Z]*", re.ASCII)


@dataclass(frozen=True)
class StandardShape:
    """A listed shape: its designation, the kind of section, and its dimensions in inches.

    ``where`` is the table that the dimensions stand in, ``grade`` and ``source`` its basis;
    ``substrates`` are the only ones that the list is of, none where it is of any.
    """

    designation: str
    kind: str
    dimensions: Mapping[str, float] = field(hash=False)
    where: str
    grade: str
    source: str
    substrates: tuple[str, ...] = ()

    def traced(self, name: str) -> Traced:
        """Return one dimension in inches, with its origin; ``name`` is a field of the section."""
        where = f"{self.where}, {self.designation}"
        origin = Origin("edition", where, self.grade, self.source)
        return Traced(self.dimensions[name], "in", origin)


class UnknownDesignation(LookupError):
    """Raised for a designation or a nominal size that is not listed; knows the ``nearest``."""

    def __init__(self, message: Said, nearest: tuple[str, ...]) -> None:
        """Keep the message and the nearest listed names."""
        self.message = message
        self.nearest = nearest
        super().__init__(message)


def find_designation(edition: Edition, text: str) -> StandardShape:
    """Return the standard shape of a designation such as ``L3x3x1/4``, ``Pipe 4 STD`` or ``2x4``.

    Raises ``UnknownDesignation`` where it is not listed.
    """
    key = read_designation(text)
    shapes = _family(edition, key.family) if key else {}
    found = shapes.get(key) if key else None
    if found is None and key:
        found = _rounded(key, shapes)
    if found is None:
        nearest = _nearest(key, shapes) if key and shapes else ()
        raise UnknownDesignation(
            say("not-listed-shape", nearest, text=text[:LONGEST], near=_or(edition, nearest)),
            nearest,
        )
    return found


def find_pipe_size(edition: Edition, text: str) -> StandardShape:
    """Return the pipe of a nominal size: ``4``, ``4 in``, ``NPS 4`` or ``1-1/2``.

    Its one dimension is ``od``. Raises ``UnknownDesignation`` where the size is not listed.
    """
    size = read_size(text)
    shapes = _family(edition, PIPE)
    found = shapes.get(Key(PIPE, (size,))) if size is not None else None
    if found is None:
        names = tuple(shape.designation.removeprefix("NPS ") for shape in _by_size(shapes))
        raise UnknownDesignation(
            say("not-listed-nps", names, text=text[:LONGEST], known=names),
            near(text[:LONGEST], names),
        )
    return found


def _by_size(shapes: Mapping[Key, StandardShape]) -> Iterator[StandardShape]:
    return (shape for key, shape in shapes.items() if not key.wall)


@functools.lru_cache(maxsize=64)
def _family(edition: Edition, family: str) -> Mapping[Key, StandardShape]:
    """Return the shapes of one family by what their designations say, in the order listed."""
    found: dict[Key, StandardShape] = {}
    for row in _rows(edition):
        letters = _LETTERS.match(row.name)
        if letters and letters[0] not in ("", family):
            continue  # reading every name takes long
        size = read_number(row.name)
        key = read_designation(row.name) if size is None else Key(PIPE, (size,))
        if key is None or key.family != family:
            continue
        sizes = {name: cell for name, cell in row.cells.items() if not isinstance(cell, str)}
        if "nps" in row.cells:
            # the diameter of a nominal size stands once, ahead of its walls
            sizes = {**found[Key(PIPE, key.numbers)].dimensions, **sizes}
        found[key] = StandardShape(
            row.name if size is None else f"NPS {row.name}",
            row.kind,
            MappingProxyType(sizes),
            row.where,
            str(row.basis["grade"]),
            str(row.basis.get("source", "")),
            row.substrates,
        )
    return MappingProxyType(found)


class _Row(NamedTuple):
    """One line of a list: its first cell, the others by column, and what stands over the table."""

    name: str
    cells: Mapping[str, Any]
    kind: str
    where: str
    basis: Mapping[str, Any]
    substrates: tuple[str, ...]


def _rows(edition: Edition) -> Iterator[_Row]:
    """Yield every listed size, its cells in inches."""
    for path, record in ((one.path, one) for one in edition.kind("sections").values()):
        substrates = tuple(str(name).partition("/")[2] for name in record.get("substrates", ()))
        for name, table in record.get("tables", {}).items():
            kind = str(table["section"]).removeprefix("sections/")
            scale = convert(1.0, table["unit"], "in") if "unit" in table else 1.0
            for first, *rest in table["rows"]:
                cells = {
                    column: cell if isinstance(cell, str) else float(cell) * scale
                    for column, cell in zip(table["columns"][1:], rest, strict=True)
                }
                where = f"{path}: tables.{name}"
                yield _Row(str(first), cells, kind, where, table["basis"], substrates)


def _rounded(key: Key, shapes: Mapping[Key, StandardShape]) -> StandardShape | None:
    """Return the one shape whose numbers are those of a designation but for their rounding."""
    found = [
        shape
        for listed, shape in shapes.items()
        if listed.wall == key.wall
        and len(listed.numbers) == len(key.numbers)
        and all(abs(a - b) < _ROUNDED for a, b in zip(listed.numbers, key.numbers, strict=True))
    ]
    return found[0] if len(found) == 1 else None


def _nearest(key: Key, shapes: Mapping[Key, StandardShape]) -> tuple[str, ...]:
    """Return up to three shapes of the family: first number first, sides in either order."""

    def apart(listed: Key) -> tuple[Fraction, ...]:
        swapped = (*key.numbers[1::-1], *key.numbers[2:])
        return min(
            tuple(abs(a - b) for a, b in zip_longest(listed.numbers, numbers, fillvalue=_NONE))
            for numbers in (key.numbers, swapped)
        )

    wanted = sorted(shapes, key=lambda listed: (listed.wall != key.wall, apart(listed)))
    return tuple(shapes[listed].designation for listed in wanted[:3])


def _or(edition: Edition, nearest: tuple[str, ...]) -> Said:
    """Say what is near; where nothing is, which families are listed."""
    if nearest:
        return say("near-shapes", nearest, close=nearest)
    heads = dict.fromkeys(
        letters[0] for row in _rows(edition) if (letters := _LETTERS.match(row.name)) and letters[0]
    )
    return say("listed-shapes", heads=sorted(heads))
