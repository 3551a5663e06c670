"""Layout family `upright`: members that come up through the roof, with plates beside them."""

from __future__ import annotations

from collections.abc import Sequence

import shapely
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from upstand.edition import Edition
from upstand.formulas import areas, supply
from upstand.layout.model import (
    Face,
    Fleece,
    Frame,
    Layout,
    Masking,
    Orientation,
    Piece,
    Region,
    Surface,
)
from upstand.layout.parameters import read_parameters
from upstand.layout.pieces import PieceMaker
from upstand.layout.placed import (
    PlacedMember,
    PlacedPlate,
    apart,
    place_members,
    place_plates,
    turned,
)
from upstand.layout.planes import find_regions
from upstand.layout.proof import prove
from upstand.layout.splitting import narrowest_gap
from upstand.layout.uprights import Part, find_parts
from upstand.quantity.traced import Traced, measured, reckon, total
from upstand.query.defaults import Settled

PARAMETERS = (
    "plate-margin",
    "fleece-lap",
    "turn-up",
    "corner-patch",
    "corner-sharing",
    "fleece-to-tape",
    "tape-corner-overlap",
)
GROUND = Frame((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0))


def lay_out_upright(settled: Settled, edition: Edition) -> Layout:
    """Lay out members and plates: surfaces, tape, pieces; every length in inches.

    Raises LayoutRefusal where the description can't be laid out.
    """
    given = read_parameters(edition, PARAMETERS)
    flange, reveal = settled.flange, settled.reveal
    turn = settled.mask_turn.value
    members = place_members(settled.members, turn)
    plates = place_plates(settled.plates, given["plate-margin"].value, turn, members)
    regions = find_regions(members, plates, flange, given["plate-margin"], reveal.value, turn)
    parts = [find_parts(region, members) for region in regions]
    every_part = [part for some in parts for part in some]

    masks = [
        (
            reckon(areas.grown_side, side=region.width, margin=reveal),
            reckon(areas.grown_side, side=region.length, margin=reveal),
        )
        for region in regions
    ]
    mask_area = total(
        "mask area", [reckon(areas.rectangle_area, width=w, length=h) for w, h in masks]
    )
    mask_perimeter = total(
        "mask perimeter", [reckon(areas.rectangle_perimeter, width=w, length=h) for w, h in masks]
    )
    outline_area = _sum("outline area", "in^2", [part.area for part in every_part])
    girth = _sum("girth", "in", [part.girth for part in every_part])
    flat = reckon(areas.flat_area, mask_area=mask_area, outline_area=outline_area)
    surfaces = _surfaces(settled, members, plates, every_part, flat)

    fleece = _fleece(settled, edition, given, regions, parts, members, plates)
    upright = [s.area for s in surfaces if s.orientation == "upright" and s.area is not None]
    drafts = [given["tape-corner-overlap"]] * (4 * len(regions))
    layout = Layout(
        family="upright",
        built=True,
        surfaces=surfaces,
        regions=regions,
        masking=Masking(
            tape=reckon(areas.tape_length, mask_perimeter=mask_perimeter, girth=girth),
            corners=total("tape overlaps at corners", drafts),
            flat=tuple(masks),
            line_height=reckon(areas.line_height, height=settled.height, reveal=reveal),
        ),
        fleece=fleece,
        coated=total("area coated, out to the tape", [flat, *upright]),
        girth=girth,
        gap_in=_gap(members, parts),
        faces=_faces(settled, regions, parts, members),
        parameters=given,
    )
    return prove(layout, settled, members, plates)


def _faces(
    settled: Settled,
    regions: Sequence[Region],
    parts: Sequence[Sequence[Part]],
    members: Sequence[PlacedMember],
) -> tuple[Face, ...]:
    """Draw the faces: each masked rectangle on the roof, and each upright unrolled."""
    height, reveal = settled.height.value, settled.reveal.value
    found = []
    uprights = 0
    for number, (region, inside) in enumerate(zip(regions, parts, strict=True), 1):
        sheet, zone = (
            turned(r.sheet(), region.turn_deg, (0.0, 0.0)) for r in (region.mask, region.target)
        )
        found.append(
            Face(
                f"roof-{number}",
                "roof",
                "flat",
                sheet,
                zone,
                (sheet.exterior,),
                region.outline if inside else None,
                frame=GROUND,
            )
        )
        for part in inside:
            uprights += 1
            round_it = part.girth.value
            sheet = shapely.box(0.0, 0.0, round_it, height + reveal)
            line = shapely.linestrings([(0.0, height + reveal), (round_it, height + reveal)])
            found.append(
                Face(
                    f"upright-{uprights}",
                    f"member-{part.members[0] + 1}",
                    "upright",
                    sheet,
                    shapely.box(0.0, 0.0, round_it, height),
                    (line,),
                    unrolled=True,
                )
            )
    return tuple(found)


def _sum(name: str, unit: str, parts: Sequence[Traced]) -> Traced:
    return total(name, parts) if parts else measured(0.0, unit, name)


