"""Members and plates where they stand, in the axes of the mask."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from shapely import affinity
from shapely.geometry import Point, Polygon, box
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from upstand.layout.model import LayoutRefusal
from upstand.query.model import Member, Plate
from upstand.sections import Section, build, build_polygon
from upstand.sections.model import QUAD_SEGMENTS

NOISE = 1e-9


@dataclass(frozen=True, slots=True)
class PlacedMember:
    """A member in the mask's axes: its section, outline and bounding box (inches)."""

    number: int
    member: Member
    section: Section
    outline: BaseGeometry
    bounds: tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class PlacedPlate:
    """A plate and its cover in the mask's axes (inches)."""

    number: int
    plate: Plate
    outline: BaseGeometry
    cover: BaseGeometry


def section_of(member: Member) -> Section:
    """Build the section of a member whose dimensions are settled."""
    if member.section == "polygon":
        return build_polygon(member.points)
    return build(member.section, {name: t.value for name, t in member.dimensions.items()})


def turned(geometry: BaseGeometry, degrees: float, origin: tuple[float, float]) -> BaseGeometry:
    """Turn counter-clockwise; quarter turns are exact."""
    degrees = math.fmod(degrees, 360.0)
    if abs(degrees) < NOISE:
        return geometry
    quarters = degrees / 90.0
    if abs(quarters - round(quarters)) < NOISE:
        cos, sin = ((1, 0), (0, 1), (-1, 0), (0, -1))[round(quarters) % 4]
        ox, oy = origin
        return affinity.affine_transform(
            geometry,
            [cos, -sin, sin, cos, ox - cos * ox + sin * oy, oy - sin * ox - cos * oy],
        )
    return affinity.rotate(geometry, degrees, origin=origin)


def disc(x: float, y: float, radius: float) -> Polygon:
    """Draw a circle as a polygon of exactly the circle's area."""
    sides = 4 * QUAD_SEGMENTS
    step = 2.0 * math.pi / sides
    return Point(x, y).buffer(radius * math.sqrt(step / math.sin(step)), quad_segs=QUAD_SEGMENTS)


def place_members(members: Sequence[Member], mask_turn: float) -> list[PlacedMember]:
    """Place every member; the result is in the mask's axes."""
    placed = []
    for number, member in enumerate(members):
        section = section_of(member)
        x, y = _at(member.at)
        turn = member.turn.value if member.turn else 0.0
        if section.round:
            centre = turned(Point(x, y), -mask_turn, (0.0, 0.0))
            radius = section.width_in / 2.0
            outline: BaseGeometry = disc(centre.x, centre.y, radius)
            bounds = (
                centre.x - radius,
                centre.y - radius,
                centre.x + radius,
                centre.y + radius,
            )
        else:
            here = turned(affinity.translate(section.polygon, x, y), turn - mask_turn, (x, y))
            # turning by turn - mask_turn about the member's centre leaves its centre to be carried
            centre = turned(Point(x, y), -mask_turn, (0.0, 0.0))
            outline = affinity.translate(here, centre.x - x, centre.y - y)
            bounds = outline.bounds
        placed.append(PlacedMember(number, member, section, outline, bounds))
    return placed


def place_plates(
    plates: Sequence[Plate], margin: float, mask_turn: float, members: Sequence[PlacedMember]
) -> list[PlacedPlate]:
    """Place every plate with its cover, `margin` inches past it on each side.

    Raises LayoutRefusal where a plate would lie inside a member.
    """
    placed, clashes = [], []
    for number, plate in enumerate(plates):
        x, y = _at(plate.at)
        half_x, half_y = plate.width.value / 2.0, plate.length.value / 2.0
        outline = box(x - half_x, y - half_y, x + half_x, y + half_y)
        cover = box(
            x - half_x - margin, y - half_y - margin, x + half_x + margin, y + half_y + margin
        )
        outline = turned(outline, -mask_turn, (0.0, 0.0))
        placed.append(PlacedPlate(number, plate, outline, turned(cover, -mask_turn, (0.0, 0.0))))
        for member in members:
            if outline.intersection(member.outline).area > 1e-6:
                clashes.append(
                    (
                        f"/plates/{number}",
                        f"plate {number + 1} overlaps member {member.number + 1}: a plate lies "
                        "beside the penetration; check where both stand (`at` is the centre)",
                    )
                )
    if clashes:
        raise LayoutRefusal(clashes)
    return placed


def filled(outlines: Sequence[BaseGeometry]) -> BaseGeometry:
    """Join outlines and fill what they enclose."""
    joined = unary_union(list(outlines))
    parts = getattr(joined, "geoms", [joined])
    return unary_union([Polygon(part.exterior) for part in parts])


def _at(at: tuple[object, object] | None) -> tuple[float, float]:
    if at is None:
        return (0.0, 0.0)
    return (float(at[0].value), float(at[1].value))  # type: ignore[attr-defined]
