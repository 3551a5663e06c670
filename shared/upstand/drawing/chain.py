"""A cut through the detail: the faces it meets in a row, and what lies on them along the way."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import shapely
from shapely.geometry.base import BaseGeometry

from upstand.drawing.svg import Pair
from upstand.drawing.view import lines
from upstand.layout.model import Face, Layout, Marked, Piece, Space

NEAR = 1e-6


@dataclass(frozen=True, slots=True)
class Leg:
    """One face as the cut meets it: a straight run, from `start` to `end` (across, height) [in].

    `trace` is the run in the face's own axes, in the same direction.
    """

    face: Face
    start: Pair
    end: Pair
    trace: tuple[Pair, Pair]

    @property
    def length(self) -> float:
        """How long it is [in]."""
        return math.dist(self.start, self.end)

    def turned(self) -> Leg:
        """Return it walked the other way."""
        return Leg(self.face, self.end, self.start, (self.trace[1], self.trace[0]))


@dataclass(frozen=True, slots=True)
class Chain:
    """Legs in a row, from the tape on the roof on; the film lies on their left."""

    legs: tuple[Leg, ...]

    @property
    def starts(self) -> tuple[float, ...]:
        """How far along each leg begins, and where the last one ends [in]."""
        found = [0.0]
        for leg in self.legs:
            found.append(found[-1] + leg.length)
        return tuple(found)

    def spans(self, shape_of: Sequence[tuple[str, BaseGeometry]]) -> list[tuple[float, float]]:
        """Return where shapes, each on a face, lie along the chain [in]."""
        found: list[tuple[float, float]] = []
        for leg, start in zip(self.legs, self.starts, strict=False):
            line = shapely.linestrings(leg.trace)
            for face, shape in shape_of:
                if face == leg.face.id:
                    for run in lines(line.intersection(shape.buffer(1e-9))):
                        ends = [line.project(shapely.Point(point)) for point in run.coords]
                        found.append((start + min(ends), start + max(ends)))
        return _merged(found)


def _merged(spans: list[tuple[float, float]]) -> list[tuple[float, float]]:
    merged: list[tuple[float, float]] = []
    for low, high in sorted(spans):
        if high - low < 1e-3:
            continue
        if merged and low <= merged[-1][1] + 1e-3:
            merged[-1] = (merged[-1][0], max(high, merged[-1][1]))
        else:
            merged.append((low, high))
    return merged


def cut(layout: Layout) -> Chain | None:
    """Return the cut that meets the most faces in a row, begun on the roof if there is one."""
    return _cut(layout, True) or _cut(layout, False)


def _cut(layout: Layout, on_roof: bool) -> Chain | None:
    faces = [face for face in layout.faces if face.frame is not None]
    best: tuple[tuple[int, bool, float, float], Chain] | None = None
    pieces = layout.fleece.pieces if layout.fleece else ()
    under = layout.marked
    for axis in (0, 1):
        for room, place in _places(faces, pieces, under, axis):
            for chain in _chains(
                [leg for face in faces for leg in _legs(face, axis, place)], on_roof
            ):
                long = sum(leg.length for leg in chain.legs)
                met = under is not None and any(_meets(leg, under) for leg in chain.legs)
                worth = (len(chain.legs), met, round(room, 3), -round(long, 3))
                if best is None or worth > best[0]:
                    best = worth, chain
    return best[1] if best else None


def _meets(leg: Leg, under: Marked) -> bool:
    """Whether a leg goes across what fleece is laid over, not along it."""
    if leg.face.id != under.face:
        return False
    trace = shapely.linestrings(leg.trace)
    return 0.0 <= trace.intersection(under.shape).length < leg.length / 2.0 and bool(
        trace.intersects(under.shape)
    )


def _places(
    faces: Sequence[Face], pieces: Sequence[Piece], under: Marked | None, axis: int
) -> list[tuple[float, float]]:
    """Return (room, plane) between every two places where something begins or ends on an axis."""
    shapes = [(face, face.sheet) for face in faces]
    shapes += [
        (face, one.shape) for face in faces for p in pieces for one in p.lies if one.face == face.id
    ]
    if under is not None:
        shapes += [(face, under.shape) for face in faces if face.id == under.face]
    ends = sorted(
        {
            round(_in_space(face, corner)[axis], 4)
            for face, shape in shapes
            for corner in shapely.get_coordinates(shapely.box(*shape.bounds)).tolist()
        }
    )
    return [(high - low, (low + high) / 2.0) for low, high in pairwise(ends)]


def _in_space(face: Face, at: Sequence[float]) -> Space:
    frame = face.frame
    assert frame is not None
    x, y, z = (frame.origin[n] + at[0] * frame.along[n] + at[1] * frame.up[n] for n in range(3))
    return (x, y, z)


def _legs(face: Face, axis: int, place: float) -> Iterator[Leg]:
    """Yield the runs in which the plane at a place across an axis meets a face."""
    frame = face.frame
    assert frame is not None
    along, up = frame.along[axis], frame.up[axis]
    if abs(along) < NEAR and abs(up) < NEAR:
        return  # the plane runs along the face
    at = place - frame.origin[axis]
    left, low, right, high = face.sheet.bounds
    if abs(along) > abs(up):
        x = at / along
        line = shapely.linestrings([(x, low - 1.0), (x, high + 1.0)])
    else:
        y = at / up
        line = shapely.linestrings([(left - 1.0, y), (right + 1.0, y)])
    bare = face.sheet if face.opening is None else face.sheet.difference(face.opening)
    for run in lines(line.intersection(bare)):
        first, last = run.coords[0][:2], run.coords[-1][:2]
        other = 1 - axis
        ends = [(_in_space(face, p)[other], _in_space(face, p)[2]) for p in (first, last)]
        yield Leg(face, ends[0], ends[1], (first, last))


def _chains(legs: Sequence[Leg], on_roof: bool) -> Iterator[Chain]:
    """Yield legs joined end to end, begun on a flat face at the roof's level, or anywhere."""
    for first in legs:
        if on_roof and max(abs(first.start[1]), abs(first.end[1])) > NEAR:
            continue
        for leg in (first, first.turned()):
            row, rest = [leg], [other for other in legs if other is not first]
            while True:
                here = row[-1].end
                near = [
                    way
                    for other in rest
                    for way in (other, other.turned())
                    if math.dist(way.start, here) < 1e-4
                ]
                if not near:
                    break
                row.append(near[0])
                rest = [
                    other
                    for other in rest
                    if other.face is not near[0].face
                    or {other.start, other.end} != {near[0].start, near[0].end}
                ]
            yield Chain(tuple(row))


