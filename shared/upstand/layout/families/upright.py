"""Layout family `upright`: members that come up through the roof, with plates beside them."""

from __future__ import annotations

import math
from collections.abc import Sequence

import shapely

from upstand.edition import Edition
from upstand.formulas import areas, supply
from upstand.layout.builder import GROUND
from upstand.layout.gaps import find_gap
from upstand.layout.model import (
    Ask,
    Face,
    Fleece,
    Layout,
    Masking,
    Orientation,
    Piece,
    Region,
    Surface,
)
from upstand.layout.outlined import plate_surfaces
from upstand.layout.parameters import read_parameter, read_parameters
from upstand.layout.pieces import Pieces
from upstand.layout.pieces_round import ORDER, PieceMaker
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
#: An outline from here on is mostly a curb [in].
LARGE = 12.0


def lay_out_upright(
    settled: Settled, edition: Edition, base_plates: bool = False, covered: bool = False
) -> Layout:
    """Lay out members and plates: surfaces, tape, pieces; every length in inches.

    With `base_plates` a plate may hold a member; `covered` ones are closed on top and have no
    tape of their own. Raises LayoutRefusal where the description can't be laid out.
    """
    given = read_parameters(edition, PARAMETERS)
    flange, reveal = settled.flange, settled.reveal
    turn = settled.mask_turn.value
    members = place_members(settled.members, turn)
    margin = given["plate-margin"]
    plates = place_plates(settled.plates, margin.value, turn, members, base_plates)
    under = _under(plates, members) if base_plates else []
    regions = find_regions(members, plates, flange, margin, reveal.value, turn, under)
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
    surfaces = _surfaces(settled, members, plates, every_part, flat, covered)
    top = [s for s in surfaces if s.role == "part"]
    caps = _caps(settled, edition, len(under)) if base_plates else None
    fleece = _fleece(settled, edition, given, regions, parts, members, plates, top, caps)
    upright = [s.area for s in surfaces if s.orientation == "upright" and s.area is not None]
    upright += [s.area for s in top if s.area is not None]
    drafts = [given["tape-corner-overlap"]] * (4 * len(regions))
    layout = Layout(
        family="upright",
        built=True,
        surfaces=surfaces,
        regions=regions,
        masking=Masking(
            tape=mask_perimeter
            if covered
            else reckon(areas.tape_length, mask_perimeter=mask_perimeter, girth=girth),
            corners=total("tape overlaps at corners", drafts),
            flat=tuple(masks),
            line_height=None
            if covered
            else reckon(areas.line_height, height=settled.height, reveal=reveal),
        ),
        fleece=fleece,
        coated=total("area coated, out to the tape", [flat, *upright]),
        girth=girth,
        gap_in=find_gap(members, every_part),
        faces=_faces(settled, regions, parts, covered),
        asks=_large(settled, members, every_part),
        sizes=dict(settled.sizes),
        parameters=given,
    )
    return prove(layout, settled, members, plates)


def _faces(
    settled: Settled,
    regions: Sequence[Region],
    parts: Sequence[Sequence[Part]],
    covered: bool,
) -> tuple[Face, ...]:
    """Draw the faces: each masked rectangle on the roof, and each upright unrolled."""
    height = settled.height.value
    reveal = 0.0 if covered else settled.reveal.value
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
                    () if covered else (line,),
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
    covered: bool,
) -> tuple[Surface, ...]:
    """List the surfaces: the roof less its plates, each plate, each member up to the tape."""
    listed = plate_surfaces(plates, members)
    roof = flat
    if listed:
        taken = total("plates", [s.area for s in listed if s.area is not None])
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
            reckon(areas.rectangle_area, width=girths[m.number], length=settled.height)
            if covered
            else reckon(
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
        *listed,
        *member_surfaces,
        *(_tops(parts, members) if covered else ()),
    )


def _tops(parts: Sequence[Part], members: Sequence[PlacedMember]) -> list[Surface]:
    """List what is closed on top: one surface for each outline, of its first member's material."""
    found = []
    for number, part in enumerate(parts, 1):
        id = "top" if len(parts) == 1 else f"top-{number}"
        substrate = members[part.members[0]].member.substrate
        found.append(Surface(id, "part", number, substrate, "flat", part.area))
    return found


def _under(plates: Sequence[PlacedPlate], members: Sequence[PlacedMember]) -> list[int]:
    """Find the base plates: those that hold a member's whole outline."""
    return [
        p.number
        for p in plates
        if any(
            not apart(p.bounds, m.bounds)
            and p.outline.intersection(m.outline).area > m.outline.area - 1e-6
            for m in members
        )
    ]


def _caps(settled: Settled, edition: Edition, plates: int) -> tuple[Traced, int]:
    """Size and count of the caps over anchors: as said, else the usual for each base plate."""
    usual = read_parameter(edition, "anchors", "1").value * plates
    count = int(settled.choices.get("anchors", usual))
    return read_parameter(edition, "anchor-cap"), count


def _large(
    settled: Settled, members: Sequence[PlacedMember], parts: Sequence[Part]
) -> tuple[Ask, ...]:
    """Have a large outline confirmed: what is box-like and as wide as that is mostly a curb.

    Of an open section both sides count, since its depth alone makes no box of it.
    """
    if settled.detail.id != "post":
        return ()
    for part in parts:
        sides = _sides(part, members)
        kind = members[part.members[0]].section.kind
        open_ = len(part.members) == 1 and kind in ("angle", "channel", "i-section", "tee")
        side = (min if open_ else max)(sides, key=lambda s: s.value)
        if side.value >= LARGE - 1e-9:
            return (Ask("large-outline", "crew-lead", "confirm", found=side),)
    return ()


def _sides(part: Part, members: Sequence[PlacedMember]) -> list[Traced]:
    """Return the sides of the smallest rectangle round an outline, however it is turned."""
    if len(part.members) == 1:
        member = members[part.members[0]]
        if member.section.box is not None:
            return [member.member.dimensions[name] for name in member.section.box]
    corners = part.outline.minimum_rotated_rectangle.exterior.coords
    return [measured(math.dist(*corners[n : n + 2]), "in", "outline as drawn") for n in (0, 1)]


def _fleece(
    settled: Settled,
    edition: Edition,
    given: dict[str, Traced],
    regions: Sequence[Region],
    parts: Sequence[Sequence[Part]],
    members: Sequence[PlacedMember],
    plates: Sequence[PlacedPlate],
    tops: Sequence[Surface],
    caps: tuple[Traced, int] | None,
) -> Fleece:
    maker = PieceMaker(Pieces(settled, edition, given), settled)
    if caps is not None and caps[1]:
        maker.caps(*caps)
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
    if tops:
        zones += [s.area for s in tops if s.area is not None]
        maker.tops([part for some in parts for part in some], members)
    pieces = maker.pieces.finished(ORDER)
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
