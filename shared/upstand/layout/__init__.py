"""Layouts: where surfaces, tape and fleece of a detail lie. One function a layout family."""

from __future__ import annotations

from collections.abc import Callable

from shapely.errors import GEOSException

from upstand.edition import Edition
from upstand.layout.families.upright import lay_out_upright
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
)
from upstand.layout.no_geometry import list_surfaces
from upstand.query.defaults import Settled

FAMILIES: dict[str, Callable[[Settled, Edition], Layout]] = {
    "upright": lay_out_upright,
    "cluster": lay_out_upright,
}
#: A base plate lies under its leg, which the cluster's plates can't describe yet.
NOT_BUILT = frozenset({"support"})


def touches_hazard(settled: Settled, edition: Edition) -> bool:
    """Whether a surface is of a material that nobody may work on before it is tested."""
    used = [settled.roof.id, *(m.substrate for m in settled.members)]
    used += [str(p.substrate) for p in settled.plates]
    used += [other.substrate for other in settled.query.surfaces]
    return any(edition.record(f"substrates/{s}").get("family") == "hazardous" for s in used)


def lay_out(settled: Settled, edition: Edition) -> Layout:
    """Lay out a detail by the family its record names.

    Families whose geometry is not built give their surfaces without areas (`built` is False), and
    so does a detail with a hazardous surface: there the answer is to stop, not a quantity.
    Raises LayoutRefusal where the description can't be laid out.
    """
    family = str(settled.detail.get("family"))
    if touches_hazard(settled, edition):
        return list_surfaces(settled, edition, "no-quantity-hazard")
    if settled.detail.id in NOT_BUILT:
        return list_surfaces(settled, edition)
    try:
        return FAMILIES.get(family, list_surfaces)(settled, edition)
    except GEOSException:
        say = "can't be drawn as described: check the outlines for splinters and crossing sides"
        raise LayoutRefusal([("/members", say)]) from None


__all__ = [
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
