"""Spoiled requests: an answer, or faults that point into the request; never anything else."""

from __future__ import annotations

import copy
import json
import random
from typing import Any

import pytest

from upstand.answer import answer
from upstand.document.requirements import write
from upstand.edition import Edition
from upstand.query import QueryFaults, read_requirements

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
            document = write(answer(read_requirements(body, edition), edition))
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


def odd_member(chance: random.Random, most: float, far: float) -> dict[str, Any]:
    """A member of any kind, from hair-thin to as large as `most`, somewhere within `far`."""

    def size() -> str:
        return f"{chance.choice([1.0, 3.0, 24.0, chance.uniform(0.01, most)]):.4f} in"

    def pair(within: float) -> list[str]:
        return [f"{chance.uniform(-within, within):.3f} in" for _ in "xy"]

    kind = chance.choice(["bar", "angle", "pipe", "tube", "i-section", "channel", "tee", "polygon"])
    fields = {
        "bar": ["width", "depth"],
        "angle": ["leg_a", "leg_b"],
        "pipe": ["od"],
        "tube": ["width", "depth"],
        "polygon": [],
    }.get(kind, ["depth", "flange_width"])
    member: dict[str, Any] = {"section": kind, "at": pair(far), **STEEL}
    member |= {name: size() for name in fields}
    wall = chance.choice(["0.25 in", "0.01 in", "1 in"])
    if kind in ("angle", "tube"):
        member["thickness"] = wall
    if kind in ("i-section", "channel", "tee"):
        member |= {"web_thickness": wall, "flange_thickness": wall}
    if kind == "polygon":
        member["points"] = [pair(most) for _ in range(chance.randint(3, 6))]
    return {**member, "turn": f"{chance.choice([0.0, 30.0, chance.uniform(-360, 360)]):.2f} deg"}


@pytest.mark.parametrize("seed", range(30))
def test_odd_sizes_get_an_answer_or_a_refusal(
    edition: Edition, example: dict[str, Any], seed: int
) -> None:
    """Ten details a seed that nobody would build; what is answered is proved and can be written."""
    chance = random.Random(seed)
    for _ in range(10):
        most, far = 10 ** chance.uniform(0.3, 2.5), 10 ** chance.uniform(0.0, 2.5)
        plate = {"width": f"{most:.3f} in", "length": "3 in", "at": [f"{far:.3f} in", "0 in"]}
        body = {
            **example,
            "members": [odd_member(chance, most, far) for _ in range(chance.randint(1, 5))],
            "plates": [plate] * chance.randint(0, 1),
            "height": f"{10 ** chance.uniform(-2, 2.5):.3f} in",
            "count": chance.randint(1, 500),
        }
        try:
            result = answer(read_requirements(body, edition), edition)
        except QueryFaults as faults:
            check_faults(faults, body)
            continue
        assert result.layout.unproved == ()
        assert all(s.area is None or s.area.value >= 0 for s in result.layout.surfaces)
        json.dumps(write(result), allow_nan=False)


def test_splinters_do_not_break_the_drawing(edition: Edition, example: dict[str, Any]) -> None:
    """Hair-thin outlines across one another, whose grown corners cross: no crash comes of it."""
    thin = {"section": "angle", "leg_a": "10 in", "leg_b": "10 in", "thickness": "0.001 in"}
    tee = {
        "section": "tee", "depth": "6 in", "flange_width": "3.5 in", "web_thickness": "0.25 in",
        "flange_thickness": "0.01 in",
    }  # fmt: skip
    channel = {
        "section": "channel", "depth": "1.0919 in", "flange_width": "60 in",
        "web_thickness": "0.25 in", "flange_thickness": "0.25 in",
    }  # fmt: skip
    bar = {"section": "bar", "width": "8.3954 in", "depth": "24 in"}
    members = [
        {**tee, "at": ["4.082 in", "-15.845 in"], "turn": "-87.89 deg", **STEEL},
        {**thin, "at": ["15.709 in", "17.629 in"], "turn": "30 deg", **STEEL},
        {**bar, "at": ["0.252 in", "-7.439 in"], "turn": "30 deg", **STEEL},
        {**channel, "at": ["8.843 in", "9.884 in"], **STEEL},
    ]
    body = {
        **example,
        "members": members,
        "plates": [],
        "flange": "3.5 in",
        "mask_turn": "-42.7 deg",
    }
    result = answer(read_requirements(body, edition), edition)
    assert result.verdict.state in ("go", "ask")
