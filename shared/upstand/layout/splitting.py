"""How a target is split, and what a base piece is cut round.

All geometry is in the mask's axes, inches. A piece is cut as a rectangle; what a member takes out
of a base piece is reached by a slit from the split edge, which has no area.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

import shapely
from shapely import STRtree
from shapely.geometry import MultiPolygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from upstand.formulas import pieces as piece_formulas
from upstand.layout.model import LayoutRefusal, Rectangle, Region
from upstand.layout.placed import NOISE, PlacedMember, apart, multipolygon
from upstand.quantity.traced import Traced, reckon
from upstand.telling.said import say

Axis = Literal["x", "y"]
MAX_PIECES = 2_000
SHARPEST = 10.0
#: What a drawn outline loses by shrinking and growing back that is rounding, not a thin part [in²].
REGROWN = 1e-3


@dataclass(frozen=True, slots=True)
class Split:
    """Straight lines that split a target: `axis` "x" means lines x = at, parallel to y."""

    axis: Axis
    at: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class BasePiece:
    """A base piece as a rectangle and as laid (inches); `slit`: reached by a slit."""

    rectangle: Rectangle
    shape: BaseGeometry
    slit: bool


@dataclass(frozen=True, slots=True)
class Grid:
    """A rectangle laid in equal pieces that lap: how many, and how large one is."""

    columns: Traced
    rows: Traced
    width: Traced
    length: Traced

    @property
    def count(self) -> int:
        """How many pieces."""
        return round(self.columns.value) * round(self.rows.value)

    def rectangles(self, whole: Rectangle, lap: float) -> list[Rectangle]:
        """Put the pieces where they lie."""
        if self.count == 1:
            return [whole]
        wide, long = self.width.value, self.length.value
        return [
            Rectangle(x, y, x + wide, y + long)
            for x in (whole.left + k * (wide - lap) for k in range(round(self.columns.value)))
            for y in (whole.low + k * (long - lap) for k in range(round(self.rows.value)))
        ]


def choose_split(region: Region, members: Sequence[PlacedMember], lap: float) -> Split | None:
    """Find the lines along which the target is split, so that fleece can go round the members.

    One line through the middle of the outline's box that crosses every member; where none does,
    parallel lines, one through each member. Least cut area wins; on a tie the line along x.
    None for a region without members: a single piece lies flat.
    """
    if not region.members:
        return None
    target = region.target
    inside = [members[i] for i in region.members]
    left, low, right, high = region.outline.bounds
    if len(inside) == 1:
        left, low, right, high = inside[0].bounds
    middles: list[tuple[Axis, float]] = [("y", (low + high) / 2.0), ("x", (left + right) / 2.0)]
    single = [
        Split(axis, (at,))
        for axis, at in middles
        # an outline is in one piece, so a line within its bounds goes through it
        if all(_within(at, m.bounds[axis == "y"], m.bounds[2 + (axis == "y")]) for m in inside)
    ]
    several = [
        Split("y", _distinct([(m.bounds[1] + m.bounds[3]) / 2.0 for m in inside])),
        Split("x", _distinct([(m.bounds[0] + m.bounds[2]) / 2.0 for m in inside])),
    ]

    def cut_area(split: Split) -> float:
        across, along = (
            (target.width, target.length) if split.axis == "x" else (target.length, target.width)
        )
        return (across + len(split.at) * lap) * along

    choices = single or several
    least = min(cut_area(split) for split in choices)
    # the line along x is listed first, so a tie goes to it
    return next(split for split in choices if cut_area(split) <= least + 1e-6)


def _within(at: float, low: float, high: float) -> bool:
    return low + 1e-6 < at < high - 1e-6


def split_target(target: Rectangle, split: Split | None, lap: float) -> list[Rectangle]:
    """Cut the target along the lines, each piece running half a lap past its line."""
    if split is None:
        return [target]
    half = lap / 2.0
    first, last = (target.left, target.right) if split.axis == "x" else (target.low, target.high)
    edges = [first, *split.at, last]
    spans = [
        (max(a - (half if i else 0.0), first), min(b + (half if i < len(split.at) else 0.0), last))
        for i, (a, b) in enumerate(pairwise(edges))
    ]
    if split.axis == "x":
        return [Rectangle(a, target.low, b, target.high) for a, b in spans]
    return [Rectangle(target.left, a, target.right, b) for a, b in spans]


def fit_roll(width: Traced, length: Traced, widest: Traced, longest: Traced, lap: Traced) -> Grid:
    """Split a piece evenly until it can be cut from the widest roll, laps counted in.

    Raises LayoutRefusal, before any is made, where that takes too many pieces.
    """
    across, along = (widest, longest) if width.value <= length.value else (longest, widest)
    columns = reckon(piece_formulas.parts_needed, side=width, most=across, lap=lap)
    rows = reckon(piece_formulas.parts_needed, side=length, most=along, lap=lap)
    refuse_many(columns.value * rows.value)
    return Grid(columns, rows, _part(width, columns, lap), _part(length, rows, lap))


def _part(side: Traced, parts: Traced, lap: Traced) -> Traced:
    if parts.value == 1.0:
        return side
    return reckon(piece_formulas.even_part, side=side, parts=parts, lap=lap)


def refuse_many(count: float) -> None:
    """Refuse a layout of more pieces than anybody cuts for one detail."""
    if count > MAX_PIECES:
        raise LayoutRefusal([("", say("too-many-pieces", most=f"{MAX_PIECES:,}"))])


def resized(outline: BaseGeometry, by: float, sharpest: float = SHARPEST) -> BaseGeometry:
    """Grow (or shrink, below 0) an outline by `by` inches, corners kept sharp.

    A corner runs out to at most `sharpest` times that, then it is cut off.
    """
    drawn = outline.buffer(by, join_style="mitre", mitre_limit=sharpest)
    # sharp corners can cross one another where an outline is all splinters
    return drawn if drawn.is_valid else drawn.buffer(0.0)


def vanished(
    outline: BaseGeometry, opening: BaseGeometry, turn_up: float, sharpest: float
) -> BaseGeometry:
    """Find the thin parts of an outline, of which shrinking by the turn-up leaves nothing."""
    back = resized(opening, turn_up, sharpest)
    if outline.area - back.area < REGROWN:
        # what grew back lies within the outline: nothing is missing
        return MultiPolygon()
    parts = outline.difference(back)
    return unary_union([p for p in getattr(parts, "geoms", [parts]) if p.area > REGROWN])


def lay_base(
    rectangle: Rectangle, openings: Sequence[BaseGeometry], thin: Sequence[BaseGeometry]
) -> BasePiece:
    """Cut a base piece round what stands in it.

    `openings` are the outlines shrunk by the turn-up, `thin` the parts of the outlines that shrink
    to nothing. These, and an opening wholly inside the piece, are reached by a slit from its edge.
    """
    sheet = rectangle.sheet()
    own = (rectangle.left, rectangle.low, rectangle.right, rectangle.high)
    met = [o for o in openings if not o.is_empty and not apart(own, o.bounds)]
    shape = sheet
    if met:
        # uprights stand apart: what is taken out for them is never joined
        shape = sheet.difference(met[0] if len(met) == 1 else multipolygon(met))
    wholly = any(len(p.interiors) for p in getattr(shape, "geoms", [shape]))
    slit = wholly or any(
        not t.is_empty and not apart(own, t.bounds) and sheet.intersection(t).area > NOISE
        for t in thin
    )
    return BasePiece(rectangle, shape, slit)


def lap_outside(rectangles: Sequence[Rectangle], outlines: Sequence[BaseGeometry]) -> float:
    """Area where base pieces lie on each other, outside the outlines [in²]."""
    found = []
    tree = STRtree(outlines)
    for number, one in enumerate(rectangles):
        for other in rectangles[number + 1 :]:
            left, low = max(one.left, other.left), max(one.low, other.low)
            right, high = min(one.right, other.right), min(one.high, other.high)
            if right - left <= NOISE or high - low <= NOISE:
                continue
            shared = (left, low, right, high)
            inside = [outlines[i] for i in tree.query(shapely.box(*shared)).tolist()]
            # cutting along a rectangle is quick
            taken = math.fsum(shapely.clip_by_rect(o, *shared).area for o in inside)
            found.append((right - left) * (high - low) - taken)
    return math.fsum(found)


def _distinct(values: Sequence[float]) -> tuple[float, ...]:
    kept: list[float] = []
    for value in sorted(values):
        if not kept or value - kept[-1] > NOISE:
            kept.append(value)
    return tuple(kept)
