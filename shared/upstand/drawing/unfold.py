"""A piece unfolded: from where its parts lie on the faces back to the flat piece that is cut."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise

import shapely
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from upstand.drawing.view import lines, polygons
from upstand.layout.model import Face, Frame, Line, Lying, Piece, Space

NEAR = 1e-4
SHORT = 0.01  # inches
FLAP = 1.0  # inches: what is narrower and lies nowhere needs no slit


@dataclass(frozen=True, slots=True)
class Cell:
    """A part of a piece that lies on one face: where in the piece, and where that is in space.

    `at` is the point in space of its lower left corner, `right` and `up` where its axes point.
    """

    face: str
    left: float
    low: float
    wide: float
    tall: float
    at: Space
    right: Space
    up: Space

    @property
    def high(self) -> float:
        """Its upper edge [in]."""
        return self.low + self.tall

    @property
    def end(self) -> float:
        """Its right edge [in]."""
        return self.left + self.wide

    def sheet(self) -> BaseGeometry:
        """Draw it in the piece."""
        return shapely.box(self.left, self.low, self.end, self.high)

    def place(self, x: float, y: float) -> Space:
        """Carry a point of the piece to space."""
        return _plus(self.at, self.right, x - self.left, self.up, y - self.low)


@dataclass(frozen=True, slots=True)
class Unfolded:
    """A piece's parts in its own plane, the folds between them, and what has to be slit [in]."""

    cells: tuple[Cell, ...]
    folds: tuple[Line, ...]
    slits: tuple[Line, ...]


def unfold(piece: Piece, faces: Sequence[Face]) -> Unfolded | None:
    """Unfold a piece that lies on plane faces; None where its parts don't make up its rectangle."""
    frames = {face.id: face.frame for face in faces if face.frame is not None}
    parts = [one for one in piece.lies if not one.shape.is_empty]
    if len(parts) < 2 or any(one.face not in frames for one in parts):
        return None
    wide, tall = piece.length.value, piece.width.value
    band = piece.across[-1] if piece.across else None
    own = [one for one in parts if band is None or one.face == band.face]
    if not own:
        return None
    first = max(own, key=lambda one: one.shape.area)
    low = band.first if band is not None else tall - _size(first)[1]
    start = _standing(first, frames[first.face], low)
    rest = [one for one in parts if one is not first]
    cells = _fit([start], rest, frames, wide, tall)
    if cells is None:
        return None
    shift = -min(cell.left for cell in cells)
    moved = tuple(
        Cell(c.face, c.left + shift, c.low, c.wide, c.tall, c.at, c.right, c.up) for c in cells
    )
    if (
        abs(max(c.end for c in moved) - wide) > 0.01
        or abs(max(c.high for c in moved) - tall) > 0.01
    ):
        return None
    return _joints(moved, faces, wide, tall)


def _size(one: Lying) -> tuple[float, float]:
    left, low, right, high = one.shape.bounds
    return right - left, high - low


def _standing(one: Lying, frame: Frame | None, at: float) -> Cell:
    """Place the part whose own axes are those of the piece."""
    assert frame is not None
    left, low, right, high = one.shape.bounds
    corner = _plus(frame.origin, frame.along, left, frame.up, low)
    return Cell(one.face, 0.0, at, right - left, high - low, corner, frame.along, frame.up)


def _fit(
    placed: list[Cell],
    rest: Sequence[Lying],
    frames: dict[str, Frame],
    wide: float,
    tall: float,
) -> list[Cell] | None:
    """Place all other parts, each beside one that it meets in space; None where that can't be."""
    if not rest:
        return placed
    for number, one in enumerate(rest):
        for cell in placed:
            for found in _beside(cell, one, frames[one.face]):
                if _free(found, placed, wide, tall):
                    others = [*rest[:number], *rest[number + 1 :]]
                    whole = _fit([*placed, found], others, frames, wide, tall)
                    if whole is not None:
                        return whole
    return None


def _free(found: Cell, placed: Sequence[Cell], wide: float, tall: float) -> bool:
    """Whether a part lies within the piece's rectangle and on no other part."""
    if found.low < -NEAR or found.high > tall + NEAR:
        return False
    left = min(found.left, *(cell.left for cell in placed))
    if max(found.end, *(cell.end for cell in placed)) - left > wide + NEAR:
        return False
    return all(
        min(found.end, cell.end) - max(found.left, cell.left) < NEAR
        or min(found.high, cell.high) - max(found.low, cell.low) < NEAR
        for cell in placed
    )


