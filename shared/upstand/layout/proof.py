"""Proves a layout on its drawn shapes, written from the definitions: no formula is used here."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import partial

import shapely
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from upstand.layout.flat import Flat, flat, flats
from upstand.layout.model import Fault, Layout, Piece, Region
from upstand.layout.placed import PlacedMember, PlacedPlate, apart, turned
from upstand.layout.proof_of_faces import draw_faces, masks_apart, off_the_tape
from upstand.query.defaults import Settled
from upstand.sections.near import near_pairs

AREA_NOISE = 1e-6
LENGTH_NOISE = 1e-6


def prove(
    layout: Layout,
    settled: Settled,
    members: Sequence[PlacedMember],
    plates: Sequence[PlacedPlate],
) -> Layout:
    """Check what must hold of members and plates; what does not is named in `unproved`.

    Zone covered; every joint at least the lap; plates covered by the margin; no fleece nearer to
    the tape than allowed; no mask over another; the wraps reach up and round; counted is drawn.
    """
    assert layout.fleece is not None
    lap = layout.parameters["fleece-lap"].value
    faults: list[Fault] = []
    faces = draw_faces(layout)
    for number, region in enumerate(layout.regions, 1):
        here = faces[f"roof-{number}"]
        back = partial(turned, degrees=-region.turn_deg, origin=(0.0, 0.0))
        lies = [(part.piece, back(part.shape)) for part in here.laid]
        base = [_reach(p, shape, region.outline) for p, shape in lies if p.kind == "base"]
        others = [shape for p, shape in lies if p.kind != "base"]
        zone = flat(back(here.face.zone))
        faults += _covered(here.face.id, zone, base, others, region.outline)
        faults += _joints_hold(here.face.id, base, lap)
        faults += off_the_tape(here, layout.parameters["fleece-to-tape"].value)
        faults += _counted(here.face.id, region)
    faults += _plates_covered(layout, members, plates)
    faults += masks_apart(faces.values())
    faults += _wraps_hold(layout, settled, lap)
    return replace(layout, unproved=tuple(faults))


def _covered(
    face: str,
    bare: Flat,
    base: Sequence[BaseGeometry],
    others: Sequence[BaseGeometry],
    outline: BaseGeometry,
) -> list[Fault]:
    """Fleece lies on all of a zone but for what stands in it."""
    for part in flats(base) if base else ():
        bare = bare.minus(part)
    for shape in (unary_union(others), outline):
        if bare.area > AREA_NOISE:
            bare = bare.minus(flat(shape))
    return [Fault("zone-bare", face, bare.area)] if bare.area > AREA_NOISE else []


def _counted(face: str, region: Region) -> list[Fault]:
    """The sides as counted are those that are drawn."""
    off = max(
        abs(region.width.value - region.target.width),
        abs(region.length.value - region.target.length),
    )
    return [Fault("counted-otherwise", face, off)] if off > LENGTH_NOISE else []


def _plates_covered(
    layout: Layout, members: Sequence[PlacedMember], plates: Sequence[PlacedPlate]
) -> list[Fault]:
    """Every plate is covered by the margin past its edges, but for what stands there."""
    assert layout.fleece is not None
    if not plates:
        return []
    margin = layout.parameters["plate-margin"].value
    covers = [p.shape for p in layout.fleece.pieces if p.kind == "cover" and p.shape is not None]
    boxes = shapely.bounds(covers).tolist() if covers else []
    found = []
    for plate in plates:
        bare = plate.outline.buffer(margin - LENGTH_NOISE, join_style="mitre")
        left, low, right, high = bare.bounds
        # its own cover lies about the same middle: it is taken out first
        off = [abs(b[0] + b[2] - left - right) + abs(b[1] + b[3] - low - high) for b in boxes]
        near = sorted(zip(off, covers, boxes, strict=True), key=lambda each: each[0])
        shapes = [cover for _, cover, box in near if not apart((left, low, right, high), box)]
        # then what it was cut round
        shapes[1:1] = [m.outline for m in members if not apart(m.bounds, (left, low, right, high))]
        for shape in shapes:
            if bare.area > AREA_NOISE:
                bare = bare.difference(shape)
        if bare.area > AREA_NOISE:
            found.append(Fault("plate-bare", f"plate-{plate.number + 1}", 0.0, margin))
    return found


def _reach(piece: Piece, shape: BaseGeometry, outline: BaseGeometry) -> BaseGeometry:
    """Find the rectangle that a base piece covers but for what stands in it, else its own shape."""
    if piece.sheet is None:
        return shape
    whole = piece.sheet.sheet()
    cut = whole.difference(shape)
    held = outline.covers(cut) or cut.difference(outline).area <= AREA_NOISE
    return whole if held else shape


def _joints_hold(face: str, sheets: Sequence[BaseGeometry], lap: float) -> list[Fault]:
    """Every two base pieces that meet lap by the limit, measured across the joint."""
    short: dict[tuple[int, int], float] = {}
    lapped: dict[int, set[int]] = {i: set() for i in range(len(sheets))}
    for i, j in near_pairs(sheets):
        both = sheets[i].intersection(sheets[j])
        if both.area <= AREA_NOISE:
            continue
        left, low, right, high = both.bounds
        wide = min(right - left, high - low)
        if wide < lap - LENGTH_NOISE:
            short[(i, j)] = wide
        else:
            lapped[i].add(j)
            lapped[j].add(i)
    # where lines are nearer than a lap, the pieces between carry the joints
    return [
        Fault("joint-short", face, wide, lap)
        for (i, j), wide in short.items()
        if not _bridged(i, j, sheets, lapped)
    ]


def _bridged(
    start: int, end: int, sheets: Sequence[BaseGeometry], lapped: Mapping[int, set[int]]
) -> bool:
    """Whether sheets that all lie over what these two share lead from one to the other."""
    shared = sheets[start].intersection(sheets[end])
    seen, reached = {start}, [start]
    while reached:
        here = reached.pop()
        for near in lapped[here] - seen:
            if near == end:
                return True
            if sheets[near].covers(shared):
                seen.add(near)
                reached.append(near)
    return False


def _wraps_hold(layout: Layout, settled: Settled, lap: float) -> list[Fault]:
    """The wraps go up to the height and round, with their foot and joint."""
    assert layout.fleece is not None and layout.girth is not None
    wraps = [p for p in layout.fleece.pieces if p.kind == "wrap"]
    if not wraps:
        return [] if layout.girth.value == 0.0 else [Fault("no-wrap", "upright-1")]
    area = sum(p.width.value * p.length.value * p.count for p in wraps)
    least = (settled.height.value + lap) * (layout.girth.value + lap)
    if area < least - AREA_NOISE:
        return [Fault("wrap-short", "upright-1", area, least)]
    return []
