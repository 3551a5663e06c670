"""Whoever takes off old mastic, paint or flashing is told what may be in it."""

from __future__ import annotations

from collections.abc import Callable

EXPECTED = [
    "details/post.yaml: hazards: has old flashing taken off, which may hold asbestos, lead or PCB "
    "[old-coatings] -> add old-coating to its hazards",
    "preparations/carbon-steel.yaml: steps.0.do.en: takes off what may hold asbestos, "
    "lead or PCB, without saying so (found Scrape off mastic and dirt) [old-coatings] -> "
    "add old-coating to its hazards",
]


def test_old_coatings(told: Callable[..., list[str]]) -> None:
    assert told("old-coatings") == EXPECTED
