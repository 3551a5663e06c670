"""Covers the plates along a run, and masks those that lie far out by themselves."""

from __future__ import annotations

import shapely
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from upstand.formulas import areas, runs
from upstand.layout.builder import GROUND, Builder
from upstand.layout.edges import SAME
from upstand.layout.model import Band, LayoutRefusal, Lying, Rectangle, Surface
from upstand.layout.splitting import fit_roll
from upstand.quantity.traced import Traced, measured, reckon
from upstand.telling.said import say


def lay_plates(
    b: Builder, flange: Traced, length: float, face: str = "roof"
) -> tuple[Traced, list[Traced]]:
    """Cover the plates along a run.

    Returns how far fleece reaches on to the roof with them, and their areas. A plate far out
    is an island with a mask of its own.
    """
    margin = b.given["plate-margin"]
    outs = [_out(b, number) for number in range(len(b.settled.plates))]
    reach, pending, here = flange, list(range(len(outs))), []
    grew = True
    while grew:
        grew = False
        for n in list(pending):
            plate = b.settled.plates[n]
            near = reckon(areas.edge_before, middle=outs[n], side=plate.length, margin=margin).value
            # touching the fleece, or its own mask over the run's
            if near > reach.value + SAME and near - b.reveal.value >= (
                reach.value + b.reveal.value - SAME
            ):
                continue
            far = reckon(areas.edge_after, middle=outs[n], side=plate.length, margin=margin)
            pending.remove(n)
            here.append(n)
            if far.value > reach.value:
                reach, grew = far, True
    for n in sorted(here):
        _cover(b, n, outs[n], length, face)
    for n in pending:
        _island(b, n, outs[n])
    taken = []
    earlier: list[BaseGeometry] = []
    for n, plate in enumerate(b.settled.plates):
        area = b.rectangle(plate.width, plate.length)
        box = _plate_box(b, n, outs[n], 0.0)
        seen = box.difference(unary_union(earlier)).area if earlier else box.area
        if box.area - seen > SAME:
            area = measured(seen, "in^2", "plate, seen part")
        earlier.append(box)
        taken.append(area)
        b.surfaces.append(
            Surface(f"plate-{n + 1}", "plate", n + 1, str(plate.substrate), "flat", area)
        )
    return reach, taken


def _out(b: Builder, number: int) -> Traced:
    plate = b.settled.plates[number]
    asked = (b.settled.query.plates or ())[number].at
    half = b.times(plate.length, 0.5, "a plate's edge on the wall")
    out = half if asked is None else asked[1]
    if out.value < half.value - SAME:
        raise LayoutRefusal(
            [
                (
                    f"/plates/{number}/at",
                    say("plate-in-wall", number=str(number + 1), half=f"{half.value:g} in"),
                )
            ]
        )
    return out


def _plate_box(
    b: Builder, number: int, out: Traced, margin: float, length: float | None = None
) -> BaseGeometry:
    """Draw a plate, or its cover, on the roof; along the run it may be drawn anywhere."""
    plate = b.settled.plates[number]
    x = plate.at[0].value if plate.at else 0.0
    half, deep = plate.width.value / 2.0 + margin, plate.length.value / 2.0 + margin
    # the cover decides where both are drawn
    room = plate.width.value / 2.0 + b.given["plate-margin"].value
    if length is not None:
        x = length / 2.0 if 2.0 * room > length else min(max(x, room), length - room)
    else:
        x = max(x, b.clear + room)
    low, high = out.value - deep, out.value + deep
    if b.mirrored:
        low, high = -high, -low
    return shapely.box(x - half, low, x + half, high)


def _cover(b: Builder, number: int, out: Traced, length: float, face: str) -> None:
    margin = b.given["plate-margin"]
    plate = b.settled.plates[number]
    width = reckon(areas.grown_side, side=plate.width, margin=margin)
    deep = reckon(areas.grown_side, side=plate.length, margin=margin)
    before = reckon(areas.edge_before, middle=out, side=plate.length, margin=margin)
    behind = None
    if before.value < 0.0:
        behind = reckon(runs.behind_wall, before=before, width=width)
    box = _plate_box(b, number, out, margin.value, length)
    b.drawn.append(Lying(face, _plate_box(b, number, out, 0.0, length)))
    left, low, right, high = box.bounds
    _covers(b, width, deep, Rectangle(left, low, right, high), behind, face)


def _covers(
    b: Builder,
    width: Traced,
    deep: Traced,
    where: Rectangle,
    behind: Traced | None,
    face: str,
) -> None:
    grid = fit_roll(width, deep, *b.pieces.roll, b.lap)
    for part in grid.rectangles(where, b.lap.value):
        on_roof = part
        if behind is not None and b.mirrored:
            low, high = min(part.low, 0.0), min(part.high, 0.0)
            on_roof = Rectangle(part.left, low, part.right, high)
        elif behind is not None:
            low, high = max(part.low, 0.0), max(part.high, 0.0)
            on_roof = Rectangle(part.left, low, part.right, high)
        area = b.rectangle(grid.width, grid.length)
        net = area
        lost = (part.length - on_roof.length) * part.width
        if lost > SAME and behind is not None:
            inside = behind
            if grid.count > 1:
                inside = measured(lost, "in^2", "cover in the wall")
            net = reckon(areas.difference, whole=area, part=inside)
        if net.value <= SAME:
            continue
        shape = shapely.box(0.0, 0.0, part.width, part.length)
        b.pieces.add(
            "cover",
            grid.width,
            grid.length,
            net=net,
            lies=[Lying(face, on_roof.sheet())],
            across=[Band(face, 0.0, part.width)],
            shape=shape,
        )
        b.net.append(net)
        b.cut.append(area)


def _island(b: Builder, number: int, out: Traced) -> None:
    """Mask a plate that lies far out by itself."""
    margin = b.given["plate-margin"]
    plate = b.settled.plates[number]
    width = reckon(areas.grown_side, side=plate.width, margin=margin)
    deep = reckon(areas.grown_side, side=plate.length, margin=margin)
    cover = _plate_box(b, number, out, margin.value)
    face = f"island-{number + 1}"
    b.drawn.append(Lying(face, _plate_box(b, number, out, 0.0)))
    left, low, right, high = cover.bounds
    _covers(b, width, deep, Rectangle(left, low, right, high), None, face)
    sides = [reckon(areas.grown_side, side=side, margin=b.reveal) for side in (width, deep)]
    b.islands.append(b.rectangle(*sides))
    b.zone.append(b.rectangle(width, deep))
    b.tape.append(reckon(areas.rectangle_perimeter, width=sides[0], length=sides[1]))
    b.corners += 4
    b.flat.append((sides[0], sides[1]))
    r = b.reveal.value
    sheet = shapely.box(left - r, low - r, right + r, high + r)
    b.face(face, "roof", "flat", sheet, cover, GROUND)
