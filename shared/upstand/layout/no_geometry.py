"""For details without quantities: the surfaces, without areas."""

from __future__ import annotations

from upstand.edition import Edition
from upstand.layout.model import Ask, Layout, Orientation, Surface
from upstand.query.defaults import Settled

#: Parts of a detail that lie flat; the others stand.
FLAT = frozenset({"sill", "bowl", "ground", "metal", "old-film"})


def list_surfaces(
    settled: Settled,
    edition: Edition,
    why: str = "geometry-not-built",
    asks: tuple[Ask, ...] = (),
) -> Layout:
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
    given = {s.part: s.orientation for s in settled.query.surfaces}
    for part, substrate in settled.parts.items():
        usual: Orientation = "flat" if part in FLAT else "upright"
        surfaces.append(Surface(part, "part", 1, substrate, given.get(part) or usual, None))
    # what is named for no part of the detail is listed all the same: it may be a hazard
    surfaces += [
        Surface(f"surface-{n}", "other", n, other.substrate, other.orientation or "upright", None)
        for n, other in enumerate(settled.query.surfaces, 1)
        if other.substrate not in settled.parts.values()
    ]
    family = str(settled.detail.get("family"))
    return Layout(
        family=family,
        built=False,
        surfaces=tuple(surfaces),
        why=why,
        asks=asks,
        sizes=dict(settled.sizes),
    )
