"""The door for take-off: many details in, what to order for all of them, and each one's share.

It takes of each answer what it needs and adds that up; a detail that is asked about or held stands
apart from the total, with its reasons.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import ceil
from typing import Any

from upstand import __version__
from upstand.answer import Answer, answer
from upstand.cutting.model import CutPlan, Roll, Wanted
from upstand.cutting.nest import nest
from upstand.edition import Edition, Record
from upstand.formulas import placing, supply
from upstand.layout.model import PieceKind
from upstand.quantity.traced import Traced, asked, assumed, bare, constant, measured, reckon, total
from upstand.query.defaults import Assumption
from upstand.query.model import Query
from upstand.query.takeoff import Asked, TakeOffQuery
from upstand.stages.materials import Stock, Supply
from upstand.stages.needs import Need, add_up
from upstand.stages.placing import (
    Labor,
    Mixes,
    parameter,
    workers_on_a_detail,
)
from upstand.stages.times import WAITS, WorkingTime
from upstand.verdict.model import Reason, VerdictState

__all__ = ["Bought", "Share", "TakeOff", "take_off_all"]

#: More pieces than this are not nested; a list of so many is cut detail by detail.
MAX_NESTED = 20_000
#: Pieces are cut to the next quarter inch.
QUARTER = 4.0
#: States whose quantities are ordered: nothing in them waits for somebody's word.
ORDERED = ("go", "plan")


@dataclass(frozen=True, slots=True)
class Cut:
    """A piece of fleece of one detail, as it is cut."""

    id: str
    letter: str
    kind: PieceKind
    width: Traced
    length: Traced
    count: int


@dataclass(frozen=True, slots=True)
class One:
    """What one detail takes: its numbers stand without their workings, which its answer has.

    labor, usable_of and workers : what the mixes of all are counted by. waits : what nobody works
    through.
    """

    detail: Record
    state: VerdictState
    reasons: tuple[Reason, ...]
    area: Traced | None
    zone: Traced | None
    pieces: tuple[Cut, ...]
    fleece: str
    needs: tuple[Need, ...]
    minutes: Mapping[str, Traced]
    mixes: Mapping[str, int]
    labor: Mapping[str, Labor]
    usable_of: Mapping[str, Traced]
    workers: Traced
    waits: tuple[WorkingTime, ...]
    tools: tuple[Record, ...]
    assumptions: tuple[Assumption, ...]


@dataclass(frozen=True, slots=True)
class Share:
    """What one line of the list takes; needs and minutes are for its whole count."""

    asked: Asked
    one: One
    needs: tuple[Need, ...]
    minutes: Mapping[str, Traced]

    @property
    def ordered(self) -> bool:
        """Whether its quantities are in the total."""
        return self.one.state in ORDERED


@dataclass(frozen=True, slots=True)
class Bought:
    """One material for the whole: its need, packs, mixes at least, and what is left to buy."""

    need: Need
    supply: Supply
    mixes: Mixes | None
    in_stock: tuple[tuple[str, int], ...]
    to_buy: tuple[tuple[str, int], ...]
    keeps: bool


@dataclass(frozen=True, slots=True)
class TakeOff:
    """A take-off: shares in the order given; `apart` adds up what is asked about or held."""

    edition: Edition
    software: str
    query: TakeOffQuery
    shares: tuple[Share, ...]
    bought: tuple[Bought, ...]
    apart: tuple[Need, ...]
    minutes: Mapping[str, Traced]
    visits: Traced | None
    cutting: CutPlan | None
    pieces: int


def take_off_all(query: TakeOffQuery, edition: Edition) -> TakeOff:
    """Find what every detail takes, alike ones once, and add up what they need."""
    answered: dict[int, One] = {}
    shares = []
    for line in query.details:
        known = answered.get(id(line.query))
        if known is None:
            known = answered[id(line.query)] = _one(line.query, edition)
        times = asked(float(line.count), "1", f"/details/{line.id}/count")
        shares.append(
            Share(
                line,
                known,
                tuple(need.times(times) for need in known.needs),
                {name: _times(spent, times) for name, spent in known.minutes.items()},
            )
        )
    ordered = [share for share in shares if share.ordered]
    pieces = sum(_pieces_of(share) for share in ordered)
    cutting = _cut(ordered, edition) if 0 < pieces <= MAX_NESTED else None
    return TakeOff(
        edition=edition,
        software=__version__,
        query=query,
        shares=tuple(shares),
        bought=tuple(_bought(ordered, query, cutting, edition)),
        apart=add_up(need for share in shares if not share.ordered for need in share.needs),
        minutes=_sum_minutes(ordered),
        visits=_visits(_sum_minutes(ordered), query, edition),
        cutting=cutting,
        pieces=pieces,
    )


def _one(query: Query, edition: Edition) -> One:
    found = answer(replace(query, count=None), edition, listed=True)
    layout, needs = found.layout, found.ground.needs
    fleece = layout.fleece
    return One(
        detail=found.settled.detail,
        state=found.verdict.state,
        reasons=found.verdict.reasons,
        area=None if layout.coated is None else bare(layout.coated),
        zone=None if fleece is None else bare(fleece.zone),
        pieces=tuple(
            Cut(p.id, p.letter, p.kind, bare(p.width), bare(p.length), p.count)
            for p in (fleece.pieces if fleece is not None else ())
        ),
        fleece=found.settled.fleece.path,
        needs=tuple(
            replace(n, lines=(), amount=None if n.amount is None else bare(n.amount))
            for n in needs.needs
        ),
        minutes={name: bare(spent) for name, spent in _minutes(found, edition).items()},
        mixes={
            material.record.id: int(mixes.number.value)
            for material in found.takeoff.materials
            if (mixes := material.one.mixes) is not None and mixes.number is not None
        },
        labor={
            path: replace(labor, minutes=tuple(bare(spent) for spent in labor.minutes))
            for path, labor in needs.labor.items()
        },
        usable_of={path: bare(time) for path, time in found.timing.usable_of.items()},
        workers=workers_on_a_detail(found.settled, edition),
        waits=tuple(
            time
            for time in found.timing.times
            if time.field in (WAITS if time.product.kind == "primers" else ("watertight",))
        ),
        tools=found.tools,
        assumptions=found.settled.assumptions,
    )


def _times(amount: Traced, count: Traced) -> Traced:
    return amount if count.value == 1.0 else reckon(supply.scaled, amount=amount, count=count)


def _minutes(found: Answer, edition: Edition) -> dict[str, Traced]:
    """Minutes of one worker by activity; those without minutes on file are no tasks."""
    coated, up_to = found.layout.coated, parameter(edition, "minutes-hold-to", "in^2")
    if coated is None or up_to is None:
        return {}
    spent: dict[str, Traced] = {}
    for id, minutes, portion in _tasks(found, edition):
        once = reckon(
            placing.minutes_by_area, minutes=minutes, area=coated, up_to=up_to, portion=portion
        )
        spent[id] = once if id not in spent else total(id, [spent[id], once])
    return spent


def _tasks(found: Answer, edition: Edition) -> tuple[tuple[str, Traced, Traced], ...]:
    """List the activities with minutes, and what portion of them; kept beside the kind of work."""
    lengths, whole = parameter(edition, "laid-in-lengths", "1"), constant(1.0, "1", "whole")
    portions = {}
    if found.settled.detail.get("in_lengths") and lengths is not None:
        portions = dict.fromkeys(("base-coat", "fleece", "top-coat"), lengths)
    kept: dict[Hashable, Any] = found.work.written
    if "tasks" not in kept:
        kept["tasks"] = tuple(
            (activity.id, activity.value("minutes").traced("min"), portions.get(activity.id, whole))
            for activity in (step.activity for step in found.procedure.steps)
            if activity.has("minutes") and activity.id not in ("setup", "clean-up")
        )
    tasks: tuple[tuple[str, Traced, Traced], ...] = kept["tasks"]
    return tasks


def _sum_minutes(shares: Sequence[Share]) -> dict[str, Traced]:
    found: dict[str, list[Traced]] = {}
    for share in shares:
        for name, spent in share.minutes.items():
            found.setdefault(name, []).append(spent)
    return {name: total(f"minutes of {name}", some) for name, some in found.items()}


def _visits(minutes: Mapping[str, Traced], query: TakeOffQuery, edition: Edition) -> Traced | None:
    """Days on the roof at least: waits, weather and windows come on top, and a plan tells them."""
    day = parameter(edition, "working-day", "min")
    around = [
        found.value("minutes").traced("min")
        for name in ("setup", "clean-up")
        if (found := edition.record(f"activities/{name}")).has("minutes")
    ]
    if day is None or not around or not minutes:
        return None
    return reckon(
        placing.days_of_work,
        minutes=total("minutes of all activities", list(minutes.values())),
        workers=(assumed if query.crew is None else asked)(float(query.crew or 1), "1", "/crew"),
        day=day,
        around=total("minutes around a day's work", around),
    )


def _pieces_of(share: Share) -> int:
    return share.asked.count * sum(piece.count for piece in share.one.pieces)


def _to_cut(side: Traced) -> float:
    return ceil(side.value * QUARTER - 1e-6) / QUARTER


def _cut(shares: Sequence[Share], edition: Edition) -> CutPlan:
    """Nest the pieces of all details on the rolls that their fleece is sold in."""
    wanted = [
        Wanted(
            f"{share.asked.id} {piece.id}"[:64],
            _to_cut(piece.width),
            _to_cut(piece.length),
            piece.count * share.asked.count,
            group=share.asked.id,
        )
        for share in shares
        for piece in share.one.pieces
    ]
    fleeces = {share.one.fleece for share in shares}
    rolls = [
        Roll(pack.value("width").magnitude("in"), pack.value("length").magnitude("in"))
        for pack in edition.kind("packs").values()
        if pack.get("of") in fleeces and pack.has("width")
    ]
    return nest(wanted, rolls)


def _bought(
    shares: Sequence[Share], query: TakeOffQuery, cutting: CutPlan | None, edition: Edition
) -> Iterator[Bought]:
    stock = Stock(edition)
    for need in add_up(need for share in shares for need in share.needs):
        mixes = _mixes(need.record, shares, query, edition) if need.record.get("parts") else None
        found = stock.supply(need, mixes)
        if need.kind == "fleece" and cutting is not None:
            found = replace(found, packs=tuple(_rolls(need.record, cutting, edition)))
        held = {pack: min(count, query.stock.get(pack, 0)) for pack, count in found.packs}
        yield Bought(
            need,
            found,
            mixes,
            tuple((pack, count) for pack, count in held.items() if count),
            tuple((pack, count - held[pack]) for pack, count in found.packs if count > held[pack]),
            need.record.get("parts") != 2,
        )


def _rolls(fleece: Record, cutting: CutPlan, edition: Edition) -> Iterator[tuple[str, int]]:
    """Count the rolls that the cutting plan opens."""
    for pack in edition.kind("packs").values():
        if pack.get("of") == fleece.path and pack.has("width"):
            width = pack.value("width").magnitude("in")
            count = sum(1 for cut in cutting.rolls if abs(cut.roll.width - width) < 1e-6)
            if count:
                yield pack.id, count


def _mixes(
    product: Record, shares: Sequence[Share], query: TakeOffQuery, edition: Edition
) -> Mixes:
    """Count the mixes of one product that all details take at least, if they share every mix."""
    if product.get("parts") != 2:
        return Mixes(why="one-part")
    spent: list[Traced] = []
    usable = None
    workers = constant(1.0, "1", "/crew")
    for share in shares:
        labor = share.one.labor.get(product.path)
        if labor is None:
            continue
        usable, workers = share.one.usable_of.get(product.path), share.one.workers
        if labor.why is not None:
            return Mixes(why=labor.why)
        count = asked(float(share.asked.count), "1", f"/details/{share.asked.id}/count")
        spent += [_times(minutes, count) for minutes in labor.minutes]
    if usable is None:
        return Mixes(why="pot-life-unknown")
    if not product.has("mixing"):
        return Mixes(why="mixing-unknown")
    left = reckon(
        placing.minutes_to_lay, usable=usable, mixing=product.value("mixing").traced("min")
    )
    if left.value <= 0.0 or not spent:
        return Mixes(left=left, why="pot-life-short")
    whole = total("minutes of laying", spent)
    number = ceil(whole.value / (left.value * workers.value) - 1e-9)
    return Mixes(measured(float(number), "1", "mixes at least, each shared"), left=left)
