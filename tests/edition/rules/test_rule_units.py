"""Amounts are of the dimension that the field is for."""

from __future__ import annotations

from collections.abc import Callable

EXPECTED = [
    "primers/metal-wood.yaml: coats.value: measures volume, not a plain count (found 1 "
    "gal) [units] -> write a plain number",
    "resins/pu-2k.yaml: pot_life.at: measures time, not temperature (found 70 min) "
    "[units] -> write it in degF or degC",
    "resins/pu-2k.yaml: application.low: measures temperature difference, not "
    "temperature (found 40 delta_degF) [units] -> write it in degF or degC",
    "resins/pu-2k.yaml: layers.base.value: measures length, not film (found 0.04 in) "
    "[units] -> write it in mil or um",
    "resins/pu-2k.yaml: layers.top.value: '25' is not an amount; write number, space, "
    'unit: "8 1/2 in", "25 min" (found 25) [units] -> write it in mil or um',
    "resins/pu-2k.yaml: layers.bed.value: 'thou' is not a unit of the list (found 20 "
    "thou) [units] -> write it in mil or um",
    "packs/resin-1-gal.yaml: size.value: is below zero (found -1 gal) [units] -> write "
    "zero or more",
    "parameters/corner-arm.yaml: value.also: is of the same system of units (found 8.01 in) "
    "[units] -> write it as its source does in the other system, or leave it out",
    "parameters/least-reach.yaml: value.also: is not 8 in, not even rounded (found 150 mm) "
    "[units] -> write both as the source does",
]


def test_units(told: Callable[..., list[str]]) -> None:
    assert told("units") == EXPECTED
