"""A figure in Spanish is the figure in English."""

from __future__ import annotations

from collections.abc import Callable

EXPECTED = [
    "checks/wet-film.yaml: acceptance.es: has the numbers 2, 45, the English 2, 40 "
    "(found Al menos 45 mil, en 2 h.) [numbers] -> write the same figures in both",
]


def test_numbers(told: Callable[..., list[str]]) -> None:
    assert told("numbers") == EXPECTED
