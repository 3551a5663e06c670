"""Layout of a drain: the roof round its bowl, and the bowl down to the ring's seat."""

from __future__ import annotations

from shapely.geometry import Polygon

from upstand.edition import Edition
from upstand.formulas import areas, runs
from upstand.layout.builder import GROUND, Builder
from upstand.layout.model import (
    Ask,
    Layout,
    LayoutRefusal,
    Lying,
    Region,
    Unanswerable,
)
from upstand.layout.outlined import base_about, find_outline, lay_roof, list_roof
from upstand.layout.placed import disc
from upstand.layout.uprights import Part
from upstand.quantity.traced import Traced, reckon
from upstand.query.defaults import Settled
from upstand.telling.said import say


def lay_out_drain(settled: Settled, edition: Edition) -> Layout:
    """Lay out a drain: the roof round its bowl, and the bowl down to the tape round the seat."""
    b = Builder(settled, edition, ("drain-flange", "bonded-bowl"))
    bowl, seat, r = b.size("bowl"), b.size("seat"), b.reveal
    _sense(b, bowl, seat)
    metal = reckon(runs.bonded_metal, bowl=bowl, seat=seat, reveal=r)
    least = b.given["bonded-bowl"]
    if metal.value <= 1e-9:
        raise Unanswerable(Ask("bowl-too-narrow", "product-maker", found=metal, least=least))
    if metal.value < least.value - 1e-9:
        b.asks.append(Ask("bowl-narrow", "product-maker", found=metal, least=least))
    flange = _flange(b, bowl)
    inner = b.plus(seat, b.times(r, 2.0, "both sides of the ring"))
    outer = b.plus(bowl, b.times(b.lap, 2.0, "past the bowl, both sides"))
    outline = find_outline(b, "pipe", {"od": bowl}, flange, "bowl")

    def cut(region: Region, part: Part, face: str) -> None:
        target = b.rectangle(region.width, region.length)
        hole = reckon(runs.ring_area, outside=inner, inside=b.times(inner, 0.0, "no ring"))
        b.zone.append(reckon(areas.difference, whole=target, part=hole))
        ring = reckon(runs.ring_area, outside=outer, inside=inner)
        edge, bare = part.outline, disc(0.0, 0.0, inner.value / 2.0)
        _bowl(b, outer, ring, edge, bare)
        base_about(b, outline, face)
        b.face(
            face, "roof", "flat", region.mask.sheet(), region.target.sheet(), GROUND,
            opening=edge,
        )  # fmt: skip
        sheet = _ring(edge, disc(0.0, 0.0, seat.value / 2.0))
        zone = _ring(edge, bare)
        b.face("bowl", "bowl", "flat", sheet, zone, GROUND, edge_held=True)

    inside = lay_roof(b, outline, cut)
    roof = reckon(areas.flat_area, mask_area=inside, outline_area=outline.part.area)
    list_roof(b, roof, outline.plates)
    b.surface("bowl", "bowl", "flat", reckon(runs.ring_area, outside=bowl, inside=seat))
    b.tape.append(reckon(runs.ring_tape, diameter=seat))
    b.facts["bonded-bowl"] = metal
    return b.layout("opening", line_height=None)


def _sense(b: Builder, bowl: Traced, seat: Traced) -> None:
    faults = []
    if seat.value >= bowl.value - 1e-9:
        faults.append(
            (
                "/seat",
                say("seat-over-bowl", value=f"{seat.value:g} in", most=f"{bowl.value:g} in"),
            )
        )
    sump = b.sizes.get("sump")
    if sump is not None and sump.value < bowl.value - 1e-9:
        faults.append(
            (
                "/sump",
                say("sump-under-bowl", value=f"{sump.value:g} in", least=f"{bowl.value:g} in"),
            )
        )
    if faults:
        raise LayoutRefusal(faults)


def _flange(b: Builder, bowl: Traced) -> Traced:
    """How far fleece reaches past the bowl: as asked, else the usual or to the sump's edge."""
    usual, least = b.given["drain-flange"], b.lap
    sump = b.sizes.get("sump")
    here = usual
    if sump is not None:
        here = reckon(runs.drain_flange, usual=usual, sump=sump, bowl=bowl)
    given = b.sizes.get("flange")
    if given is None or "flange" not in b.settled.query.sizes:
        if here.value < least.value - 1e-9:
            raise Unanswerable(Ask("sump-too-small", "roof-designer", found=here, least=least))
        b.sizes["flange"] = here
        return here
    if given.value < here.value - 1e-9:
        b.asks.append(Ask("drain-flange-short", "product-maker", found=given, least=here))
    elif sump is not None and given.value > here.value + 1e-9 and here.value < usual.value:
        b.asks.append(Ask("flange-past-sump", "roof-designer", "confirm", found=given, least=here))
    return given


def _bowl(b: Builder, outer: Traced, ring: Traced, edge: Polygon, hole: Polygon) -> None:
    """Cut the bowl's piece: a ring from the seat's reveal to past the bowl's edge."""
    whole = disc(0.0, 0.0, outer.value / 2.0)
    b.pieces.add(
        "bowl",
        outer,
        outer,
        net=ring,
        lies=[
            Lying("roof-1", _ring(whole, edge)),
            Lying("bowl", _ring(edge, hole)),
        ],
        shape=_ring(whole, hole),
    )
    b.net.append(ring)
    b.cut.append(b.rectangle(outer, outer))


def _ring(outer: Polygon, inner: Polygon) -> Polygon:
    """Draw what lies between two discs about one middle."""
    return Polygon(outer.exterior, [inner.exterior])
