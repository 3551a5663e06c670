"""The separate uprights within a region: one member, or several that touch."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

import shapely
from shapely import STRtree
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from upstand.formulas import REGISTER
from upstand.layout.model import Point, Region
from upstand.layout.placed import NOISE, PlacedMember, apart
from upstand.layout.planes import SAME
from upstand.layout.splitting import SHARPEST
from upstand.quantity.traced import Origin, Traced, reckon
from upstand.sections.model import group_near

#: Corners of one drawn section from which on it is taken for all splinters.
SPLINTERS = 24
#: Sine of a turn that is none.
STRAIGHT = 6e-3


@dataclass(frozen=True, slots=True)
class Part:
    """One upright: its outline, girth [in] and area [in²], and each member's share of the girth."""

    outline: Polygon
    members: tuple[int, ...]
    girth: Traced
    area: Traced
    girth_of: Mapping[int, Traced]
    joints: int
    joint_face: str
    corners: tuple[tuple[float, float], ...]

    @property
    def sharpest(self) -> float:
        """How far sharp corners run out: those of an outline all splinters cross one another."""
        splinters = len(self.members) == 1 and len(self.corners) > SPLINTERS
        return SHARPEST / 2.0 if splinters else SHARPEST

    def patch_count(self, share: float) -> int:
        """How many corner patches it takes: corners nearer than `share` inches share one."""
        return len(group_near(self.corners, share))


def find_parts(region: Region, members: Sequence[PlacedMember]) -> list[Part]:
    """Take the region's outline apart. Known sections count by formula, joined ones as drawn."""
    outlines = [o for o in getattr(region.outline, "geoms", [region.outline]) if not o.is_empty]
    inside = [members[i] for i in region.members]
    if len(outlines) == 1:
        return [_part(outlines[0], inside)]
    return [_part(outline, [m for m in inside if _belongs(m, outline)]) for outline in outlines]


def _belongs(member: PlacedMember, outline: BaseGeometry) -> bool:
    if apart(member.bounds, outline.bounds, -SAME):
        return False
    # one is wholly in the other, or they are apart: any point of it tells
    return bool(outline.covers(member.outline.representative_point()))


def _part(outline: BaseGeometry, inside: Sequence[PlacedMember]) -> Part:
    return _lone(outline, inside[0]) if len(inside) == 1 else _joined(outline, inside)


def section_figures(member: PlacedMember) -> tuple[Traced, Traced]:
    """Girth [in] and area [in²] of a member's own section."""
    section = member.section
    if section.girth_formula is None or section.area_formula is None:
        return (
            Traced(section.drawn_girth_in, "in", Origin("computed", "outline as drawn")),
            Traced(section.drawn_area_in2, "in^2", Origin("computed", "outline as drawn")),
        )
    given = member.member.dimensions
    inputs = {name: given[field] for name, field in section.formula_inputs.items()}
    girth, area = REGISTER[section.girth_formula], REGISTER[section.area_formula]
    return (
        reckon(girth, **{n: inputs[n] for n, _ in girth.parameters}),
        reckon(area, **{n: inputs[n] for n, _ in area.parameters}),
    )


def _lone(outline: BaseGeometry, member: PlacedMember) -> Part:
    girth, area = section_figures(member)
    return Part(
        outline=outline,
        members=(member.number,),
        girth=girth,
        area=area,
        girth_of={member.number: girth},
        joints=member.section.wrap_count,
        joint_face=member.section.joint_faces[0].id,
        corners=member.section.corners,
    )


def _joined(outline: Polygon, members: Sequence[PlacedMember]) -> Part:
    """Measure members that touch off their joined outline, and share its girth among them."""
    girth = float(outline.exterior.length)
    points = [(x, y) for x, y in shapely.get_coordinates(outline.exterior).tolist()[:-1]]
    if not outline.exterior.is_ccw:
        points.reverse()
    shares = _seen(members, points)
    known = sum(shares.values())
    return Part(
        outline=outline,
        members=tuple(m.number for m in members),
        girth=Traced(girth, "in", Origin("computed", "outline as drawn")),
        area=Traced(float(outline.area), "in^2", Origin("computed", "outline as drawn")),
        girth_of={
            number: Traced(girth * share / known, "in", Origin("computed", "share of the outline"))
            for number, share in shares.items()
        },
        joints=1,
        joint_face="widest-face",
        corners=tuple(_standing_out(outline, points, members)),
    )


def _seen(members: Sequence[PlacedMember], points: Sequence[Point]) -> dict[int, float]:
    """Length of the joined outline that is each member's own edge; two may share one."""
    edges = [(a, b) for a, b in pairwise([*points, points[0]])]
    # outlines that are joined get a point where they meet: an edge's middle tells whose it is
    middles = shapely.points([((ax + bx) / 2.0, (ay + by) / 2.0) for (ax, ay), (bx, by) in edges])
    own = [m.outline.exterior for m in members]
    found: dict[int, list[float]] = {m.number: [] for m in members}
    for member, edge in STRtree(middles).query(own, predicate="dwithin", distance=SAME).T.tolist():
        found[members[member].number].append(math.dist(*edges[edge]))
    shares = {number: math.fsum(lengths) for number, lengths in found.items()}
    return {number: share for number, share in shares.items() if share > 1e-6}


def placed_corners(member: PlacedMember) -> list[Point]:
    """Carry the convex corners of a member's section to where the member stands."""
    if member.section.round:
        return []
    # points keep their order when placed, so two of them tell the turn and the shift
    own, placed = (
        [complex(x, y) for x, y in shapely.get_coordinates(shape.exterior).tolist()[:-1]]
        for shape in (member.section.polygon, member.outline)
    )
    far = max(range(len(own)), key=lambda i: abs(own[i] - own[0]))
    turn = (placed[far] - placed[0]) / (own[far] - own[0])
    carried = [placed[0] + turn * (complex(*point) - own[0]) for point in member.section.corners]
    return [(point.real, point.imag) for point in carried]


def _standing_out(
    outline: Polygon, points: Sequence[Point], members: Sequence[PlacedMember]
) -> Iterator[Point]:
    """Find the members' corners that are corners of the joined outline too, not hidden or flat."""
    corners = [(m, corner) for m in members for corner in placed_corners(m)]
    if not corners:
        return
    drawn = shapely.points([corner for _, corner in corners])
    shapely.prepare(outline)
    hidden = shapely.covers(outline, drawn).tolist()
    at = dict(
        STRtree(shapely.points(points)).query(drawn, predicate="dwithin", distance=1e-6).T.tolist()
    )
    for number, (member, corner) in enumerate(corners):
        radius = member.section.dimensions.get("corner_radius", 0.0)
        if radius > NOISE:
            # a round corner's point lies outside, where its sides would meet
            reach = radius * (math.sqrt(2.0) - 1.0) + 1e-3
            if not hidden[number] and outline.exterior.distance(drawn[number]) < reach:
                yield corner
        elif number in at and _turns_out(points, at[number]):
            yield corner


def _turns_out(points: Sequence[Point], at: int) -> bool:
    """Whether an outline, given counter-clockwise, turns outwards at one of its points."""
    here = complex(*points[at])
    before, after = (
        next(
            rest
            for step in range(1, len(points))
            # points put in where outlines were joined can lie as near as rounding
            if abs(rest := complex(*points[(at + way * step) % len(points)]) - here) > 1e-5
        )
        for way in (-1, 1)
    )
    turn = (-before.conjugate() * after).imag
    return turn > STRAIGHT * abs(before) * abs(after)
