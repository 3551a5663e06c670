"""Faces laid flat: upright ones folded back round the roof, or apart where they would overlap."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import shapely
from shapely import affinity
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from upstand.layout.model import Face, Line

Affine = tuple[float, float, float, float, float, float]

HERE: Affine = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
OVERLAP_IN2 = 1e-3


@dataclass(frozen=True, slots=True)
class Flat:
    """A face and where it lies on the panel: an affine map of its own axes [in]."""

    face: Face
    lies: Affine

    def place(self, shape: BaseGeometry) -> BaseGeometry:
        """Carry a shape of the face on to the panel."""
        return affinity.affine_transform(shape, self.lies)

    @property
    def bare(self) -> BaseGeometry:
        """What lies within the tape, without what stands in it, on the panel."""
        face = self.face
        sheet = face.sheet if face.opening is None else face.sheet.difference(face.opening)
        return self.place(sheet)


@dataclass(frozen=True, slots=True)
class Panel:
    """Faces that lie side by side, as one would unfold them."""

    flats: tuple[Flat, ...]

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """The box round it, openings included [in]."""
        boxes = [flat.place(flat.face.sheet).bounds for flat in self.flats]
        return (
            min(b[0] for b in boxes),
            min(b[1] for b in boxes),
            max(b[2] for b in boxes),
            max(b[3] for b in boxes),
        )


def lay_flat(faces: Sequence[Face]) -> tuple[Panel, ...]:
    """Lay the faces out: those on the roof in one panel, upright ones folded back from them.

    A face that would cover another begins a panel of its own; what goes round an upright is not
    among them.
    """
    plane = {face.id: face for face in faces if not face.unrolled}
    on_roof = [Flat(face, lies) for face in plane.values() if (lies := _level(face)) is not None]
    rest = {
        id: face for id, face in plane.items() if all(flat.face is not face for flat in on_roof)
    }
    panels = []
    start = on_roof
    while start or rest:
        if not start:
            first = next(iter(rest.values()))
            del rest[first.id]
            start = [Flat(first, HERE)]
        panels.append(_upright_above(Panel(tuple(_unfold(start, rest)))))
        start = []
    return tuple(panels)


def _unfold(start: list[Flat], rest: dict[str, Face]) -> list[Flat]:
    """Fold out from faces that lie already whatever hangs on them and has room."""
    placed = list(start)
    covered = unary_union([flat.place(flat.face.sheet) for flat in placed])
    for flat in placed:  # grows while it is walked
        for fold in flat.face.folds:
            neighbour = rest.get(fold.face)
            if neighbour is None:
                continue
            line = _carried(fold.line, flat.lies)
            ways = [Flat(neighbour, lies) for lies in _folded(fold.there, line)]
            there = max(ways, key=lambda way: _beyond(line, flat, way))
            sheet = there.place(neighbour.sheet)
            if sheet.intersection(covered).area > OVERLAP_IN2:
                continue
            placed.append(there)
            covered = covered.union(sheet)
            del rest[neighbour.id]
    return placed


def _upright_above(panel: Panel) -> Panel:
    """Flip a panel so that walls come to lie above the roof, as one sees them from it."""
    heights: dict[str, list[float]] = {"flat": [], "upright": []}
    for flat in panel.flats:
        heights[flat.face.orientation].append(flat.place(flat.face.sheet).centroid.y)
    flats, walls = heights["flat"], heights["upright"]
    if not flats or not walls or sum(walls) / len(walls) > sum(flats) / len(flats) - 1e-6:
        return panel
    # along runs to the right as one faces the wall, and out comes towards whoever looks at it
    flipped = [
        Flat(
            one.face,
            (one.lies[0], one.lies[1], -one.lies[2], -one.lies[3], one.lies[4], -one.lies[5]),
        )
        for one in panel.flats
    ]
    return Panel(tuple(flipped))


def _level(face: Face) -> Affine | None:
    """Return the map of a face that lies on the roof, seen from above; None for any other."""
    frame = face.frame
    if frame is None or face.orientation != "flat":
        return None
    (x, y, z), (ax, ay, az), (ux, uy, uz) = frame.origin, frame.along, frame.up
    if abs(az) > 1e-9 or abs(uz) > 1e-9 or abs(z) > 1e-9:
        return None
    return (ax, ux, ay, uy, x, y)


def _folded(own: Line, placed: Line) -> tuple[Affine, Affine]:
    """Return both ways of bringing a line of a face on to where the fold lies: turned, and flipped.

    Which of the two folds it out depends on the side from which the face's axes are seen.
    """
    (x1, y1), (x2, y2) = own
    (a1, b1), (a2, b2) = placed
    found = []
    for flip in (1.0, -1.0):
        turn = math.atan2(b2 - b1, a2 - a1) - math.atan2(flip * (y2 - y1), x2 - x1)
        cos, sin = math.cos(turn), math.sin(turn)
        a, b, d, e = cos, -sin * flip, sin, cos * flip
        found.append((a, b, d, e, a1 - a * x1 - b * y1, b1 - d * x1 - e * y1))
    return found[0], found[1]


def _beyond(line: Line, flat: Flat, way: Flat) -> float:
    """Return how far a face lies on the other side of a line than the face it hangs on."""
    (x1, y1), (x2, y2) = line

    def side(shape: BaseGeometry) -> float:
        middle = shape.centroid
        return float((x2 - x1) * (middle.y - y1) - (y2 - y1) * (middle.x - x1))

    away = side(way.place(way.face.sheet))
    return -away if side(flat.bare) > 0.0 else away


def _carried(line: Line, lies: Affine) -> Line:
    a, b, d, e, x, y = lies
    return tuple((a * px + b * py + x, d * px + e * py + y) for px, py in line)  # type: ignore[return-value]


def places(panel: Panel) -> Iterator[tuple[float, float]]:
    """Yield the corners of all that is drawn of a panel's faces [in]."""
    for flat in panel.flats:
        for shape in (flat.face.sheet, flat.face.zone):
            yield from shapely.get_coordinates(flat.place(shape)).tolist()


def corners(shape: BaseGeometry) -> Iterator[tuple[float, float]]:
    """Yield the low left and the high right corner of the box round a shape."""
    left, low, right, high = shape.bounds
    yield (left, low)
    yield (right, high)
