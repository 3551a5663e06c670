"""Slots are declared, filled, and the same in both languages."""

from __future__ import annotations

from collections.abc import Callable

EXPECTED = [
    "activities/mix.yaml: say.en: is a slot that is not declared (found {resins}) "
    "[slots] -> nearest: resin",
    "activities/mix.yaml: say.es: is a slot that is not declared (found {resins}) "
    "[slots] -> nearest: resin",
    "limits/wind.yaml: because.en: is a slot that is not declared (found {fund}) [slots] "
    "-> nearest: found",
    "limits/wind.yaml: because: has slots in one language only: found, fund [slots] -> "
    "fill the same slots in both",
    "tools/grinder.yaml: use.en: has braces, and nothing fills slots in this text (found "
    "To grind {surface}.) [slots] -> write the words out",
    "tools/grinder.yaml: use.es: has braces, and nothing fills slots in this text (found "
    "(es) To grind {surface}.) [slots] -> write the words out",
    "wording/dew-point.yaml: text.en: has a brace that is no slot (found Dew point "
    "{value) [slots] -> write {name}, name of a-z, 0-9 and _",
    "wording/dew-point.yaml: text.es: has a brace that is no slot (found Punto de rocío "
    "{value) [slots] -> write {name}, name of a-z, 0-9 and _",
    "wording/dew-point.yaml: slots: is declared and not in the text (found value) "
    "[slots] -> use it or take it out",
]


def test_slots(told: Callable[..., list[str]]) -> None:
    assert told("slots") == EXPECTED
