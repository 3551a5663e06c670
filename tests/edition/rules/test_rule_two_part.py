"""Two parts have a pot life, one has none, a catalyst has a dose."""

from __future__ import annotations

from collections.abc import Callable

EXPECTED = [
    "primers/metal-wood.yaml: pot_life: stands for a product of one part, which has none "
    "[two-part] -> write skin_time, or parts: 2",
    "primers/metal-wood.yaml: dose: is missing, and a catalyst is dosed from a table "
    "only [two-part] -> write the table, or a stop that asks for it",
    "resins/pu-2k.yaml: pot_life: is missing, and two parts start to set when they meet "
    "[two-part] -> write the time and its temperature",
]


def test_two_part(told: Callable[..., list[str]]) -> None:
    assert told("two-part") == EXPECTED
