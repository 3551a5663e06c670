"""What a caution waits for can come up."""

from __future__ import annotations

from collections.abc import Callable

EXPECTED = [
    "cautions/sparks.yaml: when.1.0: is nothing that a detail can bring up (found "
    "hazard/spark) [tokens] -> nearest: sparks",
    "cautions/sparks.yaml: when.2.0: is nothing that a detail can bring up (found "
    "activity/grnd) [tokens] -> nearest: activity/grind",
    "cautions/sparks.yaml: when.3.1: is nothing that a detail can bring up (found "
    "weather/hot) [tokens] -> write one of: always, members, plates, resin, primer, "
    "hazard/ID, family/ID, activity/ID, detail/ID, primer/ID, resin/ID, section/ID, "
    "substrate/ID, tool/ID",
]


def test_tokens(told: Callable[..., list[str]]) -> None:
    assert told("tokens") == EXPECTED
