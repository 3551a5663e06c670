"""What hangs on a detail's geometry and products alone, whatever the weather: it is remembered."""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import dataclass, field
from typing import Any, Final

from upstand.edition import Edition, Record
from upstand.edition.lacking import Lacks
from upstand.layout import Layout, lay_out
from upstand.layout.geometry import geometry_of
from upstand.layout.no_geometry import list_surfaces
from upstand.query.defaults import Settled
from upstand.recall import Recall
from upstand.stages.needs import NO_NEEDS, Needs, find_needs

__all__ = ["Ground", "find_ground"]

#: Members and plates of one detail up to which it is kept: a usual one is small.
USUAL: Final = 12


@dataclass(frozen=True, slots=True, eq=False)
class Ground:
    """A layout, what it needs, and the primers under it; `lacks` is what the edition lacks for it.

    written : what documents wrote down of it, by who reads it; it goes when this goes.
    """

    layout: Layout
    needs: Needs
    primers: tuple[Record, ...]
    lacks: tuple[str, ...] = ()
    written: dict[Hashable, Any] = field(default_factory=dict, repr=False)


#: The same detail in other weather costs half.
_KEPT: Final[Recall[Ground]] = Recall(32)


def find_ground(settled: Settled, edition: Edition) -> Ground:
    """Lay a detail out and find what it needs; the last ones are remembered.

    Raises LayoutRefusal where the description can't be laid out.
    """
    if len(settled.members) + len(settled.plates) > USUAL:
        return _ground(settled, edition)
    key = (geometry_of(settled, edition), settled.resin.path)
    return _KEPT.get(key, lambda: _ground(settled, edition))


def _ground(settled: Settled, edition: Edition) -> Ground:
    lacks = Lacks()
    layout = lacks.or_else(
        lambda: lay_out(settled, edition),
        lambda: list_surfaces(settled, edition, "no-quantity-edition"),
    )
    needs = lacks.or_else(lambda: find_needs(settled, layout, edition), lambda: NO_NEEDS)
    primers = tuple(edition.record(path) for path in dict.fromkeys(needs.primer_of.values()))
    return Ground(layout, needs, primers, tuple(lacks.wanted))
