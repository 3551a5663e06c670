"""Pieces of fleece: how a target is split, and what lies where.

All geometry is in the mask's axes, inches. A piece is cut as a rectangle; what a member takes out
of a base piece is reached by a slit from the split edge, which has no area.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from shapely import STRtree
from shapely.geometry import LineString
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from upstand.layout.model import LayoutRefusal, Rectangle, Region
from upstand.layout.placed import NOISE, PlacedMember

Axis = Literal["x", "y"]
MAX_PIECES = 2_000
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
    round_one = inside[0] if len(inside) == 1 else None
    if round_one is not None:
        left, low, right, high = round_one.bounds
    middles: list[tuple[Axis, float]] = [("y", (low + high) / 2.0), ("x", (left + right) / 2.0)]
    single = [
        Split(axis, (at,))
        for axis, at in middles
        if all(_crosses(_line(axis, at, target), m.outline) for m in inside)
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


def fit_roll(
    rectangle: Rectangle, roll_width: float, roll_length: float, lap: float
) -> list[Rectangle]:
    """Split a piece again, evenly, until it can be cut from the widest roll; laps added.

    Raises LayoutRefusal, before any is made, where that takes too many pieces.
    """
    short, long = sorted((rectangle.width, rectangle.length))
    refuse_many(_parts(short, roll_width, lap) * _parts(long, roll_length, lap))
    pieces = [rectangle]
    short_is_x = rectangle.width <= rectangle.length
    for across_x, most in ((short_is_x, roll_width), (not short_is_x, roll_length)):
        pieces = [part for piece in pieces for part in _evenly(piece, across_x, most, lap)]
    return pieces


def _evenly(piece: Rectangle, across_x: bool, most: float, lap: float) -> list[Rectangle]:
    side = piece.width if across_x else piece.length
    count = _parts(side, most, lap)
    if count == 1:
        return [piece]
    part = (side + (count - 1) * lap) / count
    starts = [k * (part - lap) for k in range(count)]
    if across_x:
        return [
            Rectangle(piece.left + s, piece.low, piece.left + s + part, piece.high) for s in starts
        ]
    return [Rectangle(piece.left, piece.low + s, piece.right, piece.low + s + part) for s in starts]


def _parts(side: float, most: float, lap: float) -> int:
    return 1 if side <= most + NOISE else math.ceil((side - lap - NOISE) / (most - lap))


def refuse_many(count: int) -> None:
    """Refuse a layout of more pieces than anybody cuts for one detail."""
    if count > MAX_PIECES:
        raise LayoutRefusal(
            [
                (
                    "/members",
                    f"take more than {MAX_PIECES:,} pieces of fleece: describe fewer at once",
                )
            ]
        )


def resized(outline: BaseGeometry, by: float) -> BaseGeometry:
    """Grow (or shrink, below 0) an outline by `by` inches, corners kept sharp."""
    drawn = outline.buffer(by, join_style="mitre", mitre_limit=10.0)
    # sharp corners can cross one another where an outline is all splinters
    return drawn if drawn.is_valid else drawn.buffer(0.0)


def shrunk(outline: BaseGeometry, turn_up: float) -> BaseGeometry:
    """Shrink the outline by the turn-up, corners kept sharp: what the base is cut round."""
    return resized(outline, -turn_up)


def vanished(outline: BaseGeometry, opening: BaseGeometry, turn_up: float) -> BaseGeometry:
    """Find the thin parts of an outline, of which shrinking by the turn-up leaves nothing."""
    back = resized(opening, turn_up)
    parts = outline.difference(back)
    return unary_union([p for p in getattr(parts, "geoms", [parts]) if p.area > REGROWN])


def lay_base(rectangle: Rectangle, opening: BaseGeometry, thin: BaseGeometry) -> BasePiece:
    """Cut a base piece round what stands in it.

    `opening` is the outline shrunk by the turn-up, `thin` the parts of the outline that shrink to
    nothing. These, and an opening wholly inside the piece, are reached by a slit from its edge.
    """
    sheet = rectangle.sheet()
    shape = sheet.difference(opening) if not opening.is_empty else sheet
    wholly = any(len(p.interiors) for p in getattr(shape, "geoms", [shape]))
    return BasePiece(rectangle, shape, wholly or sheet.intersection(thin).area > NOISE)


def lap_outside(rectangles: Sequence[Rectangle], outline: BaseGeometry) -> float:
    """Area where base pieces lie on each other, outside the outline [in²]."""
    sheets = [r.sheet() for r in rectangles]
    return math.fsum(
        float(sheets[i].intersection(sheets[j]).difference(outline).area)
        for i, j in overlapping(sheets)
    )


def overlapping(sheets: Sequence[BaseGeometry]) -> list[tuple[int, int]]:
    """Find the pairs of sheets that meet, each once, in order."""
    if len(sheets) < 2:
        return []
    found = STRtree(sheets).query(sheets, predicate="intersects")
    return sorted((int(i), int(j)) for i, j in found.T if i < j)


def narrowest_gap(outline: BaseGeometry, reach: float) -> float | None:
    """Width of the narrowest gap in or between outlines, if under `reach` inches.

    A gap is what closes when the outline is grown by half its width and shrunk back, corners kept
    sharp, so that an open re-entrant corner is no gap. Found by halving to 1/1000 in.
    """

    def closes(width: float) -> bool:
        back = resized(resized(outline, width / 2.0), -width / 2.0)
        return bool(back.difference(outline).area > 1e-4)

    widest = reach - 1e-6
    if not closes(widest):
        return None
    low, high = 0.0, widest
    while high - low > 1e-3:
        middle = (low + high) / 2.0
        low, high = (low, middle) if closes(middle) else (middle, high)
    return high


def _line(axis: Axis, at: float, target: Rectangle) -> LineString:
    if axis == "x":
        return LineString([(at, target.low), (at, target.high)])
    return LineString([(target.left, at), (target.right, at)])


def _crosses(line: LineString, outline: BaseGeometry) -> bool:
    # a line along an edge does not go through the member
    return bool(line.intersects(outline.buffer(-1e-6)))


def _distinct(values: Sequence[float]) -> tuple[float, ...]:
    kept: list[float] = []
    for value in sorted(values):
        if not kept or value - kept[-1] > NOISE:
            kept.append(value)
    return tuple(kept)
