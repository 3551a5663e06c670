"""What cures by isocyanate forbids alcohol; the resin that does is accepted."""

from __future__ import annotations

from collections.abc import Callable

EXPECTED = [
    "primers/metal-wood.yaml: never: does not forbid an alcohol wipe, and alcohol stops isocyanate "
    "from curing [isocyanates] -> say it there",
]


def test_isocyanates(told: Callable[..., list[str]]) -> None:
    assert told("isocyanates") == EXPECTED