def _surfaces(
    settled: Settled,
    members: Sequence[PlacedMember],
    plates: Sequence[PlacedPlate],
    parts: Sequence[Part],
    flat: Traced,
) -> tuple[Surface, ...]:
    """List the surfaces: the roof less its plates, each plate, each member up to the tape."""
    plate_surfaces = []
    earlier: list[PlacedPlate] = []
    for plate in plates:
        substrate = str(plate.plate.substrate)
        over = [p.outline for p in earlier if not apart(p.bounds, plate.bounds)]
        seen = plate.outline.difference(unary_union(over)).area if over else None
        if seen is not None and plate.outline.area - seen > 1e-9:
            area = measured(seen, "in^2", "plate, seen part")
        else:
            area = reckon(areas.rectangle_area, width=plate.plate.width, length=plate.plate.length)
        earlier.append(plate)
        number = plate.number + 1
        plate_surfaces.append(Surface(f"plate-{number}", "plate", number, substrate, "flat", area))
    roof = flat
    if plate_surfaces:
        taken = total("plates", [s.area for s in plate_surfaces if s.area is not None])
        roof = reckon(areas.difference, whole=flat, part=taken)
    girths = {number: girth for part in parts for number, girth in part.girth_of.items()}
    up: Orientation = "upright"
    member_surfaces = [
        Surface(
            f"member-{m.number + 1}",
            "member",
            m.number + 1,
            m.member.substrate,
            up,
            reckon(
                areas.upright_area,
                girth=girths[m.number],
                height=settled.height,
                reveal=settled.reveal,
            ),
        )
        for m in members
        if m.number in girths
    ]
    return (
        Surface("roof", "roof", 1, settled.roof.id, "flat", roof),
        *plate_surfaces,
        *member_surfaces,
    )


def _fleece(
    settled: Settled,
    edition: Edition,
    given: dict[str, Traced],
    regions: Sequence[Region],
    parts: Sequence[Sequence[Part]],
    members: Sequence[PlacedMember],
    plates: Sequence[PlacedPlate],
) -> Fleece:
    maker = PieceMaker(settled, edition, given)
    zones = []
    laps: list[Traced] = []
    for number, (region, inside) in enumerate(zip(regions, parts, strict=True), 1):
        face = f"roof-{number}"
        maker.covers([plates[n] for n in region.plates], region, inside, face)
        target_area = reckon(areas.rectangle_area, width=region.width, length=region.length)
        if not region.members:
            zones.append(target_area)
        else:
            zones.append(
                reckon(
                    areas.zone_area,
                    target_area=target_area,
                    outline_area=_sum("outline area", "in^2", [p.area for p in inside]),
                    girth=_sum("girth", "in", [p.girth for p in inside]),
                    height=settled.height,
                )
            )
        laps += maker.base(region, inside, members, face)
    for inside in parts:
        for part in inside:
            laps += maker.wraps(part)
    maker.patches([part for some in parts for part in some])
    pieces = maker.finished()
    net = total("fleece as laid", [_times(p.net, p) for p in pieces])
    cut = total(
        "fleece as cut",
        [_times(reckon(areas.rectangle_area, width=p.width, length=p.length), p) for p in pieces],
    )
    zone = total("zone", zones)
    return Fleece(
        pieces=pieces,
        zone=zone,
        net=net,
        cut=cut,
        lap_area=_sum("laps", "in^2", laps),
        extra=reckon(areas.difference, whole=net, part=zone),
    )


def _times(area: Traced, piece: Piece) -> Traced:
    if piece.count == 1:
        return area
    return reckon(supply.scaled, amount=area, count=measured(float(piece.count), "1", "pieces"))


def _gap(members: Sequence[PlacedMember], parts: Sequence[Sequence[Part]]) -> float | None:
    """Find the narrowest gap that hand and fleece would have to reach into [in], if any."""
    gaps = [m.section.clear_gap_in for m in members if m.section.clear_gap_in is not None]
    reach = 2.0 + 1e-6
    for inside in parts:
        for outline in _close(inside, members, reach):
            found = narrowest_gap(outline, reach)
            if found is not None:
                gaps.append(found)
    return min(gaps) if gaps else None


def _close(
    parts: Sequence[Part], members: Sequence[PlacedMember], reach: float
) -> list[BaseGeometry]:
    """Join the outlines near one another; a known section far from the rest has no gap to find."""
    groups: list[list[Part]] = []
    # grown by half the reach, a sharp corner runs out up to ten times as far
    far = 11.0 * reach
    for part in parts:
        bounds = part.outline.bounds
        joined, others = [part], []
        for group in groups:
            if all(apart(bounds, other.outline.bounds, far) for other in group):
                others.append(group)
            else:
                joined += group
        groups = [*others, joined]
    return [
        unary_union([part.outline for part in group])
        for group in groups
        if len(group) > 1 or not _known(group[0], members)
    ]


def _known(part: Part, members: Sequence[PlacedMember]) -> bool:
    """Whether an outline is one section whose gap its dimensions tell."""
    return len(part.members) == 1 and members[part.members[0]].section.area_formula is not None
