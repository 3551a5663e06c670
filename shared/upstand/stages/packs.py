"""Which packs to open for a need: the least left over of what is opened, then the fewest packs.

What is mixed whole must be laid within its pot life: then there are as many packs as mixes at
least, and of a pack counts what one mix can lay.

The choice is exact. Sizes are compared as fractions of the largest, so that four packs of 2.5 L are
10 L and not a hair less, and a smaller pack is never taken as often as would fill larger ones.
"""

from __future__ import annotations

import itertools
import math
import operator
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from functools import lru_cache
from types import MappingProxyType
from typing import NamedTuple

#: A need is met when it is short by less than this share of the largest pack: rounding, not resin.
_NOISE = Fraction(1, 10**9)

#: Sizes in a ratio of whole numbers up to this are held to be exactly in that ratio.
_SIMPLE = 1000

#: At most this many mixes of the smaller packs are compared.
_MIXES = 50_000

#: At most so many packs that hold more than a mix lays are tried among those that hold less.
_TRIES = 100


class PackFault(ValueError):
    """Raised for a need or a size that is no amount, and where no pack or roll will do."""


class TooWide(PackFault):
    """Raised for a piece that no roll is wide enough for, inches."""

    def __init__(self, piece_in: float, roll_in: float) -> None:
        """Keep the widths of the piece and of the widest roll."""
        self.piece_in, self.roll_in = piece_in, roll_in
        super().__init__(
            f"the widest piece is {piece_in:.6g} in and the widest roll {roll_in:.6g} in; "
            "split the piece"
        )


@dataclass(frozen=True)
class Choice:
    """What to open: how many of each pack, largest first, and how much is opened and left over.

    ``opened`` and ``leftover`` are in the unit of the need: gallons, or square inches for rolls.
    """

    counts: Mapping[str, int] = field(hash=False)
    opened: float
    leftover: float


class _Pack(NamedTuple):
    id: str
    size: float
    share: Fraction


class _Sizes(NamedTuple):
    """Packs of different sizes, largest first, and what hangs on them alone.

    steps : whole steps that the largest pack has. smaller : steps of each other pack. fills : how
    many of each other pack fill whole larger ones, so that one fewer is opened at most.
    """

    packs: tuple[_Pack, ...]
    steps: int
    smaller: tuple[int, ...]
    fills: tuple[int, ...]

    def goal(self, need: float) -> int:
        """Return the least whole steps that meet a need."""
        exact = (Fraction(need) / Fraction(self.packs[0].size) - _NOISE) * self.steps
        return max(0, math.ceil(exact))


def choose(need_gal: float, sizes: Mapping[str, float], at_least: int = 0) -> Choice:
    """Choose the packs for a need.

    ``need_gal`` and ``sizes`` (pack id -> what it holds) are gallons, or any other one unit;
    ``at_least`` is the least number of packs. Of equal choices the one with more of the largest
    pack is taken. Two packs of one size: the id that sorts first. Raises ``PackFault``.

    >>> dict(choose(3.3, {"quart": 0.25, "gallon": 1, "3-gal": 3}).counts)
    {'3-gal': 1, 'quart': 2}
    >>> dict(choose(1.9, {"quart": 0.25, "gallon": 1}, at_least=4).counts)
    {'gallon': 1, 'quart': 4}
    """
    if not math.isfinite(need_gal) or need_gal < 0:
        raise PackFault(f"a need of {need_gal} can't be packed; it is 0 or more")
    for id, size in sizes.items():
        if not math.isfinite(size) or size <= 0:
            raise PackFault(f"pack {id} holds {size}; a pack holds more than 0")
    if need_gal == 0:
        return Choice(MappingProxyType({}), 0.0, 0.0)
    if not sizes:
        raise PackFault("there is no pack to choose from")
    known = _sizes(tuple(sorted(sizes.items())))
    goal = known.goal(need_gal)
    counts = _best(goal, known)
    if sum(counts) < at_least:
        counts = _more_packs(goal, known, at_least)
    return _choice(need_gal, zip(known.packs, counts, strict=True))


def choose_for_mixes(need_gal: float, sizes: Mapping[str, float], mixes: int) -> Choice:
    """Choose whole packs that can be laid: a mix lays no more than its share of the need.

    There are at least as many packs as mixes. A pack that holds more than one mix lays serves one
    mix alone, the rest is waste; where all hold more, the smallest is taken. Raises ``PackFault``.

    >>> dict(choose_for_mixes(1.96, {"quart": 0.25, "gallon": 1}, 12).counts)
    {'quart': 12}
    """
    in_mix = need_gal / mixes
    laid = {id: size for id, size in sizes.items() if size <= in_mix * (1 + float(_NOISE))}
    larger = {id: size for id, size in sizes.items() if id not in laid}
    if not larger or not need_gal:
        return choose(need_gal, sizes, mixes)
    id, size = min(larger.items(), key=lambda pack: (pack[1], pack[0]))
    if not laid:
        return Choice(MappingProxyType({id: mixes}), mixes * size, mixes * size - need_gal)
    best = choose(need_gal, laid, mixes)
    wasted = size - in_mix
    for number in range(1, min(mixes, math.ceil(best.leftover / wasted), _TRIES) + 1):
        rest = need_gal - number * in_mix
        others = choose(max(0.0, rest), laid, mixes - number)
        opened = others.opened + number * size
        packs = number + sum(others.counts.values())
        if (opened, packs) < (best.opened, sum(best.counts.values())):
            counts = {id: number, **others.counts}
            best = Choice(MappingProxyType(counts), opened, opened - need_gal)
    return best


