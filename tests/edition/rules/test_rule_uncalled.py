"""What nothing calls is found; a term's name is no call, a trigger is."""

from __future__ import annotations

from collections.abc import Callable

EXPECTED = [
    "checks/forgotten.yaml: is called by nothing, so that nobody ever reads it [uncalled]"
    " -> name it where it is used, give it `when`, or take the file out",
    "cautions/weather.yaml: when: waits for a hazard that no record has, so that nobody "
    "ever reads it [uncalled] -> name the hazard where it is, or call it by what else "
    "brings it up",
    "tools/whisk.yaml: is called by nothing, so that nobody ever reads it [uncalled] -> "
    "name it where it is used, give it `when`, or take the file out",
]


def test_uncalled(told: Callable[..., list[str]]) -> None:
    assert told("uncalled") == EXPECTED
