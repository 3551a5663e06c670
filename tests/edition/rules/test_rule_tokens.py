"""What a caution waits for can come up."""

from __future__ import annotations

from collections.abc import Callable

EXPECTED = [
    "cautions/sparks.yaml: when.1.0: is nothing that a detail can bring up (found "
    "hazard/spark) [tokens] -> nearest: sparks",
    "cautions/sparks.yaml: when.2.0: is nothing that a detail can bring up (found "
    "activity/grnd) [tokens] -> nearest: activity/grind",
    "cautions/sparks.yaml: when.3.1: is nothing that a detail can bring up (found "
    "weather/hot) [tokens] -> write always, hazard/ID, activity/ID, substrate/ID, "
    "resin/ID, primer/ID, detail/ID",
]


def test_tokens(told: Callable[..., list[str]]) -> None:
    assert told("tokens") == EXPECTED
