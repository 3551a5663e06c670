"""Proves a layout on its drawn shapes, independent of the formulas that counted it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from shapely.geometry import box
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from upstand.layout.model import Layout, Piece, Region
from upstand.layout.placed import PlacedMember, PlacedPlate, turned
from upstand.layout.splitting import overlapping
from upstand.query.defaults import Settled

AREA_NOISE = 1e-6
LENGTH_NOISE = 1e-6


def prove(
    layout: Layout,
    settled: Settled,
    members: Sequence[PlacedMember],
    plates: Sequence[PlacedPlate],
) -> Layout:
    """Check what must hold of every layout; what does not is named in `unproved`.

    Zone covered; every joint at least the lap; plates covered by the margin; no fleece nearer to
    the tape than allowed; no mask over another; the wraps reach up and round.
    """
    assert layout.fleece is not None
    lap = layout.parameters["fleece-lap"].value
    faults: list[str] = []
    bases = [p for p in layout.fleece.pieces if p.shape is not None]
    for number, region in enumerate(layout.regions, 1):
        here = [p.shape for p in _pieces_in(region, bases)]
        flat = region.target.sheet().difference(region.outline)
        bare = flat.difference(unary_union(here)).area if here else flat.area
        if bare > AREA_NOISE:
            faults.append(f"zone of rectangle {number} is bare over {bare:.4f} in²")
        if not _joints_hold(_pieces_in(region, bases), region.outline, lap):
            faults.append(f"a base joint of rectangle {number} laps less than {lap:g} in")
        least = layout.parameters["fleece-to-tape"].value
        room = region.mask.sheet().buffer(-(least - LENGTH_NOISE), join_style="mitre")
        if any(not room.covers(shape) for shape in here):
            faults.append(
                f"fleece of rectangle {number} comes nearer to the tape than {least:g} in"
            )
    covers = [p.shape for p in layout.fleece.pieces if p.kind == "cover" and p.shape is not None]
    solid = unary_union([m.outline for m in members]) if members else None
    margin = layout.parameters["plate-margin"].value
    for plate in plates:
        wanted = plate.outline.buffer(margin - LENGTH_NOISE, join_style="mitre")
        if solid is not None:
            wanted = wanted.difference(solid.buffer(LENGTH_NOISE))
        if not unary_union(covers).buffer(LENGTH_NOISE).covers(wanted):
            faults.append(f"plate {plate.number + 1} is not covered {margin:g} in past its edges")
    if not _masks_apart(layout.regions):
        faults.append("one taped rectangle lies over another")
    faults += _wraps_hold(layout, settled, lap)
    return replace(layout, unproved=tuple(faults))


def _pieces_in(region: Region, pieces: Sequence[Piece]) -> list[Piece]:
    """Find a region's pieces, in the axes that its rectangles are drawn in."""
    here = [replace(p, shape=turned(p.shape, -region.turn_deg, (0.0, 0.0))) for p in pieces]
    reach = region.mask.sheet()
    return [
        p for p in here if p.shape is not None and p.shape.intersection(reach).area > AREA_NOISE
    ]


def _masks_apart(regions: Sequence[Region]) -> bool:
    """Whether no mask lies over another."""
    masks = [turned(r.mask.sheet(), r.turn_deg, (0.0, 0.0)) for r in regions]
    return all(masks[i].intersection(masks[j]).area <= AREA_NOISE for i, j in overlapping(masks))


def _reach(piece: Piece, outline: BaseGeometry) -> BaseGeometry:
    """Find the rectangle that a base piece covers, but for what stands in it."""
    assert piece.shape is not None
    if piece.sheet is not None:
        whole = piece.sheet.sheet()
        if whole.difference(piece.shape).difference(outline).area <= AREA_NOISE:
            return whole
    return box(*piece.shape.bounds)


def _joints_hold(pieces: Sequence[Piece], outline: BaseGeometry, lap: float) -> bool:
    """Every two base pieces that meet lap by the limit, measured across the joint."""
    sheets = [_reach(p, outline) for p in pieces if p.kind == "base" and p.shape is not None]
    pairs = [
        (i, j)
        for i, j in overlapping(sheets)
        if sheets[i].intersection(sheets[j]).area > AREA_NOISE
    ]
    short: list[tuple[int, int]] = []
    lapped: dict[int, set[int]] = {i: set() for i in range(len(sheets))}
    for i, j in pairs:
        left, low, right, high = sheets[i].intersection(sheets[j]).bounds
        if min(right - left, high - low) < lap - LENGTH_NOISE:
            short.append((i, j))
        else:
            lapped[i].add(j)
            lapped[j].add(i)
    # where lines are nearer than a lap, the pieces between carry the joints
    return all(_bridged(i, j, sheets, lapped) for i, j in short)


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


def _wraps_hold(layout: Layout, settled: Settled, lap: float) -> list[str]:
    assert layout.fleece is not None and layout.girth is not None
    wraps = [p for p in layout.fleece.pieces if p.kind == "wrap"]
    if not wraps:
        return [] if layout.girth.value == 0.0 else ["there is no wrap round the upright"]
    area = sum(p.width.value * p.length.value * p.count for p in wraps)
    least = (settled.height.value + lap) * (layout.girth.value + lap)
    if area < least - AREA_NOISE:
        return [f"the wraps cover {area:.3f} in², less than girth and height need ({least:.3f})"]
    return []
