"""What a section is once its dimensions are known: outline, corners, faces, and how it is wrapped.

All lengths are inches. The outline is sharp (inside fillets and rolled toes are left out) except
for tube corners and round members, and centred on its own bounding box: x across, y along.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

import shapely
from shapely.geometry import Polygon

from upstand.sections.near import near_groups
from upstand.telling.said import Said

Point = tuple[float, float]

#: A quarter circle is drawn with this many straight segments, everywhere.
QUAD_SEGMENTS = 64

#: Sums of decimal fractions stray from the true figure by less than this (inches, and sines).
NOISE = 1e-9


class Fault(NamedTuple):
    """One thing wrong with a section: the field it stands in, and what would be accepted."""

    field: str
    message: Said


class SectionFault(ValueError):
    """Raised for a section that cannot exist; ``faults`` lists everything wrong with it at once."""

    def __init__(self, faults: Sequence[Fault]) -> None:
        """Keep the faults, and print them as one line."""
        self.faults: tuple[Fault, ...] = tuple(faults)
        super().__init__("; ".join(f"{one.field}: {one.message}" for one in self.faults))


class Face(NamedTuple):
    """A straight run of the outline, or the whole of a round one, that can take a wrap's joint."""

    id: str
    start: Point
    end: Point
    width_in: float


@dataclass(frozen=True)
class Section:
    """A member's section, ready to be laid out.

    ``girth_formula`` and ``area_formula`` name entries of the formula register and
    ``formula_inputs`` says which field feeds which parameter of both. They are ``None`` for a free
    polygon, whose ``drawn_girth_in`` and ``drawn_area_in2`` are the figures that count. ``box``
    names the fields that are its width and depth.
    """

    kind: str
    width_in: float
    depth_in: float
    points: tuple[Point, ...]
    polygon: Polygon = field(repr=False, compare=False)
    dimensions: Mapping[str, float] = field(hash=False)
    defaulted: tuple[str, ...]
    girth_formula: str | None
    area_formula: str | None
    formula_inputs: Mapping[str, str] = field(hash=False)
    box: tuple[str, str] | None
    corners: tuple[Point, ...]
    round: bool
    joint_faces: tuple[Face, ...]
    clear_gap_in: float | None

    @property
    def wrap_count(self) -> int:
        """How many pieces go round the member: each ends in one joint, so one a joint face."""
        return len(self.joint_faces)

    @property
    def drawn_girth_in(self) -> float:
        """Length of the drawn outline in inches; round parts are 64 segments to the quarter."""
        return float(self.polygon.length)

    @property
    def drawn_area_in2(self) -> float:
        """Area inside the drawn outline in square inches; round parts as in the girth."""
        return float(self.polygon.area)

    def corner_groups(self, share_in: float) -> tuple[tuple[Point, ...], ...]:
        """Group the convex corners that share one patch: those under ``share_in`` inches apart.

        Sharing is passed on: where A is near B and B near C, the three share one. A corner drawn
        as a run of short sides therefore counts once.
        """
        return group_near(self.corners, share_in)

    def patch_count(self, share_in: float) -> int:
        """How many corner patches the member takes; none on a round one."""
        return len(self.corner_groups(share_in))


def group_near(points: Sequence[Point], share_in: float) -> tuple[tuple[Point, ...], ...]:
    """Put points under ``share_in`` inches apart in one group, in the order of their first point.

    >>> group_near([(0, 0), (3, 0), (3, 0.25)], 1.0)
    (((0, 0),), ((3, 0), (3, 0.25)))
    """
    groups = near_groups(shapely.points(points).tolist(), share_in - NOISE) if points else []
    return tuple(tuple(points[index] for index in group) for group in groups)


def convex_corners(points: Sequence[Point]) -> tuple[Point, ...]:
    """Return the corners that stand out of an outline given counter-clockwise."""
    return tuple(point for point, turn in zip(points, turns(points), strict=True) if turn > 0)


def turns(points: Sequence[Point]) -> list[float]:
    """Return the sine of the turn at each point of a closed outline, 0 where it runs straight."""
    found = []
    for index, (x, y) in enumerate(points):
        before, after = points[index - 1], points[(index + 1) % len(points)]
        in_x, in_y = x - before[0], y - before[1]
        out_x, out_y = after[0] - x, after[1] - y
        sine = (in_x * out_y - in_y * out_x) / (math.hypot(in_x, in_y) * math.hypot(out_x, out_y))
        found.append(sine if abs(sine) > NOISE else 0.0)
    return found


def sides(points: Sequence[Point]) -> list[tuple[Point, Point]]:
    """Return the sides of a closed outline as pairs of points."""
    return [(point, points[(index + 1) % len(points)]) for index, point in enumerate(points)]
