"""What a curb, a drain and a patch share with an upright: a masked rectangle round an outline."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from upstand.formulas import areas
from upstand.layout.builder import GROUND, Builder
from upstand.layout.model import LayoutRefusal, Lying, Region, Surface
from upstand.layout.pieces_round import PieceMaker
from upstand.layout.placed import (
    PlacedMember,
    PlacedPlate,
    apart,
    place_members,
    place_plates,
    turned,
)
from upstand.layout.planes import find_regions
from upstand.layout.uprights import Part, find_parts, section_figures
from upstand.quantity.traced import Traced, measured, reckon
from upstand.query.model import Member
from upstand.telling.said import say

#: Cuts the pieces of the rectangle round the outline; what each face is called is given.
Cut = Callable[[Region, Part, str], None]


@dataclass(frozen=True, slots=True)
class Outline:
    """The outline and what lies round it, in the roof's axes."""

    member: PlacedMember
    part: Part
    plates: Sequence[PlacedPlate]
    region: Region
    islands: Sequence[Region]


def plate_surfaces(
    plates: Sequence[PlacedPlate], members: Sequence[PlacedMember] = ()
) -> list[Surface]:
    """List the plates as surfaces, each less what an earlier one or a leg on it covers of it."""
    found = []
    earlier: list[PlacedPlate] = []
    for plate in plates:
        rest = plate.outline
        for other in reversed(earlier):
            if rest.area and not apart(other.bounds, plate.bounds):
                rest = rest.difference(other.outline)
        if plate.outline.area - rest.area > 1e-9:
            area = measured(rest.area, "in^2", "plate, seen part")
        else:
            area = reckon(areas.rectangle_area, width=plate.plate.width, length=plate.plate.length)
        earlier.append(plate)
        for member in members:
            if apart(plate.bounds, member.bounds):
                continue
            if plate.outline.intersection(member.outline).area > 1e-6:
                leg = section_figures(member)[1]
                area = reckon(areas.difference, whole=area, part=leg)
        number = plate.number + 1
        found.append(
            Surface(f"plate-{number}", "plate", number, str(plate.plate.substrate), "flat", area)
        )
    return found


def find_outline(
    b: Builder, section: str, sizes: dict[str, Traced], flange: Traced, part: str | None
) -> Outline:
    """Place an outline at the origin, and mask it and the plates.

    `part` is what a plate may not lie in; None where it may.
    """
    substrate = b.settled.parts.get(part or "") or b.settled.roof.id
    members = place_members([Member(section, sizes, substrate)], 0.0)
    margin = b.given["plate-margin"]
    try:
        plates = place_plates(b.settled.plates, margin.value, 0.0, members if part else [])
    except LayoutRefusal as refusal:
        raise LayoutRefusal(
            [(f"{where}/at", say("plate-in-part", part=part or "")) for where, _ in refusal.reasons]
        ) from None
    regions = find_regions(members, plates, flange, margin, b.reveal.value, 0.0)
    region = next(r for r in regions if r.members)
    (found,) = find_parts(region, members)
    return Outline(members[0], found, plates, region, [r for r in regions if r is not region])


def lay_roof(b: Builder, outline: Outline, cut: Cut, *, hole: bool = True) -> Traced:
    """Mask, target, covers and pieces on the roof; returns the area within the tape.

    With `hole` the outline is taken out of the fleece; what it is taken out of is the caller's.
    """
    maker = PieceMaker(b.pieces, b.settled)
    parts = [outline.part] if hole else []
    inside: list[Traced] = []
    for number, region in enumerate([outline.region, *outline.islands], 1):
        own = region is outline.region
        face = f"roof-{number}"
        here = parts if own else []
        b.drawn += [Lying(face, outline.plates[n].outline) for n in region.plates]
        before = len(b.pieces.made)
        maker.covers([outline.plates[n] for n in region.plates], region, here, face)
        b.counted(before)
        width, length = (
            reckon(areas.grown_side, side=side, margin=b.reveal)
            for side in (region.width, region.length)
        )
        b.flat.append((width, length))
        inside.append(b.rectangle(width, length))
        b.tape.append(reckon(areas.rectangle_perimeter, width=width, length=length))
        b.corners += 4
        target = b.rectangle(region.width, region.length)
        if own:
            cut(region, outline.part, face)
        else:
            before = len(b.pieces.made)
            b.laps += maker.base(region, [], [], face)
            b.counted(before)
            b.zone.append(target)
        sheet, zone = (
            turned(r.sheet(), region.turn_deg, (0.0, 0.0)) for r in (region.mask, region.target)
        )
        if not own or not hole:
            b.face(face, "roof", "flat", sheet, zone, GROUND)
    return b.plus(*inside)


def base_about(b: Builder, outline: Outline, face: str, longest: Traced | None = None) -> None:
    """Split the target about the outline, which the pieces are cut round."""
    before = len(b.pieces.made)
    none = b.times(b.given["turn-up"], 0.0, "no turn-up")
    b.laps += PieceMaker(b.pieces, b.settled).base(
        outline.region, [outline.part], [outline.member], face, turn_up=none, longest=longest
    )
    b.counted(before)


def list_roof(b: Builder, area: Traced, plates: Sequence[PlacedPlate]) -> None:
    """List the roof, its plates taken out, and the plates."""
    surfaces = plate_surfaces(plates)
    taken = [s.area for s in surfaces if s.area is not None]
    if taken:
        area = reckon(areas.difference, whole=area, part=b.plus(*taken))
    b.ground(area)
    b.surfaces[1:1] = surfaces
