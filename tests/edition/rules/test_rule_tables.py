"""No size is listed twice."""

from __future__ import annotations

from collections.abc import Callable

EXPECTED = [
    "sections/standard-shapes.yaml: tables.angle.rows.2: is listed twice (found "
    "L3X3X1/4) [tables] -> keep the right one of the two",
]


def test_tables(told: Callable[..., list[str]]) -> None:
    assert told("tables") == EXPECTED
