"""Materials: for each need what to have ready, and the packs that can be used for it.

It takes needs, of one detail or of many added up, and knows no layout.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from upstand.edition import Edition, Record
from upstand.formulas import supply
from upstand.layout import Layout
from upstand.quantity.traced import Origin, Traced, asked, assumed, reckon
from upstand.query.defaults import Settled
from upstand.stages.coats import Coat, Line
from upstand.stages.ground import Ground
from upstand.stages.needs import MaterialKind, Need
from upstand.stages.packs import choose, choose_for_mixes, choose_rolls
from upstand.stages.placing import (
    Mixes,
    count_mixes,
    parameter,
    workers_on_a_detail,
)
from upstand.stages.times import Timing
from upstand.words.model import Sentence

__all__ = ["Material", "Stock", "Supply", "Takeoff", "take_off"]

OPENED = Origin("computed", "packs opened")


@dataclass(frozen=True, slots=True)
class Supply:
    """A need, what to have ready, and packs "at least" for it; None where not computed.

    mixes : of a two-part product, at least; its `why` tells where there is no number.
    in_mix : what one mix has to hold, gal. stays : what of a mix stays in pail and roller, where
    a mix is under a quart.
    """

    need: Traced | None
    with_allowance: Traced | None
    packs: tuple[tuple[str, int], ...]
    leftover: Traced | None
    mixes: Mixes | None = None
    in_mix: Traced | None = None
    stays: Traced | None = None

    def about_mixes(self) -> tuple[Sentence, ...]:
        """Say how many mixes and why, and what of a small mix is lost."""
        said = None if self.mixes is None else self.mixes.say()
        if said is None:
            return ()
        if self.stays is None:
            return (said,)
        grade = Sentence(f"grade-{self.stays.origin.grade}")
        return said, Sentence("mixes-stay", {"stays": self.stays, "grade": grade})


@dataclass(frozen=True, slots=True)
class Material:
    """One product with its lines; `one` for one detail, `all` for every one of the count."""

    record: Record
    kind: MaterialKind
    lines: tuple[Line, ...]
    one: Supply
    all: Supply


@dataclass(frozen=True, slots=True)
class Takeoff:
    """What one detail takes. gauge : what a gauge must read in `base` and `top`, wet."""

    coats: tuple[Coat, ...]
    film: Traced | None
    gauge: Mapping[str, Traced]
    materials: tuple[Material, ...]
    primer_of: dict[str, str]
    totals: dict[str, Traced]


NO_TAKEOFF: Final = Takeoff((), None, {}, (), {}, {})
"""Where the edition does not hold what it takes to find it; the verdict asks."""


def take_off(
    settled: Settled, ground: Ground, timing: Timing, edition: Edition, *, packs: bool = True
) -> Takeoff:
    """Find the supply for each need of one detail, and for the count; `packs` chosen or not."""
    given = settled.query.count is not None
    count = (asked if given else assumed)(float(settled.count), "1", "/count")
    one = assumed(1.0, "1", "/count")
    stock = Stock(edition)
    workers = workers_on_a_detail(settled, edition)
    materials = []
    needs = ground.needs
    for need in needs.needs:
        mixed: tuple[Mixes | None, Mixes | None] = (None, None)
        if need.kind in ("resin", "primer"):
            labor = needs.labor[need.record.path]
            of_one = of_all = count_mixes(need.record, labor, one, workers, timing)
            if settled.count != 1:
                of_all = count_mixes(need.record, labor, count, workers, timing)
            mixed = (of_one, of_all)
        if not packs:
            bulk = Supply(need.amount, None, (), None, mixed[0])
            materials.append(Material(need.record, need.kind, need.lines, bulk, bulk))
            continue
        single = stock.supply(need, mixed[0])
        every = single if settled.count == 1 else stock.supply(need.times(count), mixed[1])
        materials.append(Material(need.record, need.kind, need.lines, single, every))
    coats = needs.coats
    return Takeoff(
        coats.coats,
        coats.film,
        coats.gauge,
        tuple(materials),
        needs.primer_of,
        _totals(ground.layout, count),
    )


def _totals(layout: Layout, count: Traced) -> dict[str, Traced]:
    """Scale areas and lengths to every one of the count."""
    if layout.fleece is None or layout.masking is None or layout.coated is None:
        return {}
    sizes = {"area": layout.coated, "zone": layout.fleece.zone, "cut": layout.fleece.cut}
    found = {name: reckon(supply.scaled, amount=size, count=count) for name, size in sizes.items()}
    found["tape"] = reckon(supply.scaled, amount=layout.masking.tape, count=count)
    return found


class Stock:
    """Packs of one edition: the supply for a need, whatever it was added up from."""

    def __init__(self, edition: Edition) -> None:
        """Keep the edition."""
        self.edition = edition
        self.allowance = edition.record("parameters/allowance").value("value").traced("percent")

    def supply(self, need: Need, mixes: Mixes | None = None) -> Supply:
        """Find what to have ready for a need, and the packs; `mixes` where it is mixed."""
        if need.amount is None:
            return Supply(None, None, (), None, mixes)
        if need.amount.unit == "in^2":
            return self._by_area(need, need.amount)
        if need.amount.unit == "in":
            return self._by_length(need, need.amount)
        return self._by_volume(need.record, need.amount, mixes)

    def _by_volume(self, record: Record, need: Traced, mixes: Mixes | None) -> Supply:
        ready = reckon(supply.with_allowance, need=need, allowance=self.allowance)
        in_mix = stays = None
        if mixes is not None and mixes.number is not None:
            in_mix = reckon(supply.in_one_mix, ready=ready, mixes=mixes.number)
            small = parameter(self.edition, "small-mix", "gal")
            if small is not None and in_mix.value < small.value:
                stays = parameter(self.edition, "stays-in-pail", "gal")
        packs = _packs_of(self.edition, record.path)
        sizes = {pack.id: pack.value("size").magnitude("gal") for pack in packs}
        if not sizes:
            return Supply(need, ready, (), None, mixes, in_mix, stays)
        whole = any(pack.get("pre_proportioned") for pack in packs)
        if whole and mixes is not None and mixes.number is not None:
            chosen = choose_for_mixes(ready.value, sizes, int(mixes.number.value))
        else:
            chosen = choose(ready.value, sizes)
        opened = Traced(chosen.opened, "gal", OPENED)
        left = reckon(supply.leftover, opened=opened, need=ready)
        return Supply(need, ready, tuple(chosen.counts.items()), left, mixes, in_mix, stays)

    def _by_area(self, need: Need, amount: Traced) -> Supply:
        ready = reckon(supply.with_allowance, need=amount, allowance=self.allowance)
        rolls = {
            pack.id: (pack.value("width").magnitude("in"), pack.value("length").magnitude("in"))
            for pack in _packs_of(self.edition, need.record.path)
        }
        chosen = choose_rolls(ready.value, need.widest, rolls)
        opened = Traced(chosen.opened, "in^2", OPENED)
        left = reckon(supply.leftover, opened=opened, need=ready)
        return Supply(amount, ready, tuple(chosen.counts.items()), left)

    def _by_length(self, need: Need, amount: Traced) -> Supply:
        ready = reckon(supply.with_allowance, need=amount, allowance=self.allowance)
        sizes = {
            pack.id: pack.value("length").magnitude("in")
            for pack in _packs_of(self.edition, need.record.path)
        }
        if not sizes:
            return Supply(amount, ready, (), None)
        chosen = choose(ready.value, sizes)
        opened = Traced(chosen.opened, "in", OPENED)
        left = reckon(supply.leftover, opened=opened, need=ready)
        return Supply(amount, ready, tuple(chosen.counts.items()), left)


@lru_cache(maxsize=256)
def _packs_of(edition: Edition, path: str) -> tuple[Record, ...]:
    return tuple(pack for pack in edition.kind("packs").values() if pack.get("of") == path)
