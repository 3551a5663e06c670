"""Activities come in an order that the trade can work in."""

from __future__ import annotations

from collections.abc import Callable

EXPECTED = [
    "details/post.yaml: activities.12: is named twice (found unmask) [trade-order] -> name it once",
    "details/post.yaml: activities.7: comes after clean: dust is cleaned off, not masked "
    "in (found abrade) [trade-order] -> put abrade before clean",
    "details/post.yaml: activities.5: comes after prime-metal: primer goes out to the "
    "tape (found mask) [trade-order] -> put mask before prime-metal",
    "details/post.yaml: activities.7: comes after prime-metal: dust never lands in "
    "primer (found abrade) [trade-order] -> put abrade before prime-metal",
    "details/post.yaml: activities.4: comes after prime-metal: primer goes on clean "
    "surface (found clean) [trade-order] -> put clean before prime-metal",
    "details/post.yaml: activities: has fleece and no top-coat [trade-order] -> add "
    "activities/top-coat",
]


def test_trade_order(told: Callable[..., list[str]]) -> None:
    assert told("trade-order") == EXPECTED
