"""The narrowest gap between uprights, or within one, that hand and fleece would have to reach."""

from __future__ import annotations

from collections.abc import Sequence

from shapely.geometry.base import BaseGeometry

from upstand.layout.placed import PlacedMember
from upstand.layout.splitting import resized
from upstand.layout.uprights import Part
from upstand.sections.near import near_pairs

#: Gaps from here on are reached [in].
REACH = 2.0
#: A gap is told as nearly as this; it is shown in eighths [in].
TOLD = 4e-3


def find_gap(members: Sequence[PlacedMember], parts: Sequence[Part]) -> float | None:
    """Width of the narrowest gap [in], if any: known of a section, between two, or within one."""
    gaps = [m.section.clear_gap_in for m in members if m.section.clear_gap_in is not None]
    outlines = [part.outline for part in parts]
    near = near_pairs(outlines, REACH)
    gaps += [float(outlines[i].distance(outlines[j])) for i, j in near]
    for part in parts:
        # a lone section of known shape tells its own by its dimensions
        if len(part.members) > 1 or members[part.members[0]].section.area_formula is None:
            within = gap_within(part.outline, min([REACH, *gaps]), part.sharpest)
            gaps += [] if within is None else [within]
    return min(gaps, default=None)


def gap_within(outline: BaseGeometry, reach: float, sharpest: float) -> float | None:
    """Width of the narrowest gap in an outline, if under `reach` inches.

    A gap is what closes when the outline is grown by half its width and shrunk back, corners kept
    sharp, so that an open re-entrant corner is no gap. Found by halving.
    """
    # round edges are drawn finer than a gap is told
    outline = outline.simplify(TOLD / 4.0)
    area = float(outline.area)

    def regrown(by: float) -> BaseGeometry:
        return resized(resized(outline, by, sharpest), -by, sharpest)

    # a splinter's point does not come back whole; then areas alone can't tell what was filled
    sharp = area - float(regrown(1e-3).area) > 1e-7

    def closes(width: float) -> bool:
        back = regrown(width / 2.0)
        return float(back.difference(outline).area if sharp else back.area - area) > 1e-4

    low, high = 0.0, reach - 1e-6
    if not closes(high):
        return None
    while high - low > TOLD:
        middle = (low + high) / 2.0
        low, high = (low, middle) if closes(middle) else (middle, high)
    return high
