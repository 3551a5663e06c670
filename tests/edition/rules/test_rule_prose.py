"""Both languages are there, and are two languages."""

from __future__ import annotations

from collections.abc import Callable

EXPECTED = [
    "checks/wet-film.yaml: method.en: starts or ends in a blank (found  Gauge it.) "
    "[prose] -> take the blank out",
    "tools/grinder.yaml: name.es: is missing or empty (found  ) [prose] -> say it in Spanish",
    "tools/grinder.yaml: use.es: is missing or empty [prose] -> say it in Spanish",
    "terms/post.yaml: means.fr: is not a language here (found fr) [prose] -> write en and es",
    "terms/post.yaml: means.es: is the same as the English (found A post stands through "
    "the roof.) [prose] -> say it in Spanish",
]


def test_prose(told: Callable[..., list[str]]) -> None:
    assert told("prose") == EXPECTED
