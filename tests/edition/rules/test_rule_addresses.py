"""Data holds no web address."""

from __future__ import annotations

from collections.abc import Callable

EXPECTED = [
    "packs/resin-1-gal.yaml: size.basis.locator: holds an address (example.com) (found "
    "as quoted at example.com) [addresses] -> name the body, the title and the clause",
    "sources/handbook.yaml: issuer: holds an address (www.example.org) (found An "
    "institute, www.example.org) [addresses] -> name the body, the title and the clause",
]


def test_addresses(told: Callable[..., list[str]]) -> None:
    assert told("addresses") == EXPECTED