def mirrored(chain: Chain) -> Chain:
    """Return the chain so that it runs to the right on the roof, film above."""
    if chain.legs[0].end[0] >= chain.legs[0].start[0]:
        return chain
    return Chain(
        tuple(
            Leg(leg.face, (-leg.start[0], leg.start[1]), (-leg.end[0], leg.end[1]), leg.trace)
            for leg in chain.legs
        )
    )


def levels(
    chain: Chain, pieces: Sequence[Piece]
) -> list[tuple[Piece, list[tuple[float, float, int]]]]:
    """Return for each piece that the cut meets where it lies, and on how many others [in]."""
    met = []
    for piece in sorted(pieces, key=lambda one: one.order):
        spans = chain.spans([(lying.face, lying.shape) for lying in piece.lies])
        if spans:
            met.append((piece, spans))
    ends = sorted({end for _, spans in met for span in spans for end in span})
    found = []
    for number, (piece, spans) in enumerate(met):
        parts: list[tuple[float, float, int]] = []
        for low, high in pairwise(ends):
            middle = (low + high) / 2.0
            if not any(a <= middle <= b for a, b in spans):
                continue
            under = sum(1 for _, others in met[:number] if any(a <= middle <= b for a, b in others))
            if parts and parts[-1][1] == low and parts[-1][2] == under:
                parts[-1] = (parts[-1][0], high, under)
            else:
                parts.append((low, high, under))
        found.append((piece, parts))
    return found
