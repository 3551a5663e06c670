"""Standard shapes by their designation, and pipes by their nominal size, from an edition's tables.

A designation is compared by its numbers, so ``L3x3x1/4``, ``l 3 X 3 x 0.25`` and ``L3X3X1/4`` are
one shape, and so are ``L2-1/2x2x1/4`` and ``L2 1/2 x 2 x 1/4``.
"""

from __future__ import annotations

import functools
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

from upstand.edition.faults import near
from upstand.quantity.traced import Origin, Traced
from upstand.quantity.units import convert

if TYPE_CHECKING:
    from upstand.edition.model import Edition

SHAPES = "sections/standard-shapes"
PIPES = "sections/pipe-sizes"
LONGEST = 40

Key = tuple[str | Fraction, ...]

_NUMBER = re.compile(
    r"(?:(?P<whole>[0-9]{1,4})[- ])?(?P<top>[0-9]{1,4})/(?P<bottom>[0-9]{1,4})"
    r"|(?P<plain>[0-9]{0,4}\.[0-9]{1,4}|[0-9]{1,4}\.?)",
    re.ASCII,
)
_ROLLED = re.compile(r"(?P<letters>[A-Z]{1,3}) ?(?P<rest>[0-9.].*)", re.ASCII)
_PIPE = re.compile(r"PIPE ?(?P<size>[0-9./ -]{1,12}?) ?(?P<wall>STD|XS|XXS)", re.ASCII)
_SIZE = re.compile(r"(?:NPS ?)?(?P<size>[0-9./ -]{1,12}?) ?(?:IN|\")?", re.ASCII)


@dataclass(frozen=True)
class StandardShape:
    """A listed shape: its designation, the kind of section, and its dimensions in inches.

    ``where`` is the table that the dimensions stand in, ``grade`` and ``source`` its basis.
    """

    designation: str
    kind: str
    dimensions: Mapping[str, float] = field(hash=False)
    where: str
    grade: str
    source: str

    def traced(self, name: str) -> Traced:
        """Return one dimension in inches, with its origin; ``name`` is a field of the section."""
        where = f"{self.where}, {self.designation}"
        origin = Origin("edition", where, self.grade, self.source)
        return Traced(self.dimensions[name], "in", origin)


class UnknownDesignation(LookupError):
    """Raised for a designation or a nominal size that is not listed; knows the ``nearest``."""

    def __init__(self, message: str, nearest: tuple[str, ...]) -> None:
        """Keep the message and the nearest listed names."""
        self.nearest = nearest
        super().__init__(message)


def find_designation(edition: Edition, text: str) -> StandardShape:
    """Return the standard shape of a designation such as ``L3x3x1/4`` or ``Pipe 4 STD``.

    Raises ``UnknownDesignation`` where it is not listed.
    """
    shapes = _shapes(edition)
    found = shapes.get(_designation_key(text))
    if found is None:
        names = [shape.designation for shape in shapes.values()]
        nearest = near(text.upper()[:LONGEST].replace(" ", ""), names)
        raise UnknownDesignation(
            f'"{text[:LONGEST]}" is not on the list of standard shapes; '
            f"{_or(nearest)}give the section and its dimensions",
            nearest,
        )
    return found


def find_pipe_size(edition: Edition, text: str) -> StandardShape:
    """Return the pipe of a nominal size: ``4``, ``4 in``, ``NPS 4`` or ``1-1/2``.

    Its one dimension is ``od``. Raises ``UnknownDesignation`` where the size is not listed.
    """
    pipes = _pipes(edition)
    match = _SIZE.fullmatch(_plain(text))
    size = _number(match["size"]) if match else None
    found = pipes.get(size) if size is not None else None
    if found is None:
        names = tuple(shape.designation.removeprefix("NPS ") for shape in pipes.values())
        raise UnknownDesignation(
            f'"{text[:LONGEST]}" is not a listed nominal pipe size ({", ".join(names)}); '
            "write one of them, or give od, the measured outside diameter",
            near(text[:LONGEST], names),
        )
    return found


@functools.lru_cache(maxsize=8)
def _shapes(edition: Edition) -> Mapping[Key | None, StandardShape]:
    found: dict[Key | None, StandardShape] = {}
    for name, kind, cells, basis in _rows(edition, SHAPES):
        designation = str(cells.pop("designation"))
        where = f"{SHAPES}: tables.{name}"
        sizes: dict[str, float] = {}
        if "nps" in cells:
            pipe = find_pipe_size(edition, str(cells.pop("nps")))
            sizes["od"], where = pipe.dimensions["od"], pipe.where
        sizes.update({column: float(value) for column, value in cells.items()})
        found[_designation_key(designation)] = StandardShape(
            designation, kind, MappingProxyType(sizes), where, basis["grade"], basis["source"]
        )
    return MappingProxyType(found)


@functools.lru_cache(maxsize=8)
def _pipes(edition: Edition) -> Mapping[Fraction, StandardShape]:
    found: dict[Fraction, StandardShape] = {}
    for name, kind, cells, basis in _rows(edition, PIPES):
        nps = str(cells.pop("nps"))
        size = _number(nps)
        assert size is not None, f"{PIPES}: {nps} is not a nominal size"
        sizes = MappingProxyType({column: float(value) for column, value in cells.items()})
        where = f"{PIPES}: tables.{name}"
        found[size] = StandardShape(
            f"NPS {nps}", kind, sizes, where, basis["grade"], basis["source"]
        )
    return MappingProxyType(found)


def _rows(
    edition: Edition, path: str
) -> Iterator[tuple[str, str, dict[str, Any], Mapping[str, str]]]:
    """Yield table name, kind of section, cells by column (numbers in inches) and basis."""
    for name, table in edition.record(path).get("tables").items():
        kind = str(table["section"]).removeprefix("sections/")
        for row in table["rows"]:
            cells: dict[str, Any] = {}
            for column, cell in zip(table["columns"], row, strict=True):
                is_text = isinstance(cell, str)
                cells[column] = cell if is_text else convert(float(cell), table["unit"], "in")
            yield name, kind, cells, table["basis"]


def _designation_key(text: str) -> Key | None:
    """Return what a designation stands for, as letters and numbers; None where it is not one.

    >>> _designation_key("L3x3x1/4") == _designation_key("l 3 X 3 x .25")
    True
    """
    plain = _plain(text)
    pipe = _PIPE.fullmatch(plain)
    if pipe:
        size = _number(pipe["size"])
        return None if size is None else ("PIPE", size, pipe["wall"])
    match = _ROLLED.fullmatch(plain)
    if match is None:
        return None
    numbers: list[str | Fraction] = [match["letters"]]
    for part in match["rest"].split("X"):
        number = _number(part.strip())
        if number is None:
            return None
        numbers.append(number)
    return tuple(numbers)


def _plain(text: str) -> str:
    """Return capitals with single spaces; text over the ceiling comes back empty."""
    if len(text) > LONGEST:
        return ""
    return " ".join(text.upper().replace("×", "X").replace("″", '"').split())


def _number(text: str) -> Fraction | None:
    match = _NUMBER.fullmatch(text)
    if match is None:
        return None
    if match["plain"]:
        return Fraction(match["plain"].rstrip("."))
    if int(match["bottom"]) == 0:
        return None
    return Fraction(int(match["whole"] or 0)) + Fraction(int(match["top"]), int(match["bottom"]))


def _or(nearest: tuple[str, ...]) -> str:
    return f"nearest: {', '.join(nearest)}; or " if nearest else ""
