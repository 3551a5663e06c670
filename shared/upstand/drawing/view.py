"""From inches to the sheet: one scale for both axes, and long runs shortened at breaks.

What lies between two breaks keeps its scale; only plain stretches where nothing begins or ends are
left out, and every gap is marked where it is drawn.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import shapely
from shapely import affinity
from shapely.geometry.base import BaseGeometry

from upstand.drawing.svg import Pair, polyline

GAP = 12.0  # units of paper that a break takes
FINE = 0.04  # units of paper: how far a drawn curve may stray


@dataclass(frozen=True, slots=True)
class Stretch:
    """A stretch of an axis that is drawn, in inches."""

    low: float
    high: float

    @property
    def length(self) -> float:
        """How long it is [in]."""
        return self.high - self.low


def shorten(
    low: float, high: float, events: Iterable[float], most: float, near: float
) -> tuple[Stretch, ...]:
    """Return the stretches to draw of an axis, so that they are at most some `most` inches long.

    `events` are the places where something begins or ends; `near` inches beside each are drawn.
    Where that is still too long, the first places and the last one are drawn.

    >>> shorten(0.0, 241.0, [0.0, 80.0, 82.0, 241.0], 60.0, 4.0)
    (Stretch(low=0.0, high=4.0), Stretch(low=76.0, high=86.0), Stretch(low=237.0, high=241.0))
    """
    if high - low <= most:
        return (Stretch(low, high),)
    found: list[Stretch] = []
    for event in sorted({low, high, *events}):
        if not low - near < event < high + near:
            continue
        begin, end = max(low, event - near), min(high, event + near)
        if found and begin <= found[-1].high + near:
            found[-1] = Stretch(found[-1].low, end)
        else:
            found.append(Stretch(begin, end))
    if len(found) > 3 and sum(part.length for part in found) > most:
        kept = [found[0]]
        for part in found[1:-1]:
            if sum(one.length for one in kept) + part.length + found[-1].length > most:
                break
            kept.append(part)
        found = [*kept, found[-1]]
    return tuple(found)


@dataclass(frozen=True, slots=True)
class View:
    """Maps inches on to paper: stretches of both axes, y upwards, its left top at x0, y0."""

    scale: float
    across: tuple[Stretch, ...]
    up: tuple[Stretch, ...]
    x0: float = 0.0
    y0: float = 0.0

    @property
    def width(self) -> float:
        """Units across."""
        return _drawn(self.across, self.scale)

    @property
    def height(self) -> float:
        """Units up."""
        return _drawn(self.up, self.scale)

    @property
    def breaks(self) -> bool:
        """Whether anything is left out."""
        return len(self.across) > 1 or len(self.up) > 1

    def at(self, x: float, y: float) -> Pair:
        """Place a point; one that is left out comes to lie in the break."""
        return (
            self.x0 + _along(self.across, x, self.scale),
            self.y0 + self.height - _along(self.up, y, self.scale),
        )

    def shows(self, x: float, y: float) -> bool:
        """Whether a point is drawn."""
        return _in(self.across, x) and _in(self.up, y)

    def parts(self, shape: BaseGeometry) -> Iterator[BaseGeometry]:
        """Yield what is drawn of a shape, stretch by stretch, in units of paper."""
        for x in self.across:
            for y in self.up:
                part = _clipped(shape, x.low, y.low, x.high, y.high)
                if part.is_empty:
                    continue
                left, low = self.at(x.low, y.low)
                shift = (left - x.low * self.scale, low + y.low * self.scale)
                yield affinity.affine_transform(part, (self.scale, 0, 0, -self.scale, *shift))

    def fill(self, shape: BaseGeometry) -> str:
        """Return the `d` that fills a shape, openings left out."""
        return "".join(
            polyline(list(ring.coords)[:-1], True)
            for part in self.parts(shape)
            for polygon in polygons(part.simplify(FINE))
            for ring in (polygon.exterior, *polygon.interiors)
        )

    def edge(self, shape: BaseGeometry) -> str:
        """Return the `d` of a shape's outline, or of a line: open where it runs into a break."""
        line = shape.boundary if shape.geom_type.endswith("Polygon") else shape
        if not self.breaks and shape.geom_type.endswith("Polygon"):
            return self.fill(shape)
        return "".join(
            polyline(list(run.coords))
            for part in self.parts(line)
            for run in lines(part.simplify(FINE))
        )

    def break_marks(self) -> Iterator[str]:
        """Yield the `d` of the marks at every break."""
        left, right = max(self.x0 - 5.0, 0.0), self.x0 + self.width + 5.0
        top, low = self.y0 - 5.0, self.y0 + self.height + 5.0
        for stretch in self.across[:-1]:
            x = self.x0 + _along(self.across, stretch.high, self.scale)
            for at in (x + 1.0, x + GAP - 1.0):
                yield polyline(_waves((at, top), (at, low)))
        for stretch in self.up[:-1]:
            y = self.at(0.0, stretch.high)[1]
            for at in (y - 1.0, y - GAP + 1.0):
                yield polyline(_waves((left, at), (right, at)))


def _clipped(
    shape: BaseGeometry, left: float, low: float, right: float, high: float
) -> BaseGeometry:
    """Cut a shape to a rectangle; the quick way fails where a sliver of it is left."""
    try:
        return shapely.clip_by_rect(shape, left, low, right, high)
    except shapely.GEOSException:
        return shape.intersection(shapely.box(left, low, right, high))


def polygons(shape: BaseGeometry) -> Iterator[shapely.Polygon]:
    """Yield the polygons in any shape."""
    for part in getattr(shape, "geoms", [shape]):
        if part.geom_type == "Polygon" and not part.is_empty:
            yield part
        elif hasattr(part, "geoms"):
            yield from polygons(part)


def lines(shape: BaseGeometry) -> Iterator[shapely.LineString]:
    """Yield the lines in any shape."""
    for part in getattr(shape, "geoms", [shape]):
        if part.geom_type in ("LineString", "LinearRing") and not part.is_empty:
            yield part
        elif hasattr(part, "geoms"):
            yield from lines(part)


def _drawn(stretches: Sequence[Stretch], scale: float) -> float:
    return sum(part.length for part in stretches) * scale + GAP * (len(stretches) - 1)


def _along(stretches: Sequence[Stretch], value: float, scale: float) -> float:
    run = 0.0
    for number, part in enumerate(stretches):
        if value < part.low and number:
            return run - GAP / 2.0
        if value <= part.high or number == len(stretches) - 1:
            return run + (value - part.low) * scale
        run += part.length * scale + GAP
    return run


def _in(stretches: Sequence[Stretch], value: float) -> bool:
    return any(part.low - 1e-6 <= value <= part.high + 1e-6 for part in stretches)


def _waves(start: Pair, end: Pair) -> list[Pair]:
    """Return a zigzag from one point to another."""
    steps = max(4, 2 * round((abs(end[0] - start[0]) + abs(end[1] - start[1])) / 12.0))
    across = abs(end[0] - start[0]) > abs(end[1] - start[1])
    points = []
    for n in range(steps + 1):
        x = start[0] + (end[0] - start[0]) * n / steps
        y = start[1] + (end[1] - start[1]) * n / steps
        off = 0.0 if n in (0, steps) else (2.0 if n % 2 else -2.0)
        points.append((x, y + off) if across else (x + off, y))
    return points