def _beside(cell: Cell, one: Lying, frame: Frame) -> Iterator[Cell]:
    """Yield where a part comes to lie when it is unfolded about an edge of a placed one."""
    left, low, right, high = one.shape.bounds
    corner = _plus(frame.origin, frame.along, left, frame.up, low)
    sides = (frame.along, right - left), (frame.up, high - low)
    for (run, long), (inward, deep) in (sides, sides[::-1]):
        for base, away in ((corner, 1.0), (_plus(corner, inward, deep), -1.0)):
            out = _times(inward, away)
            for way in (1.0, -1.0):
                begin = base if way > 0 else _plus(base, run, long)
                yield from _about(cell, one.face, begin, _times(run, way), long, out, deep)


def _about(
    cell: Cell, face: str, begin: Space, run: Space, long: float, out: Space, deep: float
) -> Iterator[Cell]:
    """Yield the part beyond each edge of a cell that lies on the part's edge from `begin`."""
    if _dot(run, cell.up) > 1.0 - NEAR:
        for edge, right in ((cell.end, True), (cell.left, False)):
            y = _on_line(cell.place(edge, cell.low), cell.up, begin)
            if y is not None and _meet(y, long, cell.tall):
                x = edge if right else edge - deep
                axis = out if right else _times(out, -1.0)
                at = begin if right else _plus(begin, out, deep)
                yield Cell(face, x, cell.low + y, deep, long, at, axis, run)
    if _dot(run, cell.right) > 1.0 - NEAR:
        for edge, above in ((cell.high, True), (cell.low, False)):
            along = _on_line(cell.place(cell.left, edge), cell.right, begin)
            if along is not None and _meet(along, long, cell.wide):
                low = edge if above else edge - deep
                axis = out if above else _times(out, -1.0)
                at = begin if above else _plus(begin, out, deep)
                yield Cell(face, cell.left + along, low, long, deep, at, run, axis)


def _meet(at: float, long: float, length: float) -> bool:
    return min(at + long, length) - max(at, 0.0) > NEAR


def _joints(cells: tuple[Cell, ...], faces: Sequence[Face], wide: float, tall: float) -> Unfolded:
    """Tell folds from slits: a slit is where parts that touch in the piece don't in space."""
    folds: list[BaseGeometry] = []
    slits: list[BaseGeometry] = []
    for one, other in combinations(cells, 2):
        edge = one.sheet().intersection(other.sheet())
        for run in lines(edge):
            ends = [run.coords[0], run.coords[-1]]
            if any(_apart(one.place(*end), other.place(*end)) > 10 * NEAR for end in ends):
                slits.append(run)
            elif abs(_dot(_cross(one), _cross(other))) < 1.0 - NEAR:
                folds.append(run)
    flat = {face.id for face in faces if face.orientation == "flat"}
    rest = shapely.box(0.0, 0.0, wide, tall).difference(unary_union([c.sheet() for c in cells]))
    for flap in polygons(rest):
        left, low, right, high = flap.bounds
        if min(right - left, high - low) >= FLAP - NEAR:
            beside = [flap.intersection(c.sheet()) for c in cells if c.face in flat]
            slits += [run for edge in beside for run in lines(edge)]
    return Unfolded(cells, _straight(folds), _straight(slits))


def _straight(runs: Sequence[BaseGeometry]) -> tuple[Line, ...]:
    """Join runs that go on in one line."""
    if not runs:
        return ()
    joined = shapely.line_merge(unary_union(list(runs)))
    found = []
    for run in lines(joined):
        points = list(run.simplify(NEAR).coords)
        found += [(a, b) if a <= b else (b, a) for a, b in pairwise(points)]
    return tuple(sorted(found))


def _on_line(start: Space, way: Space, point: Space) -> float | None:
    """Return how far along a line a point lies; None where it lies off it."""
    gap = tuple(b - a for a, b in zip(start, point, strict=True))
    run = sum(g * w for g, w in zip(gap, way, strict=True))
    off = sum((g - run * w) ** 2 for g, w in zip(gap, way, strict=True))
    return run if off < NEAR * NEAR else None


def _plus(at: Space, way: Space, by: float, other: Space = (0, 0, 0), far: float = 0.0) -> Space:
    x, y, z = (a + by * w + far * o for a, w, o in zip(at, way, other, strict=True))
    return (x, y, z)


def _times(way: Space, by: float) -> Space:
    return (way[0] * by, way[1] * by, way[2] * by)


def _dot(one: Space, other: Space) -> float:
    return sum(a * b for a, b in zip(one, other, strict=True))


def _cross(cell: Cell) -> Space:
    (a, b, c), (d, e, f) = cell.right, cell.up
    return (b * f - c * e, c * d - a * f, a * e - b * d)


def _apart(one: Space, other: Space) -> float:
    return max(abs(a - b) for a, b in zip(one, other, strict=True))
