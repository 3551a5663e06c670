"""What every test shares: the edition being edited, one right request, and the way to an answer."""

from __future__ import annotations

import copy
from collections.abc import Callable
from typing import Any

import pytest

from upstand.answer import Answer, answer
from upstand.edition import Edition, load
from upstand.query import read_requirements

#: A steel angle through TPO with one fastener plate beside it, in weather that lets work go.
EXAMPLE: dict[str, Any] = {
    "detail": "post",
    "roof": "tpo",
    "members": [
        {
            "section": "angle",
            "leg_a": "3 in",
            "leg_b": "3 in",
            "thickness": "1/4 in",
            "substrate": "carbon-steel",
        }
    ],
    "height": "8 in",
    "flange": "4 in",
    "reveal": "1/2 in",
    "plates": [{"width": "3 in", "length": "3 in", "at": ["6 in", "0 in"]}],
    "resin": "pu-2k",
    "count": 1,
    "now": {"air": "72 F", "surface": "78 F", "humidity": "55 %", "material": "70 F"},
}

Ask = Callable[..., Answer]


@pytest.fixture(scope="session")
def edition() -> Edition:
    """The edition that is being edited."""
    return load(id="next")


@pytest.fixture
def example() -> dict[str, Any]:
    """A fresh copy of the request that is answered with `go`."""
    return copy.deepcopy(EXAMPLE)


@pytest.fixture(scope="session")
def ask(edition: Edition) -> Ask:
    """Answer the example with some fields put in their place; a field given None is left out."""

    def answered(body: dict[str, Any] | None = None, /, **changed: Any) -> Answer:
        whole = {**copy.deepcopy(EXAMPLE if body is None else body), **changed}
        kept = {name: value for name, value in whole.items() if value is not None}
        return answer(read_requirements(kept, edition), edition)

    return answered
