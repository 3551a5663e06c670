"""What of a settled question its layout hangs on, as a key to remember layouts by."""

from __future__ import annotations

from collections.abc import Hashable

from upstand.edition import Edition
from upstand.quantity.traced import Traced
from upstand.query.defaults import Settled


def geometry_of(settled: Settled, edition: Edition) -> Hashable:
    """Return a question's geometric part and the edition's digest; equal ones lay out alike."""
    query = settled.query
    return (
        edition.digest,
        settled.detail.id,
        settled.roof.id,
        settled.fleece.id,
        settled.missing,
        tuple((name, _of(size)) for name, size in settled.sizes.items()),
        tuple(settled.choices.items()),
        tuple(settled.parts.items()),
        tuple((s.substrate, s.orientation, s.part) for s in query.surfaces),
        _of(settled.mask_turn),
        tuple(
            (
                m.section,
                m.substrate,
                m.points,
                tuple((name, _of(size)) for name, size in m.dimensions.items()),
                _at(m.at),
                _of(m.turn),
            )
            for m in settled.members
        ),
        tuple((_of(p.width), _of(p.length), _at(p.at), p.substrate) for p in settled.plates),
    )


def _of(size: Traced | None) -> tuple[object, ...] | None:
    return None if size is None else (size.value, size.unit, size.origin, size.also)


def _at(at: tuple[Traced, Traced] | None) -> tuple[object, ...] | None:
    return None if at is None else (_of(at[0]), _of(at[1]))
