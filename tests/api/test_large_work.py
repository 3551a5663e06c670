"""Large work has a line of its own: the worst requests at once hold up no usual question."""

from __future__ import annotations

import threading
import time
from collections.abc import Iterator
from typing import Any

import pytest
from flask import Flask

from upstand.edition import Edition
from upstand_api.admission import is_large
from upstand_api.app import create_app
from upstand_api.settings import Settings

#: With eight of the worst at once a usual question is answered within so many examples.
GOAL = 200.0
BAR = {"section": "bar", "width": "3 in", "depth": "1 in", "substrate": "carbon-steel"}
PLATE = {"width": "30 in", "length": "30 in"}


def cluster() -> dict[str, Any]:
    """As many bars and plates as may be, far apart, under a turned mask."""
    members = [{**BAR, "at": [f"{n % 7 * 90} in", f"{n // 7 * 90} in"]} for n in range(50)]
    plates = [{**PLATE, "at": [f"{n % 7 * 90 + 40} in", f"{n // 7 * 90} in"]} for n in range(50)]
    members = [{**m, "turn": f"{n * 7} deg"} for n, m in enumerate(members)]
    return {
        "detail": "cluster",
        "roof": "tpo",
        "members": members,
        "plates": plates,
        "mask_turn": "33 deg",
    }


def worst(example: dict[str, Any]) -> Iterator[tuple[str, dict[str, Any]]]:
    """Requests that are slow in different ways: by what they hold, how far, how many."""
    points = [[f"{20 + n % 2 * 3 + n // 50} in", f"{n} in"] for n in range(100)]
    points += [[f"{-20 - n % 2 * 3} in", f"{100 - n} in"] for n in range(100)]
    jagged = {"section": "polygon", "points": points, "substrate": "carbon-steel"}
    kinds = [
        {"id": f"a{n}", "width": f"{3 + n * 1.37:.2f} in", "length": f"{4 + n * 2.11:.2f} in"}
        for n in range(8)
    ]
    yield "/v1/requirements", cluster()
    yield "/v1/requirements", {**example, "flange": "230 ft"}
    yield "/v1/requirements", {**example, "members": [jagged]}
    yield "/v1/cutlist", {"pieces": [{**kind, "count": 240} for kind in kinds]}


@pytest.fixture
def app(draft_root: Any) -> Flask:
    return create_app(Settings(specdata=draft_root))


def test_the_worst_are_large_and_the_usual_are_not(edition: Edition, example: Any) -> None:
    from upstand.scene import details, question

    assert all(is_large(body) for _, body in worst(example))
    assert not is_large(example)
    assert not any(is_large(question(name)) for name in details())


@pytest.mark.parametrize("body", [{"a": "9" * 5_000 + " in"}, {"a": ["1,,,1 in"]}, None, "x", 5])
def test_any_body_has_a_weight(body: Any) -> None:
    assert is_large(body) in (True, False)


def test_a_usual_question_beside_eight_of_the_worst(app: Flask, example: dict[str, Any]) -> None:
    def ask(path: str, body: dict[str, Any]) -> int:
        return app.test_client().post(path, json=body).status_code

    def took_s(number: int) -> float:
        begin = time.perf_counter()
        assert ask("/v1/requirements", {**example, "height": f"{9 + number / 8} in"}) == 200
        return time.perf_counter() - begin

    alone = sorted(took_s(number) for number in range(11))[5]
    told: list[int] = []
    asked = [pair for pair in worst(example) for _ in range(2)]
    threads = [threading.Thread(target=lambda p=p: told.append(ask(*p))) for p in asked]
    for thread in threads:
        thread.start()
    beside = [took_s(20 + number) for number in range(5)]
    assert any(thread.is_alive() for thread in threads), "the worst are no longer at work"
    for thread in threads:
        thread.join()
    # who waits too long for a place is told to come again
    assert len(told) == 8 and set(told) <= {200, 422, 503}
    assert max(beside) < GOAL * alone, f"{max(beside) / alone:.0f} examples"
