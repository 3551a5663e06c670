"""Cutting plans: every piece once, on its roll, nothing across anything, cut from edge to edge."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from pathlib import Path
from random import Random
from typing import Any

import pytest
import yaml

from upstand.cutting.model import CutPlan, Placed, Roll, Wanted
from upstand.cutting.nest import nest

NOISE = 1e-6


def can_be_cut(placed: Sequence[Placed]) -> bool:
    """Whether straight cuts from edge to edge part the pieces; written without the packer."""
    if len(placed) < 2:
        return True
    for low, size in ((lambda p: p.x, lambda p: p.width), (lambda p: p.y, lambda p: p.length)):
        ordered = sorted(placed, key=low)
        reach = low(ordered[0]) + size(ordered[0])
        for n, piece in enumerate(ordered[1:], start=1):
            if low(piece) >= reach - NOISE:
                return can_be_cut(ordered[:n]) and can_be_cut(ordered[n:])
            reach = max(reach, low(piece) + size(piece))
    return False


def proved(plan: CutPlan, wanted: Sequence[Wanted]) -> CutPlan:
    sizes = {w.id: w for w in wanted}
    laid: Counter[str] = Counter()
    for cut in plan.rolls:
        for p in cut.placed:
            laid[p.id] += 1
            w = sizes[p.id]
            sides = (w.length, w.width) if p.turned else (w.width, w.length)
            assert (p.width, p.length) == pytest.approx(sides)
            assert w.may_turn or not p.turned
            assert p.x >= -NOISE and p.x + p.width <= cut.roll.width + NOISE
            assert p.y >= -NOISE and p.y + p.length <= cut.length_used + NOISE
        assert cut.length_used <= cut.roll.length + NOISE
        assert can_be_cut(cut.placed)
    assert laid + Counter(plan.unplaced) == Counter({w.id: w.count for w in wanted})
    assert plan.length_used >= plan.lower_bound - NOISE
    assert plan.area_used >= plan.lower_bound_area - NOISE
    return plan


def dissected(width: float, length: float, count: int, random: Random) -> list[Wanted]:
    """Cut a full rectangle edge to edge into so many pieces: the best plan uses just that much."""
    parts = [(width, length)]
    while len(parts) < count:
        parts.sort(key=lambda s: s[0] * s[1])
        a, b = parts.pop(len(parts) - 1 - random.randrange(min(3, len(parts))))
        share = random.uniform(0.2, 0.8)
        if a > b:
            c = round(share * a, 1)
            parts += [(c, b), (a - c, b)]
        else:
            c = round(share * b, 1)
            parts += [(a, c), (a, b - c)]
    return [Wanted(f"p{n}", a, b) for n, (a, b) in enumerate(parts)]


@pytest.mark.parametrize(
    ("count", "mean", "each"),
    [(6, 1.04, 1.15), (12, 1.04, 1.15), (30, 1.06, 1.15), (60, 1.06, 1.15), (100, 1.06, 1.15)],
)
def test_near_the_full_rectangle_they_were_cut_from(count: int, mean: float, each: float) -> None:
    """The best is known: the rectangle that was dissected."""
    ratios = []
    for seed in range(8):
        random = Random(100 * count + seed)
        length = random.uniform(60, 300)
        wanted = dissected(40.0, length, count, random)
        ratios.append(proved(nest(wanted, [Roll(40.0)]), wanted).length_used / length)
    assert sum(ratios) / len(ratios) <= mean
    assert max(ratios) <= each


def test_two_widths_use_the_area_that_is_least() -> None:
    random = Random(3)
    wide, slim = dissected(40.0, 120.0, 8, random), dissected(10.0, 200.0, 6, random)
    wanted = [*wide, *(Wanted(f"s{w.id}", w.width, w.length) for w in slim)]
    plan = proved(nest(wanted, [Roll(40.0), Roll(10.0)]), wanted)
    assert plan.area_used <= 1.10 * (40.0 * 120.0 + 10.0 * 200.0)


def test_a_roll_is_never_overrun_and_a_part_roll_is_used_once() -> None:
    wanted = [Wanted("strip", 20.0, 70.0, count=5, may_turn=False)]
    plan = proved(nest(wanted, [Roll(20.0, 150.0), Roll(20.0, 80.0, count=1)]), wanted)
    assert not plan.unplaced
    assert sum(1 for cut in plan.rolls if cut.roll.length == 80.0) <= 1
    assert sum(len(cut.placed) for cut in plan.rolls) == 5


def test_what_fits_no_roll_is_told_not_lost() -> None:
    wanted = [Wanted("too-wide", 50.0, 60.0), Wanted("fits", 10.0, 10.0)]
    plan = proved(nest(wanted, [Roll(40.0)]), wanted)
    assert plan.unplaced == {"too-wide": 1}


def test_what_may_not_turn_is_not_turned() -> None:
    wanted = [Wanted("run", 6.0, 39.0, count=4, may_turn=False)]
    plan = proved(nest(wanted, [Roll(40.0)]), wanted)
    assert plan.length_used == pytest.approx(39.0)


def test_twice_the_same() -> None:
    wanted = dissected(40.0, 200.0, 25, Random(5))
    assert nest(wanted, [Roll(40.0)]) == nest(wanted, [Roll(40.0)])


def test_alike_pieces_of_one_detail_lie_together() -> None:
    """Eight squares four across make two rows: one row each is the nearest they can be."""
    wanted = [Wanted("a", 10.0, 10.0, 4, group="a"), Wanted("b", 10.0, 10.0, 4, group="b")]
    plan = proved(nest(wanted, [Roll(40.0)]), wanted)
    rows = {name: {p.y for p in plan.rolls[0].placed if p.id == name} for name in ("a", "b")}
    assert plan.length_used == pytest.approx(20.0)
    assert all(len(row) == 1 for row in rows.values())


def test_what_is_left_of_a_strip_is_listed() -> None:
    plan = nest([Wanted("one", 30.0, 20.0, may_turn=False)], [Roll(40.0)])
    (cut,) = plan.rolls
    assert [(o.x, o.y, o.width, o.length) for o in cut.offcuts] == [(30.0, 0.0, 10.0, 20.0)]
    assert plan.waste == pytest.approx(0.25)


PUBLISHED: dict[str, Any] = yaml.safe_load(
    (Path(__file__).parents[2] / "reference/strip_packing.yaml").read_text("utf-8")
)


def pieces_of(published: Mapping[str, Any]) -> list[Wanted]:
    sizes = [piece.split("x") for piece in published["pieces"].split()]
    return [Wanted(f"p{n}", float(a), float(b)) for n, (a, b) in enumerate(sizes)]


@pytest.mark.parametrize("name", PUBLISHED)
def test_on_published_sets(name: str) -> None:
    """Where each comes from, and its best length, stands in `reference/strip_packing.yaml`."""
    wanted = pieces_of(PUBLISHED[name])
    width, length = PUBLISHED[name]["strip"]
    assert proved(nest(wanted, [Roll(width)]), wanted).length_used <= 1.15 * length


def test_on_the_mean_of_the_published_sets() -> None:
    ratios = [
        nest(pieces_of(one), [Roll(one["strip"][0])]).length_used / one["strip"][1]
        for one in PUBLISHED.values()
    ]
    assert sum(ratios) / len(ratios) <= 1.06


def random_pieces(count: int, kinds: int) -> list[Wanted]:
    """So many pieces of so many sizes, to the quarter inch, in turn."""
    random = Random(count + kinds)
    sizes = [(random.randint(16, 152) / 4.0, random.randint(16, 440) / 4.0) for _ in range(kinds)]
    return [Wanted(f"p{n}", *sizes[n % kinds], group=f"d{n // 6}") for n in range(count)]


@pytest.mark.parametrize(("count", "kinds"), [(600, 600), (3_000, 900), (20_000, 300)])
def test_many_pieces_are_nested_near_the_area_that_they_take(count: int, kinds: int) -> None:
    """Sizes are uniform, 4 to 38 in by 4 to 110 in: small ones fill what large ones leave."""
    wanted = random_pieces(count, kinds)
    plan = proved(nest(wanted, [Roll(40.0, 600.0), Roll(20.0, 600.0)]), wanted)
    assert not plan.unplaced
    assert plan.area_used <= 1.12 * plan.lower_bound_area
