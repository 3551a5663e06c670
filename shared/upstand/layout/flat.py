"""Parts of a plane face: boxes wherever all edges lie along its axes, else drawn shapes."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise

import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

Box = tuple[float, float, float, float]
#: What is thinner is rounding [in].
THIN = 1e-9
#: A shape of more points than this is round somewhere.
STRAIGHT = 40


class Flat:
    """A part of a plane; its `boxes` don't overlap, None where an edge is drawn otherwise."""

    __slots__ = ("area", "boxes", "shape")

    def __init__(self, boxes: Sequence[Box] | None, shape: BaseGeometry | None = None) -> None:
        """Keep the boxes, or what is drawn instead."""
        self.boxes, self.shape = boxes, shape
        if boxes is None:
            self.area = 0.0 if shape is None else float(shape.area)
        elif len(boxes) == 1:
            left, low, right, high = boxes[0]
            self.area = (right - left) * (high - low)
        else:
            self.area = sum((right - left) * (high - low) for left, low, right, high in boxes)

    @property
    def drawn(self) -> BaseGeometry:
        """The same as a shape."""
        if self.shape is None:
            drawn = [shapely.box(*box) for box in self.boxes or ()]
            self.shape = drawn[0] if len(drawn) == 1 else unary_union(drawn)
        return self.shape

    @property
    def bounds(self) -> Box:
        """The box round it."""
        if self.boxes:
            if len(self.boxes) == 1:
                return self.boxes[0]
            sides = list(zip(*self.boxes, strict=True))
            return min(sides[0]), min(sides[1]), max(sides[2]), max(sides[3])
        left, low, right, high = self.drawn.bounds
        return left, low, right, high

    def minus(self, other: Flat) -> Flat:
        """Take another part out of this one."""
        if self.boxes is None or other.boxes is None:
            if not self.area or not other.area:
                return self
            if self.drawn.equals_exact(other.drawn, THIN):
                return NOTHING
            return flat(self.drawn.difference(other.drawn))
        left: Sequence[Box] = self.boxes
        for box in other.boxes:
            if left:
                left = [part for one in left for part in _cut(one, box)]
        return Flat(left)

    def common(self, other: Flat) -> Flat:
        """Keep what lies in both."""
        if self.boxes is None or other.boxes is None:
            a, b = self.bounds, other.bounds
            box = max(a[0], b[0]), max(a[1], b[1]), min(a[2], b[2]), min(a[3], b[3])
            if box[2] - box[0] <= THIN or box[3] - box[1] <= THIN:
                return NOTHING
            # cutting both along the box that they share is quick, and leaves few points
            both = [shapely.clip_by_rect(part.drawn, *box) for part in (self, other)]
            return flat(both[0].intersection(both[1]))
        both = [
            (max(a[0], b[0]), max(a[1], b[1]), min(a[2], b[2]), min(a[3], b[3]))
            for a in self.boxes
            for b in other.boxes
        ]
        return Flat([b for b in both if b[2] - b[0] > THIN and b[3] - b[1] > THIN])

    def area_without(self, other: Flat) -> float:
        """Area of what is left when another part is taken out."""
        if self.boxes is not None and len(self.boxes) == 1:
            (left, low, right, high), inside = self.boxes[0], other.bounds
            within = inside[0] >= left and inside[1] >= low
            if within and inside[2] <= right and inside[3] <= high:
                return self.area - other.area
        return self.minus(other).area


NOTHING = Flat(())


def _cut(box: Box, by: Box) -> Iterable[Box]:
    """Take a box out of another: below it, above it, and beside it on both sides."""
    left, low, right, high = box
    first, last = max(left, by[0]), min(right, by[2])
    under, over = max(low, by[1]), min(high, by[3])
    if last - first <= THIN or over - under <= THIN:
        yield box
        return
    if under - low > THIN:
        yield left, low, right, under
    if high - over > THIN:
        yield left, over, right, high
    if first - left > THIN:
        yield left, under, first, over
    if right - last > THIN:
        yield last, under, right, over


def flat(shape: BaseGeometry) -> Flat:
    """Take one shape as boxes where it can be."""
    return flats([shape])[0]


def flats(shapes: Sequence[BaseGeometry]) -> list[Flat]:
    """Take shapes as boxes where they can be; all are measured at once."""
    found = []
    areas, boxes = shapely.area(shapes).tolist(), shapely.bounds(shapes).tolist()
    for shape, area, (left, low, right, high) in zip(shapes, areas, boxes, strict=True):
        if not area:
            found.append(NOTHING)
        elif abs((right - left) * (high - low) - area) <= THIN:
            found.append(Flat(((left, low, right, high),), shape))
        else:
            found.append(Flat(_slabs(shape), shape))
    return found


def _slabs(shape: BaseGeometry) -> list[Box] | None:
    """Cut a shape across at its level edges; None where an edge is neither level nor plumb."""
    plumb: list[tuple[float, float, float]] = []
    levels: set[float] = set()
    if shapely.get_num_coordinates(shape) > STRAIGHT:
        return None
    for part in getattr(shape, "geoms", [shape]):
        if not isinstance(part, Polygon):
            continue
        for ring in (part.exterior, *part.interiors):
            for (ax, ay), (bx, by) in pairwise(shapely.get_coordinates(ring).tolist()):
                if ax == bx:
                    plumb.append((ax, min(ay, by), max(ay, by)))
                    levels.update((ay, by))
                elif ay != by:
                    return None
    plumb.sort()
    found = []
    for low, high in pairwise(sorted(levels)):
        sides = [x for x, first, last in plumb if first <= low and last >= high]
        found += [(a, low, b, high) for a, b in zip(sides[::2], sides[1::2], strict=True)]
    return found
