"""Packs: expected choices are worked by hand, or found by trying every mix."""

from __future__ import annotations

import itertools
import math
import time
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from upstand.stages.packs import Choice, PackFault, choose, choose_for_mixes, choose_rolls

QUARTS = {"quart": 0.25, "gallon": 1.0, "3-gal": 3.0}


@pytest.mark.parametrize(
    ("need", "sizes", "counts", "leftover"),
    [
        (0.163, QUARTS, {"quart": 1}, 0.25 - 0.163),
        (0.25, QUARTS, {"quart": 1}, 0.0),
        (0.251, QUARTS, {"quart": 2}, 0.5 - 0.251),
        (0.9, QUARTS, {"gallon": 1}, 0.1),  # four quarts leave as little, but are four
        (2.6, QUARTS, {"gallon": 2, "quart": 3}, 2.75 - 2.6),  # not 3 gal, which leaves 0.4
        (3.3, QUARTS, {"3-gal": 1, "quart": 2}, 0.2),
        (7.0, {"three": 3.0, "five": 5.0}, {"five": 1, "three": 1}, 1.0),  # 3 × 3 leaves 2
        (9.0, {"three": 3.0, "five": 5.0}, {"three": 3}, 0.0),  # 2 × 5 leaves 1
        (8.0, {"three": 3.0, "four": 4.0, "five": 5.0}, {"five": 1, "three": 1}, 0.0),
        (0.001, {"five": 5.0}, {"five": 1}, 4.999),
    ],
)
def test_hand_worked(
    need: float, sizes: dict[str, float], counts: dict[str, int], leftover: float
) -> None:
    found = choose(need, sizes)
    assert dict(found.counts) == counts
    assert found.leftover == pytest.approx(leftover, abs=1e-12)
    assert found.opened == pytest.approx(need + leftover, abs=1e-12)


def test_largest_pack_is_named_first() -> None:
    assert list(choose(4.2, QUARTS).counts) == ["3-gal", "gallon", "quart"]


def test_no_need_opens_nothing() -> None:
    assert choose(0.0, {}) == Choice({}, 0.0, 0.0)


def test_rounding_of_the_need_opens_no_extra_pack() -> None:
    assert 0.1 + 0.2 > 0.3
    assert dict(choose((0.1 + 0.2) * 10, {"3-gal": 3.0}).counts) == {"3-gal": 1}


def test_metric_packs_are_whole_parts_of_each_other() -> None:
    litre = 1 / 3.785411784
    # 10 L in packs of 2.5 L and 10 L: one pack, though four of 2.5 L come out a hair apart
    found = choose(10 * litre, {"small": 2.5 * litre, "large": 10 * litre})
    assert dict(found.counts) == {"large": 1}


def test_of_two_packs_of_one_size_the_first_id_is_taken() -> None:
    assert dict(choose(2.0, {"b": 1.0, "a": 1.0}).counts) == {"a": 2}


@pytest.mark.parametrize(
    "sizes",
    [
        QUARTS,
        {"a": 0.2371, "b": 0.6413, "c": 1.0, "d": 0.3371, "e": 0.777},
        {"a": 0.237754847, "b": 3},
    ],
)
def test_a_great_need_is_met_at_once(sizes: dict[str, float]) -> None:
    start = time.perf_counter()
    found = choose(1e6, sizes)
    assert time.perf_counter() - start < 1.0
    assert sum(sizes[id] * count for id, count in found.counts.items()) >= 1e6 - 1e-6
    assert found.leftover < min(sizes.values())


def test_a_great_need_in_simple_sizes_leaves_nothing() -> None:
    # 1,000,000 = 333,333 × 3 + 1
    assert dict(choose(1e6, QUARTS).counts) == {"3-gal": 333_333, "gallon": 1}


@pytest.mark.parametrize("need", [-1.0, math.nan, math.inf])
def test_a_need_that_is_no_amount(need: float) -> None:
    with pytest.raises(PackFault, match="can't be packed"):
        choose(need, QUARTS)


@pytest.mark.parametrize("size", [0.0, -1.0, math.nan])
def test_a_pack_that_holds_nothing(size: float) -> None:
    with pytest.raises(PackFault, match="pack empty holds"):
        choose(1.0, {"empty": size})


def test_no_pack() -> None:
    with pytest.raises(PackFault, match="no pack"):
        choose(1.0, {})


