"""A check that speaks of a statement has one beside it."""

from __future__ import annotations

from collections.abc import Callable

EXPECTED = [
    "checks/wet-film.yaml: method.en: says 'value below': each door puts the statement "
    "elsewhere (found Gauge it; read the value below.) [statements] -> say the statement",
    "checks/wet-film.yaml: method.es: says 'se dice abajo': each door puts the statement "
    "elsewhere (found Mida; lea lo que se dice abajo.) [statements] -> say the statement",
    "checks/wet-film.yaml: method.es: speaks of a statement that this check does not have"
    " (found Mida; lea lo que se dice abajo.) [statements] -> add `standard`, or say the "
    "number here as a statement",
    "checks/wet-film.yaml: acceptance.en: speaks of a statement that this check does not "
    "have (found No less than the statement.) [statements] -> add `standard`, or say the "
    "number here as a statement",
    "checks/wet-film.yaml: acceptance.es: speaks of a statement that this check does not "
    "have (found No menos que lo publicado.) [statements] -> add `standard`, or say the "
    "number here as a statement",
]


def test_statements(told: Callable[..., list[str]]) -> None:
    assert told("statements") == EXPECTED
