"""Dates are of the calendar and not to come."""

from __future__ import annotations

from collections.abc import Callable

EXPECTED = [
    "fleeces/polyester.yaml: thickness.checked_on: is not a day of the calendar (found "
    '2026-02-30) [dates] -> write "YYYY-MM-DD"',
    "fleeces/polyester.yaml: areal_mass.checked_on: lies after 2026-11-24, the day of "
    "this check (found 2026-11-25) [dates] -> write the day it was checked on",
]


def test_dates(told: Callable[..., list[str]]) -> None:
    assert told("dates", date="2026-11-24") == EXPECTED
