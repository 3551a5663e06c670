"""What of a settled question its layout hangs on, as a key to remember layouts by."""

from __future__ import annotations

from dataclasses import dataclass, field

from upstand.edition import Edition
from upstand.quantity.traced import Traced
from upstand.query.defaults import Settled

#: How many layouts are kept: the same detail in other weather, language or units costs half.
REMEMBERED = 128
#: Members and plates of one detail up to which its layout is kept: a usual one is small.
USUAL = 12


@dataclass(frozen=True, slots=True)
class Geometry:
    """The geometric part of a question and the edition's digest; equal ones lay out alike."""

    key: tuple[object, ...]
    settled: Settled = field(compare=False, repr=False)
    edition: Edition = field(compare=False, repr=False)

    @classmethod
    def of(cls, settled: Settled, edition: Edition) -> Geometry:
        """Read the key off a settled question."""
        query = settled.query
        key = (
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
        return cls(key, settled, edition)


def _of(size: Traced | None) -> tuple[object, ...] | None:
    return None if size is None else (size.value, size.unit, size.origin, size.also)


def _at(at: tuple[Traced, Traced] | None) -> tuple[object, ...] | None:
    return None if at is None else (_of(at[0]), _of(at[1]))
