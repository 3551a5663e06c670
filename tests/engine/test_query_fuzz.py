"""Spoiled requests: an answer, or faults that point into the request; never anything else."""

from __future__ import annotations

import copy
import json
import random
from typing import Any

import pytest

from upstand.answer import answer
from upstand.query import QueryFaults, read_requirements
from upstand.spec import Edition

STEEL = {"substrate": "carbon-steel"}
ANGLE = {"section": "angle", "leg_a": "3 in", "leg_b": "3 in", "thickness": "1/4 in", **STEEL}
#: What a library says of itself, which no roofer wrote.
FOREIGN = (
    "Field may not", "Missing data", "Not a valid", "Invalid", "Unknown field", "Length must",
    "must be", "None", "NoneType", "dict", "Traceback", "expected", "float", "<class",
)  # fmt: skip

WRONG: list[Any] = [
    None, True, False, 0, -1, 1, 3.5, 10**30, float("nan"), float("inf"), "", " ", "x", "8", "8 in",
    "-8 in", "8 F", "55 %", "9" * 50, "1e9 in", "½ in", "\ud800", "\x00", "a\u202eb", [], {},
    [None], {"a": 1}, ["1 in", "2 in"], [["1 in", "2 in"]] * 3, "post", "tpo", "angle", "W8x31",
    [[[]]], "999 ft", "0.0001 in", {"value": 1, "unit": "in"}, "https://example.org", "<b>8 in</b>",
]  # fmt: skip


def places_of(node: Any, place: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """Every place in a request."""
    found = [place] if place else []
    if isinstance(node, dict | list):
        for key, value in node.items() if isinstance(node, dict) else enumerate(node):
            found += places_of(value, (*place, key))
    return found


def spoiled(body: dict[str, Any], chance: random.Random) -> dict[str, Any]:
    """The request with one to three things changed, dropped, added or doubled."""
    body = copy.deepcopy(body)
    for _ in range(chance.randint(1, 3)):
        *path, last = chance.choice(places_of(body))
        node: Any = body
        for key in path:
            node = node[key]
        how = chance.random()
        if how < 0.65:
            node[last] = copy.deepcopy(chance.choice(WRONG))
        elif how < 0.8:
            del node[last]
        elif isinstance(node, dict):
            name = chance.choice(["od", "nps", "points", "turn", "wet", "edition", "~/x", "\ud83d"])
            node[name] = copy.deepcopy(chance.choice(WRONG))
        else:
            node.append(copy.deepcopy(chance.choice([node[last], *WRONG])))
    return body


FULL: dict[str, Any] = {
    "members": [
        {**ANGLE, "at": ["0 in", "0 in"], "turn": "15 deg"},
        {"designation": "W8x31", "at": ["30 in", "0 in"], **STEEL},
        {
            "section": "polygon",
            "points": [["0 in", "0 in"], ["5 in", "0 in"], ["2 in", "4 in"]],
            "at": ["-20 in", "8 in"],
            **STEEL,
        },
        {"section": "pipe", "nps": "4", "at": ["8 in", "12 in"], **STEEL},
    ],
    "mask_turn": "0 deg",
    "fleece": "polyester-165",
    "units": "us",
    "lang": "en",
}


@pytest.mark.parametrize("seed", range(60))
def test_nothing_but_faults_comes_of_a_spoiled_request(
    edition: Edition, example: Any, seed: int
) -> None:
    """Ten spoiled requests a seed: an answer, or faults that point into the request."""
    chance = random.Random(seed)
    whole = {**example, **FULL}
    assert answer(read_requirements(whole, edition), edition).verdict.state == "go"
    for _ in range(10):
        body = spoiled(whole, chance)
        try:
            document = answer(read_requirements(body, edition), edition).document()
        except QueryFaults as faults:
            check_faults(faults, body)
        else:
            json.dumps(document, allow_nan=False).encode()


def check_faults(faults: QueryFaults, body: Any) -> None:
    assert faults.faults
    places = {"".join(f"/{str(k).replace('~', '~0').replace('/', '~1')}" for k in p)
              for p in places_of(body)}  # fmt: skip
    for fault in faults.faults:
        fault.detail.encode()
        fault.pointer.encode()
        assert fault.detail and fault.detail[0] != " ", fault
        assert not any(word in fault.detail for word in FOREIGN), fault
        parent = fault.pointer.rpartition("/")[0]
        known = fault.pointer in places or "?" in fault.pointer
        # what is missing stands where it should be, beside what is there
        assert known or parent in {*places, ""}, fault
