"""What is cut out of a piece's rectangle, so that it can be told in a few figures."""

from __future__ import annotations

import math
from dataclasses import dataclass

from shapely import affinity
from shapely.geometry import Point, box
from shapely.geometry.base import BaseGeometry

from upstand.drawing.view import polygons
from upstand.layout.model import Line, Piece

Corner = tuple[float, float]
NEAR = 0.02  # inches
LEAST_IN2 = 0.01


@dataclass(frozen=True, slots=True)
class Flat:
    """A piece laid out to be cut: its rectangle from 0, 0, and the shape it is cut to [in]."""

    wide: float
    tall: float
    shape: BaseGeometry
    slits: tuple[Line, ...]
    folds_up: tuple[tuple[str, float], ...]
    folds_along: tuple[tuple[str, float], ...]


@dataclass(frozen=True, slots=True)
class CutOut:
    """What is cut out: a rectangle, a disc or part of one, round corners, or corners in order."""

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
        tuple((band.face, band.last - band.first) for band in piece.across),
        tuple((band.face, band.last - band.first) for band in piece.along),
    )


def cut_outs(flat: Flat) -> list[CutOut]:
    """Return what has to go from the rectangle, left to right and from the bottom up."""
    rest = box(0.0, 0.0, flat.wide, flat.tall).difference(flat.shape)
    found = [_told(part, flat) for part in polygons(rest) if part.area > LEAST_IN2]
    corners = [part for part in found if part.kind == "corners"]
    ring = _outside(flat, corners)
    if ring is not None:
        found = [part for part in found if part.kind != "corners"] + [ring]
    return sorted(found, key=lambda part: (part.kind, part.centre, part.corners))


def _told(part: BaseGeometry, flat: Flat) -> CutOut:
    left, low, right, high = part.bounds
    points = [(x, y) for x, y in list(part.exterior.coords)[:-1]]
    if abs(part.area - (right - left) * (high - low)) < LEAST_IN2:
        return CutOut("rectangle", ((left, low), (right, high)))
    if len(points) > 12:
        centre, radius = _circle(points)
        disc = Point(centre).buffer(radius, quad_segs=64)
        inside = disc.intersection(box(0.0, 0.0, flat.wide, flat.tall))
        if inside.symmetric_difference(part).area < 0.02 * part.area:
            return CutOut("disc", centre=centre, radius=radius)
    return CutOut("corners", tuple(points))


def _outside(flat: Flat, corners: list[CutOut]) -> CutOut | None:
    """Tell a round or rounded outline, whose four corners all go, by its radius."""
    if len(corners) != 4:
        return None
    radius = max(
        max(x for x, _ in part.corners) - min(x for x, _ in part.corners) for part in corners
    )
    core = box(radius, radius, flat.wide - radius, flat.tall - radius)
    if flat.wide - 2 * radius < NEAR and flat.tall - 2 * radius < NEAR:
        rounded: BaseGeometry = Point(flat.wide / 2, flat.tall / 2).buffer(radius, quad_segs=64)
    else:
        rounded = core.buffer(radius, quad_segs=64)
    filled = box(0.0, 0.0, flat.wide, flat.tall).difference(rounded)
    gone = sum(_area(part.corners) for part in corners)
    return CutOut("rounded", radius=radius) if abs(filled.area - gone) < 0.05 * gone else None


def _area(points: tuple[Corner, ...]) -> float:
    pairs = zip(points, points[1:] + points[:1], strict=True)
    return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in pairs)) / 2.0


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
