"""Lays strips of fleece along a run, and patches: how each lies on the faces, where it is split."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

import shapely
from shapely import affinity

from upstand.formulas import areas
from upstand.formulas import pieces as piece_formulas
from upstand.layout.builder import Builder
from upstand.layout.edges import SAME
from upstand.layout.model import Band, Line, Lying, PieceKind, Rectangle
from upstand.layout.splitting import Grid, fit_roll
from upstand.quantity.traced import Traced, measured, reckon

#: Puts a part of a strip on a face: which, from where to where along the run, and out on it.
Lay = Callable[[str, tuple[float, float], tuple[float, float]], list[Lying]]


@dataclass(frozen=True, slots=True)
class Spread:
    """Where a piece lies across its width: up to `last` of it on a face, from `at` there on.

    `down` lies against the face's own direction, as a foot does: the piece's first edge is the
    one farthest from the fold.
    """

    face: str
    size: float
    at: float
    down: bool = False


def lay_strip(
    b: Builder,
    kind: PieceKind,
    width: Traced,
    length: Traced,
    spreads: Sequence[Spread],
    start: float,
    *,
    shifted: bool = False,
    lay: Lay | None = None,
    longest: Traced | None = None,
    opening: tuple[Rectangle, Traced] | None = None,
) -> Grid:
    """Lay a strip along a run, split where it is too long or too wide, lowest edge first.

    `spreads` says how its width lies on the faces, `start` where its length begins on them.
    `shifted` moves the joints off those of the base. `opening` is cut out of it: where it
    lies in the strip (x along, y across), and its area. `lay` puts a part of it on the faces
    where they don't lie side by side along the run.
    """
    most = longest or b.given["longest-piece"]
    shift = None
    if shifted and max(width.value, length.value) > most.value + SAME:
        shift = b.given["joint-shift"]
        most = b.less(most, shift)
    grid = fit_roll(width, length, b.pieces.roll[0], most, b.lap)
    lay = lay or straight
    _lay_grid(b, kind, grid, shift, spreads, start, opening, lay)
    columns, rows = grid.columns, grid.rows
    sizes = {"width": width, "length": length, "columns": columns, "rows": rows}
    cut = b.rectangle(width, length)
    if grid.count > 1:
        cut = reckon(piece_formulas.split_area, **sizes, lap=b.lap)
        b.laps.append(reckon(areas.joint_area, **sizes, lap=b.lap))
    b.cut.append(cut)
    b.net.append(
        reckon(areas.difference, whole=cut, part=opening[1]) if opening is not None else cut
    )
    return grid


def _lay_grid(
    b: Builder,
    kind: PieceKind,
    grid: Grid,
    shift: Traced | None,
    spreads: Sequence[Spread],
    start: float,
    opening: tuple[Rectangle, Traced] | None,
    lay: Lay,
) -> None:
    columns, rows = round(grid.columns.value), round(grid.rows.value)
    lap = b.lap.value
    lengths = [grid.length] * rows
    if shift is not None and rows > 1:
        lengths[0] = b.less(grid.length, shift)
        lengths[-1] = b.plus(grid.length, shift)
    across_at = 0.0
    for _ in range(columns):
        along_at = 0.0
        for piece_length in lengths:
            last = along_at + piece_length.value
            high = across_at + grid.width.value
            lies, bands = [], []
            for spread, low, top, first, end in spread_over(spreads, across_at, high):
                lies += lay(spread.face, (start + along_at, start + last), (first, end))
                bands.append(Band(spread.face, low, top))
            net, shape = None, None
            if opening is not None:
                here = Rectangle(along_at, across_at, last, high).sheet()
                shape = here.difference(opening[0].sheet())
                taken = here.area - shape.area
                if taken > SAME:
                    part = opening[1]
                    if abs(taken - part.value) > SAME:
                        part = measured(taken, "in^2", "opening in this piece")
                    whole = b.rectangle(grid.width, piece_length)
                    net = reckon(areas.difference, whole=whole, part=part)
                shape = affinity.translate(shape, -along_at, -across_at)
            b.pieces.add(
                kind,
                grid.width,
                piece_length,
                net=net,
                lies=lies,
                across=bands,
                shape=shape,
            )
            along_at = last - lap
        across_at += grid.width.value - lap


def lay_single(
    b: Builder,
    kind: PieceKind,
    width: Traced,
    length: Traced,
    lies: Sequence[Sequence[Lying]],
    *,
    slits: Sequence[Line] = (),
) -> None:
    """Add pieces of one size, one for each place where they lie, none of them to be split."""
    for place in lies:
        b.pieces.add(kind, width, length, lies=place, slits=slits)
    area = b.times(b.rectangle(width, length), float(len(lies)), "pieces of one size")
    b.net.append(area)
    b.cut.append(area)


def lay_patches(b: Builder, *places: Sequence[tuple[str, float, float, float, float]]) -> None:
    """Add corner patches; each place lists (face, left, low, right, high)."""
    side = b.given["corner-patch"]
    lies = [[Lying(f, shapely.box(*bounds)) for f, *bounds in place] for place in places]
    half = side.value / 2.0
    lay_single(b, "patch", side, side, lies, slits=[((half, 0.0), (half, half))])


def round_off(b: Builder, before: int, lost: Traced) -> None:
    """Take the rounded corners off the strip just laid"""
    b.net[-1] = reckon(areas.difference, whole=b.net[-1], part=lost)
    made = range(before, len(b.pieces.made))
    for n in made:
        piece = b.pieces.made[n]
        part = lost
        drawn = piece.lies[0].shape
        if len(made) > 1:
            whole = piece.width.value * piece.length.value
            part = measured(whole - float(drawn.area), "in^2", "corners of this piece")
        net = reckon(areas.difference, whole=b.rectangle(piece.width, piece.length), part=part)
        left, low, _, _ = drawn.bounds
        own = affinity.translate(drawn, -left, -low)
        b.pieces.made[n] = replace(piece, net=net, shape=own)


def straight(face: str, along: tuple[float, float], out: tuple[float, float]) -> list[Lying]:
    """Put a part of a strip on a face whose first axis runs along the strip."""
    return [Lying(face, shapely.box(along[0], out[0], along[1], out[1]))]


def spread_over(
    spreads: Sequence[Spread], first: float, last: float
) -> Iterator[tuple[Spread, float, float, float, float]]:
    """Take a part of a strip's width apart by the faces it lies on.

    Yields the spread, from where to where in that part, and from where to where on the face.
    """
    edge = 0.0
    for spread in spreads:
        low, high = max(first, edge), min(last, edge + spread.size)
        if high - low > SAME:
            at = spread.at + (spread.size - (high - edge) if spread.down else low - edge)
            yield spread, low - first, high - first, at, at + high - low
        edge += spread.size
