"""Slots are declared, filled, and the same in both languages."""

from __future__ import annotations

from collections.abc import Callable

EXPECTED = [
    "activities/mix.yaml: say.en: is a slot that nothing fills (found {resins}) "
    "[slots] -> nearest: resin_need",
    "activities/mix.yaml: say.es: is a slot that nothing fills (found {resins}) "
    "[slots] -> nearest: resin_need",
    "limits/wind.yaml: because.en: is a slot that nothing fills (found {fund}) [slots] "
    "-> nearest: found",
    "limits/wind.yaml: because: has slots in one language only: found, fund [slots] -> "
    "fill the same slots in both",
    "tools/grinder.yaml: use.en: has braces, and nothing fills slots in this text (found "
    "To grind {surface}.) [slots] -> write the words out",
    "tools/grinder.yaml: use.es: has braces, and nothing fills slots in this text (found "
    "(es) To grind {surface}.) [slots] -> write the words out",
]


def test_slots(told: Callable[..., list[str]]) -> None:
    assert told("slots") == EXPECTED
