"""For families whose geometry is not computed: the surfaces, without areas."""

from __future__ import annotations

from upstand.edition import Edition
from upstand.layout.model import Layout, Surface
from upstand.query.defaults import Settled


def list_surfaces(settled: Settled, edition: Edition, why: str = "geometry-not-built") -> Layout:
    """List the surfaces that the description names; every area is None, `why` says why."""
    surfaces = [Surface("roof", "roof", 1, settled.roof.id, "flat", None)]
    surfaces += [
        Surface(f"plate-{n}", "plate", n, str(plate.substrate), "flat", None)
        for n, plate in enumerate(settled.plates, 1)
    ]
    surfaces += [
        Surface(f"member-{n}", "member", n, member.substrate, "upright", None)
        for n, member in enumerate(settled.members, 1)
    ]
    surfaces += [
        Surface(f"surface-{n}", "other", n, other.substrate, other.orientation or "upright", None)
        for n, other in enumerate(settled.query.surfaces, 1)
    ]
    family = str(settled.detail.get("family"))
    return Layout(family=family, built=False, surfaces=tuple(surfaces), why=why)
