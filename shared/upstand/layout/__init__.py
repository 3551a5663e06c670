"""Layouts: where surfaces, tape and fleece of a detail lie. One function a layout family."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from shapely.errors import GEOSException

from upstand.edition import Edition
from upstand.layout.families.corner import lay_out_corner
from upstand.layout.families.curb import lay_out_curb
from upstand.layout.families.drain import lay_out_drain
from upstand.layout.families.scupper import lay_out_scupper
from upstand.layout.families.strip import (
    lay_out_crack,
    lay_out_metal_joint,
    lay_out_patch,
    lay_out_tie_in,
)
from upstand.layout.families.support import lay_out_support
from upstand.layout.families.threshold import lay_out_threshold
from upstand.layout.families.upright import lay_out_upright
from upstand.layout.families.wall_base import lay_out_wall_base
from upstand.layout.model import (
    Ask,
    Face,
    Fault,
    Fleece,
    Layout,
    LayoutRefusal,
    Masking,
    Piece,
    Rectangle,
    Region,
    Surface,
    Unanswerable,
)
from upstand.layout.no_geometry import list_surfaces
from upstand.query.defaults import Settled
from upstand.telling.said import say

Lay = Callable[[Settled, Edition], Layout]

FAMILIES: dict[str, Lay] = {"upright": lay_out_upright, "cluster": lay_out_upright}
DETAILS: dict[str, Lay] = {
    "wall-base": lay_out_wall_base,
    "threshold": lay_out_threshold,
    "corner": lay_out_corner,
    "curb": lay_out_curb,
    "drain": lay_out_drain,
    "scupper": lay_out_scupper,
    "crack": lay_out_crack,
    "metal-joint": lay_out_metal_joint,
    "tie-in": lay_out_tie_in,
    "patch": lay_out_patch,
    "support": lay_out_support,
}


def touches_hazard(settled: Settled, edition: Edition) -> bool:
    """Whether a surface is of a material that nobody may work on before it is tested."""
    used = [settled.roof.id, *(m.substrate for m in settled.members), *settled.parts.values()]
    used += [plate.substrate for plate in settled.plates]
    used += [other.substrate for other in settled.query.surfaces]
    return any(_hazardous(substrate, edition) for substrate in used)


def _hazardous(substrate: str | None, edition: Edition) -> bool:
    path = f"substrates/{substrate}"
    return edition.has(path) and edition.record(path).get("family") == "hazardous"


def lay_out(settled: Settled, edition: Edition) -> Layout:
    """Lay out a detail by its record's family.

    A detail without geometry, one with a hazardous surface (there the answer is to stop: that
    surface alone is listed) and one of which a size is missing give their surfaces without areas.
    Raises LayoutRefusal where the description can't be laid out.
    """
    if touches_hazard(settled, edition):
        found = list_surfaces(settled, edition, "no-quantity-hazard")
        stops = tuple(s for s in found.surfaces if _hazardous(s.substrate, edition))
        return replace(found, surfaces=stops)
    if settled.missing:
        asks = tuple(Ask("size-missing", "crew-lead", name=name) for name in settled.missing)
        return list_surfaces(settled, edition, "no-quantity-ask", asks)
    family = str(settled.detail.get("family"))
    lay = DETAILS.get(settled.detail.id) or FAMILIES.get(family)
    if lay is None:
        return list_surfaces(settled, edition)
    try:
        return lay(settled, edition)
    except Unanswerable as stop:
        return list_surfaces(settled, edition, "no-quantity-ask", stop.asks)
    except GEOSException:
        raise LayoutRefusal([("/members", say("cannot-be-drawn"))]) from None


__all__ = [
    "DETAILS",
    "FAMILIES",
    "Ask",
    "Face",
    "Fault",
    "Fleece",
    "Layout",
    "LayoutRefusal",
    "Masking",
    "Piece",
    "Rectangle",
    "Region",
    "Surface",
    "lay_out",
    "touches_hazard",
]
