"""Waits and windows over hours that differ; the sums stand beside each case."""

from __future__ import annotations

import pytest

from upstand.stages.hours import Stretch, always, done_at, last_minute

DAY = 24 * 60


def hours(*grounds: float | None) -> list[Stretch]:
    return [Stretch(60 * n, 60 * (n + 1), ground) for n, ground in enumerate(grounds)]


def cure(ground: float) -> float:
    """Four hours at 70 °F and above, doubled for each 18 °F colder."""
    return max(240.0, 240.0 * 2 ** ((70 - ground) / 18))


@pytest.mark.parametrize(
    ("since", "grounds", "wanted"),
    [
        (0, [70] * 6, 240),  # four hours
        (15, [70] * 6, 255),
        (0, [90] * 6, 240),  # warmth never shortens a wait
        (0, [52] * 9, 480),  # 18 °F colder: eight
        (0, [70, 70, 70, 52, 52, 52, 52, 52], 480),  # the fourth hour is cold: eight from the start
        (0, [70, 70, 70, 70, 52], 240),  # over before it is cold
        (1, [70, 70, 70, 70, 52, 52, 52, 52, 52], 481),  # one minute reaches into the cold
        (0, [70, 70, 70], None),  # the hours end first
        (0, [70, None, 70, 70, 70], None),  # unknown on the way
        (300, [52, 52, 52, 52, 52, 70, 70, 70, 70], 540),  # what was cold before does not count
    ],
)
def test_a_wait_goes_by_the_coldest_on_the_way(
    since: int, grounds: list[float | None], wanted: int | None
) -> None:
    assert done_at(since, hours(*grounds), cure) == wanted


def test_a_wait_without_a_number_is_never_over() -> None:
    below = hours(70, 69, 70)
    assert done_at(0, below, lambda ground: None if ground < 70 else 60.0) == 60
    assert done_at(30, below, lambda ground: None if ground < 70 else 60.0) is None


@pytest.mark.parametrize(
    ("since", "grounds", "wanted"),
    [
        (0, [70] * 30, DAY),
        (0, [40] * 30, DAY),  # the clock runs on in the cold
        (0, [88] * 30, 12 * 60),
        # 24 equivalent hours: six at 88 are twelve, twelve more at 70
        (0, [88] * 6 + [70] * 24, 18 * 60),
        # half an hour at 88 is one; 22 at 60 are 22; the 24th is reached in the next at 60
        (30, [88] + [60] * 30, 60 + 23 * 60),
        # unknown counts as stated
        (0, [None] * 30, DAY),
        (0, [88] * 2, 2 * 60 + 20 * 60),
    ],
)
def test_a_window_is_used_up_faster_where_it_is_warm(
    since: int, grounds: list[float | None], wanted: int
) -> None:
    assert last_minute(since, hours(*grounds), DAY, 70.0, 18.0) == wanted


def test_the_night_that_decides_a_day_of_two() -> None:
    """At 78 °F throughout: 24 h / 2^(8/18) = 17 h 38 min, rounded down."""
    assert last_minute(0, always(78.0), DAY, 70.0, 18.0) == 17 * 60 + 38


def test_a_gap_between_readings_counts_by_the_clock() -> None:
    gap = [Stretch(0, 60, 88.0), Stretch(180, 3000, 88.0)]
    # 2 + 2 by the clock, 20 left at twice the pace: 180 + 600
    assert last_minute(0, gap, DAY, 70.0, 18.0) == 180 + 600
