"""Which packs to open for a need: the least left over of what is opened, then the fewest packs.

The choice is exact. Sizes are compared as fractions of the largest, so that four packs of 2.5 L are
10 L and not a hair less, and a smaller pack is never taken as often as would fill larger ones.
"""

from __future__ import annotations

import itertools
import math
import operator
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from types import MappingProxyType
from typing import NamedTuple

#: A need is met when it is short by less than this share of the largest pack: rounding, not resin.
_NOISE = Fraction(1, 10**9)

#: Sizes in a ratio of whole numbers up to this are held to be exactly in that ratio.
_SIMPLE = 1000

#: At most this many mixes of the smaller packs are compared.
_MIXES = 50_000


class PackFault(ValueError):
    """Raised for a need or a size that is no amount, and where no pack or roll will do."""


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


def choose(need_gal: float, sizes: Mapping[str, float]) -> Choice:
    """Choose the packs for a need.

    ``need_gal`` and ``sizes`` (pack id -> what it holds) are gallons, or any other one unit. Of
    equal choices the one with more of the largest pack is taken. Two packs of one size: the id that
    sorts first. Raises ``PackFault``.

    >>> dict(choose(3.3, {"quart": 0.25, "gallon": 1, "3-gal": 3}).counts)
    {'3-gal': 1, 'quart': 2}
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
    packs = _different(sizes)
    goal = Fraction(need_gal) / Fraction(packs[0].size) - _NOISE
    counts = _best(goal, packs)
    opened = math.fsum(pack.size * count for pack, count in zip(packs, counts, strict=True))
    held = {pack.id: count for pack, count in zip(packs, counts, strict=True) if count}
    return Choice(MappingProxyType(held), opened, max(0.0, opened - need_gal))


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
        raise PackFault(
            f"the widest piece is {widest_in:.6g} in and the widest roll {widest_roll_in:.6g} in; "
            "split the piece"
        )
    return choose(need_in2, wide)


def _different(sizes: Mapping[str, float]) -> list[_Pack]:
    """Return one pack of each size, largest first, sized as a share of the largest."""
    largest = max(sizes.values())
    found: dict[Fraction, _Pack] = {}
    for id in sorted(sizes):
        share = _ratio(sizes[id], largest)
        found.setdefault(share, _Pack(id, sizes[id], share))
    return sorted(found.values(), key=lambda pack: -pack.share)


def _ratio(part: float, whole: float) -> Fraction:
    exact = Fraction(part) / Fraction(whole)
    simple = exact.limit_denominator(_SIMPLE)
    return simple if simple and abs(simple - exact) < exact / 10**12 else exact


def _best(goal: Fraction, packs: Sequence[_Pack]) -> tuple[int, ...]:
    """Return the count of each pack that opens least, then has the fewest packs."""
    # Whole numbers of one small step: the comparison stays exact and is some five times faster.
    steps = math.lcm(goal.denominator, *(pack.share.denominator for pack in packs))
    goal_steps = int(goal * steps)
    smaller = [int(pack.share * steps) for pack in packs[1:]]
    best: tuple[int, int, tuple[int, ...]] | None = None
    for mix in itertools.product(*(range(most + 1) for most in _most(goal, packs))):
        held = sum(map(operator.mul, mix, smaller))
        whole = max(0, -((held - goal_steps) // steps))
        rank = (held + whole * steps, whole + sum(mix), (-whole, *(-count for count in mix)))
        if best is None or rank < best:
            best = rank
    assert best is not None, "a mix without any smaller pack is always among them"
    return tuple(-count for count in best[2])


def _most(goal: Fraction, packs: Sequence[_Pack]) -> list[int]:
    """Return how many of each smaller pack can be in the best choice.

    Where q packs of one size fill p of a larger, q of them are never opened. Nor is a pack beyond
    the one that meets the need by itself.
    """
    most = []
    for place, pack in enumerate(packs[1:], start=1):
        fills = min(_ratio(pack.size, larger.size).denominator for larger in packs[:place])
        most.append(min(fills - 1, math.ceil(goal / pack.share)))
    # Odd sizes and a great need could take hours: then only so many of each are tried.
    each = max(most, default=0)
    while math.prod(min(count, each) + 1 for count in most) > _MIXES:
        each = each * 9 // 10
    return [min(count, each) for count in most]
