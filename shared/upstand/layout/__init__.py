"""Layouts: where surfaces, tape and fleece of a detail lie. One function a layout family."""

from __future__ import annotations

from collections.abc import Callable

from upstand.layout.model import (
    Fleece,
    Layout,
    LayoutRefusal,
    Masking,
    Piece,
    Rectangle,
    Region,
    Surface,
)
from upstand.layout.unbuilt import list_surfaces
from upstand.layout.upright import lay_out_upright
from upstand.query.settle import Settled
from upstand.spec import Edition

FAMILIES: dict[str, Callable[[Settled, Edition], Layout]] = {"upright": lay_out_upright}


def lay_out(settled: Settled, edition: Edition) -> Layout:
    """Lay out a detail by the family its record names.

    Families whose geometry is not built give their surfaces without areas (`built` is False).
    Raises LayoutRefusal where the description can't be laid out.
    """
    family = str(settled.detail.get("family"))
    return FAMILIES.get(family, list_surfaces)(settled, edition)


__all__ = [
    "FAMILIES",
    "Fleece",
    "Layout",
    "LayoutRefusal",
    "Masking",
    "Piece",
    "Rectangle",
    "Region",
    "Surface",
    "lay_out",
]
