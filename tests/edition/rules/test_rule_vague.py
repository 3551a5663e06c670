"""Words that nobody can check are refused."""

from __future__ import annotations

from collections.abc import Callable

EXPECTED = [
    "checks/wet-film.yaml: method.en: says 'as required', which nobody can check (found "
    "Gauge it as required, and clean properly.) [vague] -> say what is done, how much, "
    "or what it looks like when it is right",
    "checks/wet-film.yaml: method.es: says 'según sea necesario', which nobody can check "
    "(found Mida según sea necesario.) [vague] -> say what is done, how much, or what it "
    "looks like when it is right",
]


def test_vague(told: Callable[..., list[str]]) -> None:
    assert told("vague") == EXPECTED
