"""Preparation and priming stand under activities that call for them, in order."""

from __future__ import annotations

from collections.abc import Callable

EXPECTED = [
    "preparations/carbon-steel.yaml: steps.1.activity: comes after a later one: "
    "degrease, then grind, abrade, clean (found activities/grind) [callers] -> put the "
    "steps in this order",
    "primers/metal-wood.yaml: activity: is not an activity of priming (found "
    "activities/mask) [callers] -> use one of: activities/prime-metal",
    "details/post.yaml: work.0.activity: is not among this detail's activities (found "
    "activities/paint) [callers] -> add it there, or say it elsewhere",
]


def test_callers(told: Callable[..., list[str]]) -> None:
    assert told("callers") == EXPECTED
