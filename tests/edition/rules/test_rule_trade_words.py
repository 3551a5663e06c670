"""Words that the terms keep out are found, whole words only."""

from __future__ import annotations

from collections.abc import Callable

EXPECTED = [
    "checks/wet-film.yaml: method.en: says 'Grey' (found Look for Grey spots, greyhounds "
    "apart.) [trade-words] -> say 'gray', see terms/fleece",
    "checks/wet-film.yaml: method.es: says 'vellón' (found Busque vellón seco.) [trade-"
    "words] -> say 'tela', see terms/fleece",
]


def test_trade_words(told: Callable[..., list[str]]) -> None:
    assert told("trade-words") == EXPECTED