def _choice(need: float, packs: Iterable[tuple[_Pack, int]]) -> Choice:
    held = [(pack, count) for pack, count in packs if count]
    opened = math.fsum(pack.size * count for pack, count in held)
    counts = MappingProxyType({pack.id: count for pack, count in held})
    return Choice(counts, opened, max(0.0, opened - need))


def choose_rolls(
    need_in2: float, widest_in: float, rolls: Mapping[str, tuple[float, float]]
) -> Choice:
    """Choose fleece rolls for an area, among those at least as wide as the widest piece.

    ``need_in2`` is square inches; ``widest_in`` and both figures of a roll (width, length) inches.
    Whether the pieces really fit side by side is for the cutting plan. Raises ``PackFault`` where
    no roll is wide enough.

    >>> rolls = {"fleece-6-in": (6, 600), "fleece-20-in": (20, 600)}
    >>> dict(choose_rolls(500, 8.5, rolls).counts)
    {'fleece-20-in': 1}
    """
    wide = {
        id: width_in * length_in
        for id, (width_in, length_in) in rolls.items()
        if width_in >= widest_in * (1 - float(_NOISE))
    }
    if need_in2 > 0 and not wide:
        widest_roll_in = max((width_in for width_in, _ in rolls.values()), default=0.0)
        raise TooWide(widest_in, widest_roll_in)
    return choose(need_in2, wide)


@lru_cache(maxsize=256)
def _sizes(sizes: tuple[tuple[str, float], ...]) -> _Sizes:
    """Sort out the packs: one of each size, largest first, in whole steps of one another.

    It hangs on the packs alone, so it is done once for each set of them.
    """
    largest = max(size for _, size in sizes)
    found: dict[Fraction, _Pack] = {}
    for id, size in sizes:
        share = _ratio(size, largest)
        found.setdefault(share, _Pack(id, size, share))
    packs = tuple(sorted(found.values(), key=lambda pack: -pack.share))
    steps = math.lcm(*(pack.share.denominator for pack in packs))
    fills = tuple(
        min(_ratio(pack.size, larger.size).denominator for larger in packs[:place])
        for place, pack in enumerate(packs[1:], start=1)
    )
    return _Sizes(packs, steps, tuple(int(pack.share * steps) for pack in packs[1:]), fills)


def _ratio(part: float, whole: float) -> Fraction:
    exact = Fraction(part) / Fraction(whole)
    simple = exact.limit_denominator(_SIMPLE)
    return simple if simple and abs(simple - exact) < exact / 10**12 else exact


def _best(goal: int, sizes: _Sizes) -> tuple[int, ...]:
    """Return the count of each pack that opens least, then has the fewest packs."""
    best: tuple[int, int, tuple[int, ...]] | None = None
    for mix in itertools.product(*(range(most + 1) for most in _most(goal, sizes))):
        held = sum(map(operator.mul, mix, sizes.smaller))
        whole = max(0, -((held - goal) // sizes.steps))
        counted = whole + sum(mix)
        rank = (held + whole * sizes.steps, counted, (-whole, *(-count for count in mix)))
        if best is None or rank < best:
            best = rank
    assert best is not None, "a mix without any smaller pack is always among them"
    return tuple(-count for count in best[2])


def _most(goal: int, sizes: _Sizes) -> list[int]:
    """Return how many of each smaller pack can be in the best choice.

    Where q packs of one size fill p of a larger, q of them are never opened. Nor is a pack beyond
    the one that meets the need by itself.
    """
    most = [
        min(fills - 1, -(-goal // steps))
        for steps, fills in zip(sizes.smaller, sizes.fills, strict=True)
    ]
    # Odd sizes and a great need could take hours: then only so many of each are tried.
    each = max(most, default=0)
    while math.prod(min(count, each) + 1 for count in most) > _MIXES:
        each = each * 9 // 10
    return [min(count, each) for count in most]


def _more_packs(goal: int, sizes: _Sizes, at_least: int) -> tuple[int, ...]:
    """Return the choice that opens least of at least so many packs, then has the fewest.

    Every mix of the larger packs is tried, filled up with the smallest. Of a very great need only
    those are tried that take the place of some of the smallest without opening more.
    """
    *larger, smallest = (sizes.steps, *sizes.smaller)
    most = [min(-(-goal // steps), _MIXES) for steps in larger]
    if math.prod(count + 1 for count in most) > _MIXES:
        lacking = max(0, goal - at_least * smallest)
        most = [
            min(count, -(-lacking // (steps - smallest)))
            for count, steps in zip(most, larger, strict=True)
        ]
        each = max(most)
        while math.prod(min(count, each) + 1 for count in most) > _MIXES:
            each = each * 9 // 10
        most = [most[0], *(min(count, each) for count in most[1:])]
    best: tuple[int, int, tuple[int, ...]] | None = None
    for mix in itertools.islice(itertools.product(*(range(n, -1, -1) for n in most)), _MIXES):
        held, counted = sum(map(operator.mul, mix, larger)), sum(mix)
        small = max(0, at_least - counted, -((held - goal) // smallest))
        rank = (held + small * smallest, counted + small, (*(-n for n in mix), -small))
        if best is None or rank < best:
            best = rank
    assert best is not None, "the smallest alone are always among them"
    return tuple(-count for count in best[2])
