"""No legal request costs much more than another: found by a search over shapes, not one example."""

from __future__ import annotations

import copy
import gc
import math
import random
import statistics
import time
from collections.abc import Iterator
from typing import Any

import pytest

from upstand.answer import answer
from upstand.document.requirements import write
from upstand.edition import Edition
from upstand.query import QueryFaults, read_requirements
from upstand.query.requirements import MOST

#: In median examples, of CPU time.
LEGAL, TOO_LONG = 40.0, 15.0
KINDS = ("pipe", "bar", "polygon", "angle", "tube", "i-section")


def inches(value: float) -> str:
    return f"{value:.3f} in"


def place(dice: random.Random, number: int, far: float, way: str) -> list[str]:
    """A place: anywhere, in a row, in a grid or on a ring."""
    if way == "row":
        return [inches(number * far / 50), "0 in"]
    if way == "grid":
        return [inches(number % 7 * far / 7), inches(number // 7 * far / 7)]
    if way == "ring":
        angle = number * math.tau / 50
        return [inches(far * math.cos(angle)), inches(far * math.sin(angle))]
    return [inches(dice.uniform(-far, far)), inches(dice.uniform(-far, far))]


def member(dice: random.Random, kind: str, size: float, corners: int) -> dict[str, Any]:
    """A member of one kind, of about a size."""
    if kind == "pipe":
        return {"section": kind, "od": inches(size)}
    if kind == "bar":
        return {"section": kind, "width": inches(size), "depth": inches(size / 3)}
    if kind == "tube":
        sides = {"width": inches(size + 1), "depth": inches(size + 1.5)}
        return {"section": kind, **sides, "thickness": "1/8 in"}
    if kind == "angle":
        legs = {"leg_a": inches(size + 1), "leg_b": inches(size + 1.5)}
        return {"section": kind, **legs, "thickness": "1/4 in"}
    if kind == "polygon":
        star = dice.choice((1.0, 0.6))
        reach = [(size + 1) * (star if i % 2 else 1.0) for i in range(corners)]
        turns = [i * math.tau / corners for i in range(corners)]
        points = zip(reach, turns, strict=True)
        return {
            "section": kind,
            "points": [[inches(r * math.cos(t)), inches(r * math.sin(t))] for r, t in points],
        }
    walls = {"web_thickness": "1/4 in", "flange_thickness": "1/4 in"}
    return {
        "section": kind,
        "depth": inches(size + 2),
        "flange_width": inches(size + 2),
        **walls,
    }


def large(dice: random.Random) -> dict[str, Any]:
    """A large request: as many members and plates as may be, near or far, turned or not."""
    many = dice.choice((1, 25, 50, 50))
    kind, size = dice.choice(KINDS), dice.choice((1.0, 3.0, 12.0, 60.0))
    far = dice.choice((4.0, 12.0, 40.0, 120.0, 600.0))
    way = dice.choice(("any", "row", "grid", "ring"))
    corners = max(3, 200 // many)
    members = [
        {
            **member(dice, kind, size, corners),
            "substrate": "carbon-steel",
            "at": place(dice, number, far, way),
            "turn": f"{dice.choice((0, 45, dice.uniform(0, 359))):.2f} deg",
        }
        for number in range(many)
    ]
    aside = dice.choice((0.0, far + 2 * size))
    plates = []
    for number in range(dice.choice((0, 1, 50))):
        side = inches(dice.choice((3.0, size)))
        x, y = place(dice, number, far, way)
        at = [inches(float(x.removesuffix(" in")) + aside), y]
        plates.append({"width": side, "length": side, "at": at})
    return {
        "detail": "cluster" if many > 1 else "post",
        "roof": "tpo",
        "members": members,
        "plates": plates,
        "height": dice.choice(("8 in", "12 in", "36 in")),
        "mask_turn": f"{dice.choice((0.0, 45.0, dice.uniform(0, 89))):.2f} deg",
        "count": dice.choice((1, 500)),
    }


def cost(body: dict[str, Any], edition: Edition) -> tuple[float, bool]:
    """CPU seconds of a request, and whether it was answered."""
    begin = time.process_time()
    try:
        write(answer(read_requirements(body, edition), edition))
    except QueryFaults:
        return time.process_time() - begin, False
    return time.process_time() - begin, True


@pytest.fixture(autouse=True)
def _as_a_server() -> Iterator[None]:
    """What other tests left behind is kept from the collector, as a server keeps what it loaded."""
    gc.collect()
    gc.freeze()
    yield
    gc.unfreeze()


@pytest.fixture
def usual(edition: Edition, example: dict[str, Any]) -> float:
    """What a usual question costs: the median of 20 posts, no two alike."""

    def posts() -> Iterator[dict[str, Any]]:
        for number in range(21):
            yield {**copy.deepcopy(example), "height": inches(8 + number / 8)}

    return statistics.median([cost(body, edition)[0] for body in posts()][1:])


def test_the_slowest_legal_request(edition: Edition, usual: float) -> None:
    dice = random.Random(7)
    slowest, answered = 0.0, 0
    for _ in range(60):
        took, legal = cost(large(dice), edition)
        answered += legal
        slowest = max(slowest, took)
    assert answered > 20
    assert slowest < LEGAL * usual, f"{slowest / usual:.0f} usual questions"


@pytest.mark.parametrize("name", sorted(MOST))
def test_a_list_that_is_too_long_is_refused_before_it_is_read(
    edition: Edition, example: dict[str, Any], usual: float, name: str
) -> None:
    took, legal = cost({**copy.deepcopy(example), name: [{}] * 49_000}, edition)
    assert not legal
    assert took < TOO_LONG * usual, f"{took / usual:.0f} usual questions"
