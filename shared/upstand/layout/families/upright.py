"""Layout family `upright`: members that come up through the roof, with plates beside them."""

from __future__ import annotations

from collections.abc import Sequence

from shapely.geometry import MultiPolygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from upstand.edition import Edition
from upstand.formulas import areas, supply
from upstand.layout.model import (
    Fleece,
    Layout,
    Masking,
    Orientation,
    Rectangle,
    Region,
    Surface,
)
from upstand.layout.pieces import PieceMaker
from upstand.layout.placed import PlacedMember, PlacedPlate, place_members, place_plates
from upstand.layout.planes import find_regions
from upstand.layout.proof import prove
from upstand.layout.splitting import lap_outside, narrowest_gap
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


def lay_out_upright(settled: Settled, edition: Edition) -> Layout:
    """Lay out members and plates: surfaces, tape, pieces; every length in inches.

    Raises LayoutRefusal where the description can't be laid out.
    """
    given = {
        name: edition.record(f"limits/{name}").value("value").traced("in") for name in PARAMETERS
    }
    flange, reveal = settled.flange, settled.reveal
    turn = settled.mask_turn.value
    members = place_members(settled.members, turn)
    plates = place_plates(settled.plates, given["plate-margin"].value, turn, members)
    regions = find_regions(members, plates, flange.value, reveal.value, turn)
    parts = [find_parts(region, members) for region in regions]
    every_part = [part for some in parts for part in some]

    masks = [_sides(region.mask) for region in regions]
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
        gap_in=_gap(members, regions),
        parameters=given,
    )
    return prove(layout, settled, members, plates)


def _sides(rectangle: Rectangle) -> tuple[Traced, Traced]:
    return (
        measured(rectangle.width, "in", "width of the rectangle"),
        measured(rectangle.length, "in", "length of the rectangle"),
    )


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
    covered: BaseGeometry = MultiPolygon()
    for plate in plates:
        substrate = str(plate.plate.substrate)
        if plate.outline.intersection(covered).area > 1e-9:
            area = measured(plate.outline.difference(covered).area, "in^2", "plate, seen part")
        else:
            area = reckon(areas.rectangle_area, width=plate.plate.width, length=plate.plate.length)
        covered = unary_union([covered, plate.outline])
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
    for region, inside in zip(regions, parts, strict=True):
        maker.covers([plates[n] for n in region.plates], region)
        width, length = _sides(region.target)
        target_area = reckon(areas.rectangle_area, width=width, length=length)
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
        rectangles = maker.base(region, inside, members)
        overlap = lap_outside(rectangles, region.outline)
        if overlap:
            laps.append(measured(overlap, "in^2", "base laps outside the outline"))
    for inside in parts:
        for part in inside:
            laps += maker.wraps(part)
    maker.patches([part for some in parts for part in some])
    pieces = maker.finished()
    net = total("fleece as laid", [_times(p.net, p.count) for p in pieces])
    cut = total(
        "fleece as cut",
        [
            _times(reckon(areas.rectangle_area, width=p.width, length=p.length), p.count)
            for p in pieces
        ],
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


def _times(area: Traced, count: int) -> Traced:
    if count == 1:
        return area
    return reckon(supply.scaled, amount=area, count=measured(float(count), "1", "pieces"))


def _gap(members: Sequence[PlacedMember], regions: Sequence[Region]) -> float | None:
    """Find the narrowest gap that hand and fleece would have to reach into [in], if any."""
    gaps = [m.section.clear_gap_in for m in members if m.section.clear_gap_in is not None]
    reach = 2.0 + 1e-6
    for region in regions:
        lone_known = len(region.members) == 1 and members[region.members[0]].section.area_formula
        if region.members and not lone_known:
            found = narrowest_gap(region.outline, reach)
            if found is not None:
                gaps.append(found)
    return min(gaps) if gaps else None
