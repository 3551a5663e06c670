"""The separate uprights within a region: one member, or several that touch."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import shapely
from shapely.geometry import Point, Polygon
from shapely.geometry.base import BaseGeometry

from upstand.formulas import REGISTER
from upstand.layout.model import Region
from upstand.layout.placed import NOISE, PlacedMember, apart
from upstand.layout.planes import SAME
from upstand.quantity.traced import Origin, Traced, reckon
from upstand.sections.model import group_near


@dataclass(frozen=True, slots=True)
class Part:
    """One upright: its outline, girth [in] and area [in²], and each member's share of the girth."""

    outline: BaseGeometry
    members: tuple[int, ...]
    girth: Traced
    area: Traced
    girth_of: Mapping[int, Traced]
    joints: int
    joint_face: str
    corners: tuple[tuple[float, float], ...]

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
    shares = {m.number: _seen(m, outline) for m in members}
    shares = {number: share for number, share in shares.items() if share > 1e-6}
    known = sum(shares.values())
    corners = [
        point for m in members for point in placed_corners(m) if _stands_out(outline, m, point)
    ]
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
        corners=tuple(corners),
    )


def _seen(member: PlacedMember, outline: Polygon) -> float:
    """Length of the joined outline that is this member's own edge; two may share one."""
    left, low, right, high = member.bounds
    near = shapely.clip_by_rect(
        outline.exterior, left - SAME, low - SAME, right + SAME, high + SAME
    )
    return float(near.intersection(member.outline.boundary.buffer(SAME)).length)


def placed_corners(member: PlacedMember) -> list[tuple[float, float]]:
    """Carry the convex corners of a member's section to where the member stands."""
    if member.section.round:
        return []
    # points keep their order when placed, so two of them tell the turn and the shift
    own, placed = (
        [complex(*point) for point in list(shape.exterior.coords)[:-1]]
        for shape in (member.section.polygon, member.outline)
    )
    far = max(range(len(own)), key=lambda i: abs(own[i] - own[0]))
    turn = (placed[far] - placed[0]) / (own[far] - own[0])
    carried = [placed[0] + turn * (complex(*point) - own[0]) for point in member.section.corners]
    return [(point.real, point.imag) for point in carried]


def _stands_out(outline: Polygon, member: PlacedMember, point: tuple[float, float]) -> bool:
    """Whether a member's corner is one of the joined outline too, not hidden or run flat."""
    corner = Point(point)
    radius = member.section.dimensions.get("corner_radius", 0.0)
    if radius > NOISE:
        # a round corner's point lies outside, where its sides would meet
        reach = radius * (math.sqrt(2.0) - 1.0) + 1e-3
        return bool(not outline.covers(corner) and outline.distance(corner) < reach)
    if outline.exterior.distance(corner) > 1e-6:
        return False
    x, y = point
    around = shapely.clip_by_rect(outline, x - 0.02, y - 0.02, x + 0.02, y + 0.02)
    near = corner.buffer(0.01, quad_segs=32)
    return bool(around.intersection(near).area < near.area * 0.499)
