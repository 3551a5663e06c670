"""What is cut out of a piece's rectangle, so that it can be told in a few figures."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import NamedTuple

from shapely import affinity
from shapely.geometry import Point, Polygon, box
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from upstand.drawing.view import polygons
from upstand.layout.model import Line, Piece

Corner = tuple[float, float]
NEAR = 0.02  # inches
LEAST_IN2 = 0.01
SLIVER = 0.125  # inches: what is narrower is a slit


class Bands(NamedTuple):
    """What lies between folds in a row: (part of the detail, size), up or from the left.

    `low` and `high` are how far up the row goes, if it is not the whole piece [in].
    """

    up: bool
    parts: tuple[tuple[str, float], ...]
    low: float = 0.0
    high: float = 0.0


@dataclass(frozen=True, slots=True)
class Flat:
    """A piece laid out to be cut: its rectangle from 0, 0, and the shape it is cut to [in]."""

    wide: float
    tall: float
    shape: BaseGeometry
    slits: tuple[Line, ...]
    folds: tuple[Line, ...] = ()
    bands: tuple[Bands, ...] = ()


@dataclass(frozen=True, slots=True)
class CutOut:
    """What is cut out: a rectangle, a disc or part of one, round corners, or corners in order.

    A rectangle's `radius` is that of its corners within the piece.
    """

    kind: str
    corners: tuple[Corner, ...] = ()
    centre: Corner = (0.0, 0.0)
    radius: float = 0.0


def laid_out(piece: Piece) -> Flat:
    """Lay a piece out with its lower left corner at 0, 0."""
    width, length = piece.width.value, piece.length.value
    if piece.shape is None or piece.shape.is_empty:
        wide, tall, shape = length, width, box(0.0, 0.0, length, width)
        shift = (0.0, 0.0)
    else:
        sheet = piece.sheet.sheet() if piece.sheet is not None else box(*piece.shape.bounds)
        left, low, right, high = sheet.bounds
        wide, tall = round(right - left, 6), round(high - low, 6)
        if abs(wide - length) < NEAR and abs(tall - width) < NEAR:
            wide, tall = length, width  # a circle drawn by its area is a hair larger
        shift = (-left, -low)
        shape = affinity.translate(piece.shape, *shift)
    slits = tuple(
        ((a[0] + shift[0], a[1] + shift[1]), (b[0] + shift[0], b[1] + shift[1]))
        for a, b in piece.slits
    )
    return Flat(
        wide,
        tall,
        shape,
        slits,
    )


def cut_outs(flat: Flat) -> list[CutOut]:
    """Return what has to go from the rectangle: round corners first, then what is cut out."""
    whole = box(0.0, 0.0, flat.wide, flat.tall)
    outside = _rounded(flat)
    if outside is not None:
        whole = outside[1]
    rest = polygons(whole.difference(flat.shape))
    found = [_told(part, flat) for part in rest if part.buffer(-SLIVER / 2.0).area > 0.0]
    found.sort(key=lambda part: (part.kind, part.centre, part.corners))
    return [outside[0], *found] if outside is not None else found


def _rounded(flat: Flat) -> tuple[CutOut, BaseGeometry] | None:
    """Tell a round or rounded outline by its radius; None for any other."""
    filled = unary_union([Polygon(part.exterior) for part in polygons(flat.shape)])
    lost = flat.wide * flat.tall - filled.area
    if lost < LEAST_IN2:
        return None
    radius = min(_radius(lost, 4), flat.wide / 2.0, flat.tall / 2.0)
    core: BaseGeometry = box(radius, radius, flat.wide - radius, flat.tall - radius)
    centre = (0.0, 0.0)
    if abs(flat.wide - 2.0 * radius) < NEAR and abs(flat.tall - 2.0 * radius) < NEAR:
        centre = (flat.wide / 2.0, flat.tall / 2.0)
        core = Point(centre)
    drawn = core.buffer(radius, quad_segs=64)
    if drawn.symmetric_difference(filled).area > 0.05 * lost + LEAST_IN2:
        return None
    return CutOut("rounded", centre=centre, radius=radius), drawn.union(filled)


def _radius(lost: float, corners: int) -> float:
    """Return the radius that takes so much off so many right corners."""
    return math.sqrt(max(lost, 0.0) / (corners * (1.0 - math.pi / 4.0)))


def _told(part: Polygon, flat: Flat) -> CutOut:
    left, low, right, high = part.bounds
    lost = (right - left) * (high - low) - part.area
    if lost < LEAST_IN2:
        return CutOut("rectangle", ((left, low), (right, high)))
    points = list(part.exterior.coords)[:-1]
    if len(points) <= 12:
        return CutOut("corners", tuple(points))
    centre, radius = _circle(points)
    disc = Point(centre).buffer(radius, quad_segs=64)
    inside = disc.intersection(box(0.0, 0.0, flat.wide, flat.tall))
    if inside.symmetric_difference(part).area < 0.02 * part.area:
        return CutOut("disc", centre=centre, radius=radius)
    within = [
        (x, y)
        for x, y in ((left, low), (right, low), (left, high), (right, high))
        if NEAR < x < flat.wide - NEAR and NEAR < y < flat.tall - NEAR
    ]
    if within:  # corners that lie in the piece are round, those at its edge are none
        round_it = _radius(lost, len(within))
        middle = ((left + right) / 2.0, (low + high) / 2.0)
        gone = [_off_corner(corner, middle, round_it) for corner in within]
        drawn = box(left, low, right, high).difference(unary_union(gone))
        if drawn.symmetric_difference(part).area < 0.02 * part.area:
            return CutOut("rectangle", ((left, low), (right, high)), radius=round_it)
    return CutOut("corners", tuple(list(part.simplify(NEAR * 2).exterior.coords)[:-1]))


def _off_corner(corner: Corner, middle: Corner, radius: float) -> BaseGeometry:
    """Return what rounding takes off one right corner of a shape about a middle."""
    x, y = corner
    centre = x + math.copysign(radius, middle[0] - x), y + math.copysign(radius, middle[1] - y)
    square = box(min(x, centre[0]), min(y, centre[1]), max(x, centre[0]), max(y, centre[1]))
    return square.difference(Point(centre).buffer(radius, quad_segs=32))


def _circle(points: list[Corner]) -> tuple[Corner, float]:
    """Fit a circle through three points far apart among those on a curve."""
    step = len(points) // 4
    (ax, ay), (bx, by), (cx, cy) = points[step // 2], points[step + step // 2], points[2 * step]
    d = 2 * (ax * (by - cy) + bx * (cy - ay) + cx * (ay - by))
    if abs(d) < 1e-9:
        return (ax, ay), 0.0
    a2, b2, c2 = ax * ax + ay * ay, bx * bx + by * by, cx * cx + cy * cy
    x = (a2 * (by - cy) + b2 * (cy - ay) + c2 * (ay - by)) / d
    y = (a2 * (cx - bx) + b2 * (ax - cx) + c2 * (bx - ax)) / d
    return (x, y), math.hypot(ax - x, ay - y)
