"""Ids that no record has are named, with the nearest that one has."""

from __future__ import annotations

from collections.abc import Callable

EXPECTED = [
    "details/post.yaml: sections.0: does not exist (found angel) [references] -> "
    "nearest: sections/angle, sections/standard-shapes",
    "details/post.yaml: checks.0: does not exist (found checks/wet-films) [references] "
    "-> nearest: checks/wet-film",
    "terms/post.yaml: of: does not exist (found details/pots) [references] -> nearest: "
    "details/post",
]


def test_references(told: Callable[..., list[str]]) -> None:
    assert told("references") == EXPECTED
