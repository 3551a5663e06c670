"""Ends stand the right way round, tables rise."""

from __future__ import annotations

from collections.abc import Callable

EXPECTED = [
    "resins/pu-2k.yaml: pot_life.points.1: has low above high (found 40 min to 30 min) "
    "[ranges] -> change them round",
    "resins/pu-2k.yaml: pot_life.points.1.at: does not rise from row to row (found 20 "
    "degC) [ranges] -> order rows by temperature",
    "resins/pu-2k.yaml: application: has low above high (found 90 degF to 4 degC) "
    "[ranges] -> change them round",
]


def test_ranges(told: Callable[..., list[str]]) -> None:
    assert told("ranges") == EXPECTED
