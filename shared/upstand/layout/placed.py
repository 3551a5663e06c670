"""Members and plates where they stand, in the axes of the mask."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import shapely
from shapely import affinity
from shapely.geometry import Point, Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from upstand.layout.model import LayoutRefusal
from upstand.quantity.traced import Traced, measured
from upstand.query.model import Member, Plate
from upstand.sections import Section, build, build_polygon
from upstand.sections.model import QUAD_SEGMENTS
from upstand.sections.near import near_groups
from upstand.telling.said import say

NOISE = 1e-9
Bounds = tuple[float, float, float, float]


def apart(a: Bounds, b: Bounds, by: float = 0.0) -> bool:
    """Whether two boxes lie farther apart than `by` along an axis."""
    return a[0] - b[2] > by or b[0] - a[2] > by or a[1] - b[3] > by or b[1] - a[3] > by


def quarter_turns(degrees: float) -> int | None:
    """Turn in right angles, or None where it is none.

    >>> quarter_turns(-90.0), quarter_turns(30.0)
    (3, None)
    """
    quarters = degrees / 90.0
    return round(quarters) % 4 if abs(quarters - round(quarters)) < NOISE else None


@dataclass(frozen=True, slots=True)
class PlacedMember:
    """A member in the mask's axes: its section, outline and bounding box (inches).

    `quarters` is its turn against the mask where that is a number of right angles, `sides` then
    the sides of its box, `centre` where that stands.
    """

    number: int
    member: Member
    section: Section
    outline: BaseGeometry
    bounds: Bounds
    quarters: int | None
    sides: tuple[Traced, Traced] | None
    centre: tuple[Traced, Traced]


@dataclass(frozen=True, slots=True)
class PlacedPlate:
    """A plate and its cover in the mask's axes (inches); `sides` where it lies along them."""

    number: int
    plate: Plate
    outline: BaseGeometry
    cover: BaseGeometry
    bounds: Bounds
    sides: tuple[Traced, Traced] | None
    centre: tuple[Traced, Traced]


def section_of(member: Member) -> Section:
    """Build the section of a member whose dimensions are settled."""
    if member.section == "polygon":
        return build_polygon(member.points)
    sizes = tuple((name, size.value) for name, size in member.dimensions.items())
    return _built(member.section, sizes)


@lru_cache(maxsize=256)
def _built(kind: str, sizes: tuple[tuple[str, float], ...]) -> Section:
    """Build a section once: details are mostly of a few sizes."""
    return build(kind, dict(sizes))


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
        # turning by turn - mask_turn about the member's centre leaves its centre to be carried
        centre = turned(Point(x, y), -mask_turn, (0.0, 0.0)) if mask_turn else Point(x, y)
        quarters = quarter_turns(turn - mask_turn)
        if section.round:
            radius = section.width_in / 2.0
            outline: BaseGeometry = disc(centre.x, centre.y, radius)
            bounds = (
                centre.x - radius,
                centre.y - radius,
                centre.x + radius,
                centre.y + radius,
            )
            quarters = 0
        else:
            outline = turned(section.polygon, turn - mask_turn, (0.0, 0.0))
            if centre.x or centre.y:
                outline = affinity.translate(outline, centre.x, centre.y)
            bounds = outline.bounds
        sides = None
        if quarters is not None and section.box is not None:
            width, depth = (member.dimensions[name] for name in section.box)
            sides = (depth, width) if quarters % 2 else (width, depth)
        here = _centre(member.at, centre, mask_turn)
        placed.append(PlacedMember(number, member, section, outline, bounds, quarters, sides, here))
    return placed


def place_plates(
    plates: Sequence[Plate],
    margin: float,
    mask_turn: float,
    members: Sequence[PlacedMember],
    base_plates: bool = False,
) -> list[PlacedPlate]:
    """Place every plate with its cover, `margin` inches past it on each side.

    Raises LayoutRefusal where a plate would lie inside a member; with `base_plates`, only where it
    holds a part of a member's outline and not the whole.
    """
    placed, clashes = [], []
    quarters = quarter_turns(-mask_turn)
    for number, plate in enumerate(plates):
        x, y = _at(plate.at)
        half_x, half_y = plate.width.value / 2.0, plate.length.value / 2.0
        outline = shapely.box(x - half_x, y - half_y, x + half_x, y + half_y)
        cover = shapely.box(
            x - half_x - margin, y - half_y - margin, x + half_x + margin, y + half_y + margin
        )
        centre = Point(x, y)
        if mask_turn:
            outline, cover, centre = (
                turned(shape, -mask_turn, (0.0, 0.0)) for shape in (outline, cover, centre)
            )
        sides = None
        if quarters is not None:
            sides = (plate.width, plate.length)
            sides = sides[::-1] if quarters % 2 else sides
        one = PlacedPlate(
            number,
            plate,
            outline,
            cover,
            cover.bounds,
            sides,
            _centre(plate.at, centre, mask_turn),
        )
        placed.append(one)
        for member in members:
            if apart(one.bounds, member.bounds):
                continue
            common = outline.intersection(member.outline).area
            if common <= 1e-6:
                continue
            if not base_plates:
                id = "plate-over-member"
            elif common < member.outline.area - 1e-6:
                id = "plate-under-part"
            else:
                continue
            told = say(id, plate=str(number + 1), member=str(member.number + 1))
            clashes.append((f"/plates/{number}", told))
    if clashes:
        raise LayoutRefusal(clashes)
    return placed


def _centre(
    at: tuple[Traced, Traced] | None, here: Point, mask_turn: float
) -> tuple[Traced, Traced]:
    if at is not None and not mask_turn:
        return at
    return (
        measured(here.x, "in", "place in the mask's axes"),
        measured(here.y, "in", "place in the mask's axes"),
    )


def filled(outlines: Sequence[BaseGeometry]) -> BaseGeometry:
    """Join outlines and fill what they enclose; what stands apart keeps its order."""
    found = []
    for group in near_groups(outlines):
        if len(group) == 1:
            found.append(outlines[group[0]])
            continue
        joined = unary_union([outlines[i] for i in group])
        found += [Polygon(part.exterior) for part in getattr(joined, "geoms", [joined])]
    if len(near_groups(found)) < len(found):
        # one that is filled held another, or they meet in a point
        return unary_union(found)
    return multipolygon(found)


def multipolygon(shapes: Sequence[BaseGeometry]) -> BaseGeometry:
    """Put shapes that don't meet in one; a single one stays as it is."""
    if len(shapes) == 1:
        return shapes[0]
    return shapely.multipolygons(shapely.get_parts(shapes))


def _at(at: tuple[Traced, Traced] | None) -> tuple[float, float]:
    return (0.0, 0.0) if at is None else (at[0].value, at[1].value)