def _every_mix(need: Fraction, sizes: list[Fraction]) -> tuple[Fraction, int]:
    """Return the least that can be opened and the fewest packs that do it, by trying all mixes."""
    ranges = [range(math.ceil(need / size) + 1) for size in sizes]
    totals = (
        (sum((n * size for n, size in zip(mix, sizes, strict=True)), Fraction(0)), sum(mix))
        for mix in itertools.product(*ranges)
    )
    return min(total for total in totals if total[0] >= need)


# In hundredths of a gallon: exact as fractions, and seldom exact as floats.
_SIZES = st.lists(st.integers(20, 400), min_size=1, max_size=3, unique=True)


@settings(max_examples=150, deadline=None)
@given(need=st.integers(1, 1000), sizes=_SIZES)
def test_same_as_trying_every_mix(need: int, sizes: list[int]) -> None:
    least, fewest = _every_mix(Fraction(need), [Fraction(size) for size in sizes])
    found = choose(need / 100, {str(size): size / 100 for size in sizes})
    assert sum(int(id) * count for id, count in found.counts.items()) == least
    assert sum(found.counts.values()) == fewest
    assert found.leftover == pytest.approx(float(least - need) / 100, abs=1e-9)


ROLLS = {"6-in": (6.0, 600.0), "10-in": (10.0, 600.0), "20-in": (20.0, 600.0)}


@pytest.mark.parametrize(
    ("need", "widest", "counts"),
    [
        (500, 5, {"6-in": 1}),
        (500, 6, {"6-in": 1}),
        (500, 6.25, {"10-in": 1}),
        # 20 × 600 = 12,000 in2 and 10 × 600 = 6,000 in2
        (13_000, 10, {"20-in": 1, "10-in": 1}),
        (13_000, 10.5, {"20-in": 2}),
        (0, 50, {}),
    ],
)
def test_rolls_are_wide_enough(need: float, widest: float, counts: dict[str, int]) -> None:
    assert dict(choose_rolls(need, widest, ROLLS).counts) == counts


def test_no_roll_is_wide_enough() -> None:
    with pytest.raises(PackFault, match=r"widest piece is 24\.5 in and the widest roll 20 in"):
        choose_rolls(500, 24.5, ROLLS)


@settings(max_examples=150, deadline=None)
@given(need=st.integers(1, 1000), sizes=_SIZES, least=st.integers(0, 12))
def test_at_least_so_many_packs_same_as_trying_every_mix(
    need: int, sizes: list[int], least: int
) -> None:
    ranges = [range(max(least, math.ceil(need / size)) + 1) for size in sizes]
    fit = (
        (sum(n * size for n, size in zip(mix, sizes, strict=True)), sum(mix))
        for mix in itertools.product(*ranges)
        if sum(mix) >= least
    )
    opened, fewest = min(each for each in fit if each[0] >= need)
    found = choose(need / 100, {str(size): size / 100 for size in sizes}, least)
    counts = {int(id): count for id, count in found.counts.items()}
    assert sum(size * count for size, count in counts.items()) == opened
    assert sum(counts.values()) == fewest


@pytest.mark.parametrize(
    ("need", "mixes", "counts"),
    [
        # twelve posts of 0.163 gal, one a mix: twelve quarts, not two gallons that set in the pail
        (1.96, 12, {"quart": 12}),
        # primer: six mixes of a few spoonfuls are six quarts all the same
        (0.06, 6, {"quart": 6}),
        # a wall, 0.41 gal a mix: of a gallon 0.59 would be waste; 7 × 0.25 = 1.75
        (1.643, 4, {"quart": 7}),
        # four mixes of just a gallon each
        (4.0, 4, {"gallon": 4}),
        # 0.99 gal a mix: a gallon or four quarts open as much: fewest
        (3.96, 4, {"gallon": 4}),
        # one mix: two gallons and three quarts open 2.75, the 3 gal 3
        (2.6, 1, {"gallon": 2, "quart": 3}),
        # 0.24 gal a mix: no gallon, however few
        (0.72, 3, {"quart": 3}),
        (0.0, 3, {}),
    ],
)
def test_packs_that_can_be_laid(need: float, mixes: int, counts: dict[str, int]) -> None:
    assert dict(choose_for_mixes(need, QUARTS, mixes).counts) == counts


def test_a_great_need_of_many_mixes_is_met_at_once() -> None:
    start = time.perf_counter()
    found = choose_for_mixes(1400.0, QUARTS, 2000)
    assert time.perf_counter() - start < 1.0
    assert sum(QUARTS[id] * count for id, count in found.counts.items()) >= 1400.0
    assert sum(found.counts.values()) >= 2000
