"""What one layout needs of each product, line by line, and what several layouts need together."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Final, Literal

from upstand.edition import Edition, Record
from upstand.formulas import resin as formulas
from upstand.formulas import supply
from upstand.layout import Layout, Surface
from upstand.quantity.traced import Traced, reckon, total
from upstand.query.defaults import Settled
from upstand.stages.coats import Coats, Line, lay_coats
from upstand.stages.placing import Labor, laying_labor, priming_labor

MaterialKind = Literal["resin", "primer", "fleece", "tape", "cleaner", "abrasive", "consumable"]


@dataclass(frozen=True, slots=True)
class Need:
    """What is needed of one product, in gal, in² or in; amount None where it is not known.

    widest : the least width of roll that the pieces need, in.
    """

    record: Record
    kind: MaterialKind
    lines: tuple[Line, ...]
    amount: Traced | None
    widest: float = 0.0

    def times(self, count: Traced) -> Need:
        """Scale to a number of equal details; the lines stay those of one."""
        if self.amount is None:
            return self
        return replace(self, amount=reckon(supply.scaled, amount=self.amount, count=count))


@dataclass(frozen=True, slots=True)
class Needs:
    """What one layout needs: its coats, a need for each product, the primer of each surface.

    labor : what it takes to lay or put on each product that is mixed, by its path.
    """

    coats: Coats
    needs: tuple[Need, ...]
    primer_of: dict[str, str]
    labor: Mapping[str, Labor] = field(default_factory=dict)


NO_NEEDS: Final = Needs(Coats((), (), None, {}, whole=False), (), {})
"""Where the edition does not hold what it takes to find them; the verdict asks."""


def find_needs(settled: Settled, layout: Layout, edition: Edition) -> Needs:
    """Add up what one detail needs. Without geometry every amount is None."""
    coats = lay_coats(settled, layout, edition)
    primer_of = primers_of(layout, edition)
    primers = [
        _primer(
            edition.record(path),
            [s for s in layout.surfaces if primer_of.get(s.id) == path],
            edition,
        )
        for path in sorted(set(primer_of.values()))
    ]
    resin = _need(settled.resin, "resin", coats.lines, whole=coats.whole)
    labor = {need.record.path: priming_labor(need.record, layout, edition) for need in primers}
    labor[settled.resin.path] = laying_labor(settled, layout, edition)
    return Needs(coats, (resin, *primers, *_rolls(settled, layout, edition)), primer_of, labor)


def add_up(needs: Iterable[Need]) -> tuple[Need, ...]:
    """Add the needs of several details by product; one that is not known leaves its sum unknown."""
    found: dict[str, list[Need]] = {}
    for need in needs:
        found.setdefault(need.record.path, []).append(need)
    return tuple(_sum(some) for some in found.values())


def _sum(needs: Sequence[Need]) -> Need:
    if len(needs) == 1:
        return needs[0]
    amounts = [need.amount for need in needs if need.amount is not None]
    known = len(amounts) == len(needs)
    return replace(
        needs[0],
        lines=tuple(line for need in needs for line in need.lines),
        amount=total(f"need of {needs[0].record.id}", amounts) if known else None,
        widest=max(need.widest for need in needs),
    )


def primers_of(layout: Layout, edition: Edition) -> dict[str, str]:
    """Name the primer record of each surface by its id; surfaces without one are left out."""
    found = {}
    for surface in layout.surfaces:
        if surface.substrate is None:
            continue
        primer = edition.record(f"substrates/{surface.substrate}").get("primer")
        if isinstance(primer, str) and edition.has(primer):
            found[surface.id] = primer
    return found


def _need(
    record: Record, kind: MaterialKind, lines: Sequence[Line], *, whole: bool, widest: float = 0.0
) -> Need:
    amount = None
    if lines and whole:
        amount = total(f"need of {record.id}", [line.amount for line in lines])
    return Need(record, kind, tuple(lines), amount, widest)


def _primer(primer: Record, surfaces: Sequence[Surface], edition: Edition) -> Need:
    lines = list(_primer_lines(primer, surfaces, edition))
    return _need(primer, "primer", lines, whole=len(lines) == len(surfaces))


def _primer_lines(primer: Record, surfaces: Sequence[Surface], edition: Edition) -> Iterator[Line]:
    for surface in surfaces:
        if surface.area is None:
            continue
        substrate = edition.record(f"substrates/{surface.substrate}")
        own = substrate.has("primer_coats")
        coats = substrate.value("primer_coats") if own else primer.value("coats")
        volume = reckon(
            formulas.primer_volume,
            area=surface.area,
            coverage=primer.value("coverage").traced("ft^2/gal"),
            coats=coats.traced("1"),
        )
        yield Line(f"primer/{surface.id}", volume, surface.id)


def _rolls(settled: Settled, layout: Layout, edition: Edition) -> list[Need]:
    """Find what is bought by the roll: fleece as cut, and tape with its overlaps at corners."""
    fleece, masking = layout.fleece, layout.masking
    tape = edition.record("tools/masking-tape")
    if fleece is None or masking is None:
        return [Need(settled.fleece, "fleece", (), None), Need(tape, "tape", (), None)]
    widest = max((min(p.width.value, p.length.value) for p in fleece.pieces), default=0.0)
    strips = [Line("masking", masking.tape), Line("corners", masking.corners)]
    return [
        Need(settled.fleece, "fleece", (Line("cut", fleece.cut),), fleece.cut, widest),
        _need(tape, "tape", strips, whole=True),
    ]
