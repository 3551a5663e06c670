"""What is confirmed says by when."""

from __future__ import annotations

from collections.abc import Callable

EXPECTED = [
    "checks/letter.yaml: by: is missing: what is confirmed says by when [by-when] -> one "
    "of: days-ahead, before-ladder, before-pail, until-watertight",
    "checks/wet-film.yaml: by: is for what is confirmed before the work (found days-"
    "ahead) [by-when] -> take it out",
    "limits/calm.yaml: by: is missing: what is confirmed says by when [by-when] -> one "
    "of: days-ahead, before-ladder, before-pail, until-watertight",
]


def test_by_when(told: Callable[..., list[str]]) -> None:
    assert told("by-when") == EXPECTED
