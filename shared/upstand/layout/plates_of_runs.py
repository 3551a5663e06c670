"""Covers the plates along a run, and masks those that lie far out by themselves."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import shapely
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from upstand.formulas import areas, runs
from upstand.layout.builder import GROUND, Builder
from upstand.layout.edges import SAME
from upstand.layout.model import Band, LayoutRefusal, Lying, Rectangle, Surface
from upstand.layout.pieces_round import PieceMaker
from upstand.layout.placed import place_plates
from upstand.layout.planes import find_regions
from upstand.layout.splitting import fit_roll
from upstand.quantity.traced import Traced, measured, reckon
from upstand.telling.said import say


def lay_plates(
    b: Builder, flange: Traced, length: float, face: str = "roof"
) -> tuple[Traced, list[Traced]]:
    """Cover the plates along a run.

    Returns how far fleece reaches on to the roof with them, and their areas. Plates far out
    are islands with masks of their own.
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
    if pending:
        _islands(b, pending, outs)
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
    grid = fit_roll(width, deep, *b.pieces.roll, b.lap)
    for part in grid.rectangles(Rectangle(*box.bounds), b.lap.value):
        low, high = part.low, part.high
        if behind is not None:
            edge = min if b.mirrored else max
            low, high = edge(low, 0.0), edge(high, 0.0)
        area = b.rectangle(grid.width, grid.length)
        net = area
        lost = (part.length - (high - low)) * part.width
        if lost > SAME and behind is not None:
            inside = behind if grid.count == 1 else measured(lost, "in^2", "cover in the wall")
            net = reckon(areas.difference, whole=area, part=inside)
        if net.value <= SAME:
            continue
        b.pieces.add(
            "cover",
            grid.width,
            grid.length,
            net=net,
            lies=[Lying(face, shapely.box(part.left, low, part.right, high))],
            across=[Band(face, 0.0, part.width)],
            shape=shapely.box(0.0, 0.0, part.width, part.length),
        )
        b.net.append(net)
        b.cut.append(area)


def _islands(b: Builder, numbers: Sequence[int], outs: Sequence[Traced]) -> None:
    """Mask plates that lie far out by themselves; those whose masks overlap share one."""
    plates = []
    for number in numbers:
        plate = b.settled.plates[number]
        left, _, right, _ = _plate_box(b, number, outs[number], 0.0).bounds
        along = measured((left + right) / 2.0, "in", "place along the run")
        out = b.times(outs[number], -1.0, "on the other side") if b.mirrored else outs[number]
        plates.append(replace(plate, at=(along, out)))
    margin = b.given["plate-margin"]
    placed = place_plates(plates, margin.value, 0.0, [])
    maker = PieceMaker(b.pieces, b.settled)
    for region in find_regions([], placed, b.size("flange"), margin, b.reveal.value, 0.0):
        own = [placed[n] for n in region.plates]
        face = f"island-{numbers[region.plates[0]] + 1}"
        b.drawn += [Lying(face, plate.outline) for plate in own]
        before = len(b.pieces.made)
        maker.covers(own, region, [], face)
        b.laps += maker.base(region, [], [], face)
        b.counted(before)
        sides = (region.width, region.length)
        width, length = (reckon(areas.grown_side, side=side, margin=b.reveal) for side in sides)
        b.islands.append(b.rectangle(width, length))
        b.zone.append(b.rectangle(*sides))
        b.tape.append(reckon(areas.rectangle_perimeter, width=width, length=length))
        b.corners += 4
        b.flat.append((width, length))
        b.face(face, "roof", "flat", region.mask.sheet(), region.target.sheet(), GROUND)
