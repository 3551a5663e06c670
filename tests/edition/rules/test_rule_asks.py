"""An ask says whom, and names two facts."""

from __future__ import annotations

from collections.abc import Callable

EXPECTED = [
    "resins/pu-2k.yaml: stops.0.unless: is no field of resins (found doze) [asks] -> nearest: dose",
    "resins/pu-2k.yaml: stops.1.id: names two stops of this record (found wet-lid) "
    "[asks] -> give each its own id",
    "resins/pu-2k.yaml: stops.3.confirmed: is not on this record's own list (found checks/age) "
    "[asks] -> add it to `confirm`",
    "limits/height.yaml: whom: is missing: an ask says whom [asks] -> name the contact",
    "limits/height.yaml: facts: lists 1: an ask names at least 2 facts to have at hand "
    "[asks] -> say what will be asked back",
]


def test_asks(told: Callable[..., list[str]]) -> None:
    assert told("asks") == EXPECTED
