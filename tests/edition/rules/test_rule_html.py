"""Prose holds no markup."""

from __future__ import annotations

from collections.abc import Callable

EXPECTED = [
    "checks/wet-film.yaml: method.en: holds markup (]() (found See [here](page).) [html] "
    "-> write plain text",
    "checks/wet-film.yaml: method.es: holds markup (]() (found (es) See [here](page).) "
    "[html] -> write plain text",
    "tools/grinder.yaml: use.en: holds markup (<b>) (found To <b>grind</b>.) [html] -> "
    "write plain text",
    "tools/grinder.yaml: use.es: holds markup (&amp;) (found Para esmerilar &amp; "
    "pulir.) [html] -> write plain text",
]


def test_html(told: Callable[..., list[str]]) -> None:
    assert told("html") == EXPECTED
