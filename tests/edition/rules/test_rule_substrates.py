"""No substrate is left without preparation or primer in silence."""

from __future__ import annotations

from collections.abc import Callable

EXPECTED = [
    "substrates/carbon-steel.yaml: primer_why: is missing, and the primer is none "
    "[substrates] -> say why none, or what to ask: {en, es}",
    "substrates/carbon-steel.yaml: preparation: is none, and nothing stops work on it "
    "(found none) [substrates] -> name a preparation, or add a stop that says why it is "
    "not touched",
]


def test_substrates(told: Callable[..., list[str]]) -> None:
    assert told("substrates") == EXPECTED
