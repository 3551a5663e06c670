"""A time names its temperature and scales as its chemistry allows."""

from __future__ import annotations

from collections.abc import Callable

EXPECTED = [
    "primers/metal-wood.yaml: flash_off.scales: halves with warmth, which holds for "
    "reaction cure, not for solvent leaving (found halves) [times] -> write scales: none "
    "with why_none, or a table",
    "resins/pu-2k.yaml: pot_life.at: is missing: a time holds at a temperature [times] "
    '-> write at: "70 degF", or the one it holds at',
    "resins/pu-2k.yaml: cure.scales: is table where there are no points, or points stand "
    "without it (found table) [times] -> write points: [{at, low, high}, ...] with "
    "scales: table",
]


def test_times(told: Callable[..., list[str]]) -> None:
    assert told("times") == EXPECTED
