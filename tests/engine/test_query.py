"""Wrong requests: every fault at once, where it stands, in words of the trade, never a crash."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from upstand.answer import Answer, answer
from upstand.edition import Edition
from upstand.edition.applies import inputs_of
from upstand.query import QueryFaults, read_requirements
from upstand.query.defaults import settle
from upstand.query.relations import taken_now
from upstand.query.table import inputs
from upstand.scene import details, question

STEEL = {"substrate": "carbon-steel"}
ANGLE = {"section": "angle", "leg_a": "3 in", "leg_b": "3 in", "thickness": "1/4 in", **STEEL}


def faults_of(edition: Edition, body: object) -> dict[str, list[str]]:
    """What is wrong with a request, by place."""
    with pytest.raises(QueryFaults) as raised:
        answer(read_requirements(body, edition), edition)
    found: dict[str, list[str]] = {}
    for fault in raised.value.faults:
        found.setdefault(fault.pointer, []).append(fault.detail)
    return found


def only(edition: Edition, example: dict[str, Any], place: str, **changed: Any) -> str:
    """The one fault of the example with some fields changed, which stands at `place`."""
    found = faults_of(edition, {**example, **changed})
    assert list(found) == [place], found
    assert len(found[place]) == 1, found
    return found[place][0]


@pytest.mark.parametrize("bare", ["8", 8, 8.5, "8 1/2", "216"])
def test_a_bare_number_is_asked_back(edition: Edition, example: Any, bare: Any) -> None:
    said = only(edition, example, "/height", height=bare)
    assert "inches or millimeters?" in said and f'"{bare} in"' in said and f'"{bare} mm"' in said


def test_every_bare_number_at_once(edition: Edition, example: Any) -> None:
    example |= {"height": 8, "flange": "4", "now": {"air": 72, "surface": "78", "humidity": 55}}
    example["members"][0]["leg_a"] = 3
    found = faults_of(edition, example)
    assert set(found) == {
        "/height", "/flange", "/now/air", "/now/surface", "/now/humidity", "/members/0/leg_a",
    }  # fmt: skip
    assert found["/now/air"] == ['is 72 degrees Fahrenheit or Celsius? write "72 F" or "72 C"']
    assert '"55 %"' in found["/now/humidity"][0]


@pytest.mark.parametrize(
    ("field", "value", "near"),
    [("detail", "pst", "post"), ("roof", "tpoo", "tpo"), ("resin", "pu2k", "pu-2k")],
)
def test_unknown_ids_name_the_nearest(
    edition: Edition, example: Any, field: str, value: str, near: str
) -> None:
    said = only(edition, example, f"/{field}", **{field: value})
    assert f"“{value}” is not a known {field}" in said
    assert f"did you mean {near}" in said


def test_a_substrate_that_is_no_member(edition: Edition, example: Any) -> None:
    said = only(edition, example, "/members/0/substrate", members=[{**ANGLE, "substrate": "tpo"}])
    assert "not a known substrate for a member" in said and "carbon-steel" in said
    said = only(
        edition, example, "/members/0/substrate", members=[{**ANGLE, "substrate": "carbon-stel"}]
    )
    assert "did you mean carbon-steel?" in said


def test_a_roof_is_not_made_of_steel(edition: Edition, example: Any) -> None:
    assert "not a known roof" in only(edition, example, "/roof", roof="carbon-steel")


def test_unknown_fields_name_the_nearest(edition: Edition, example: Any) -> None:
    example["members"][0]["thicknes"] = "1/4 in"
    example["plates"][0]["lenght"] = "3 in"
    example["now"]["airr"] = "72 F"
    found = faults_of(edition, {**example, "hieght": "8 in"})
    assert {place: said[0].partition("? ")[0] for place, said in found.items()} == {
        "/hieght": "is not a field here: did you mean height",
        "/members/0/thicknes": "is not a field here: did you mean thickness, web_thickness "
        "or flange_thickness",
        "/plates/0/lenght": "is not a field here: did you mean length",
        "/now/airr": "is not a field here: did you mean air",
    }


IMPOSSIBLE: list[tuple[dict[str, Any], str, str]] = [
    ({**ANGLE, "thickness": "4 in"}, "thickness", "under both legs"),
    ({**ANGLE, "leg_a": "0 in"}, "leg_a", "more than 0"),
    ({**ANGLE, "leg_b": "-3 in"}, "leg_b", "negative"),
    ({**ANGLE, "leg_b": None}, "leg_b", "null"),
    ({k: v for k, v in ANGLE.items() if k != "leg_b"}, "leg_b", "is missing"),
    ({**ANGLE, "od": "3 in"}, "od", "not a field of an angle"),
    ({"section": "pipe", **STEEL}, "od", "is missing"),
    ({"section": "pipe", "nps": "4.2", **STEEL}, "nps", "nominal pipe size"),
    ({"section": "pipe", "nps": "4", "od": "4 in", **STEEL}, "nps", "both given"),
    ({"section": "rod", "nps": "4", "diameter": "4 in", **STEEL}, "nps", "belongs to a pipe"),
    ({"section": "bar", "width": "2 in", "depth": "0.0 in", **STEEL}, "depth", "more than 0"),
    (
        {"section": "tube", "width": "4 in", "depth": "6 in", "thickness": "2 in", **STEEL},
        "thickness",
        "hollow",
    ),
    # the radius by default is twice the wall: 3 in is more than half of 4 in
    (
        {"section": "tube", "width": "4 in", "depth": "4 in", "thickness": "1 1/2 in", **STEEL},
        "corner_radius",
        "by default 3 in is more than half of the short side; give at most 2 in",
    ),
    (
        {
            "section": "tube", "width": "4 in", "depth": "6 in", "thickness": "1/4 in",
            "corner_radius": "2 1/4 in", **STEEL,
        },
        "corner_radius",
        "more than half of the short side",
    ),
    (
        {
            "section": "i-section", "depth": "2 in", "flange_width": "4 in",
            "web_thickness": "1/4 in", "flange_thickness": "1 in", **STEEL,
        },
        "flange_thickness",
        "two flanges must fit",
    ),
    ({"section": "polygon", **STEEL}, "points", "is missing"),
    ({"section": "polygon", "points": [["0 in", "0 in"]] * 4, **STEEL}, "points", "at least 3"),
    (
        {
            "section": "polygon", "points": [[f"{n} in", f"{n} in"] for n in range(3)], **STEEL,
        },
        "points",
        "on one line",
    ),
    (
        {
            "section": "polygon",
            "points": [["0 in", "0 in"], ["4 in", "4 in"], ["4 in", "0 in"], ["0 in", "4 in"]],
            **STEEL,
        },
        "points",
        "cross or touch",
    ),
    ({**ANGLE, "points": [["0 in", "0 in"]]}, "points", "belong to a polygon"),
    ({"section": "angel", **STEEL}, "section", "did you mean angle"),
    ({"section": 3, **STEEL}, "section", "is not text"),
    (STEEL, "section", "is missing"),
    ({"designation": "L3x3x1/5", **STEEL}, "designation", "nearest: L3X3X3/16"),
    ({"designation": 5, **STEEL}, "designation", "is not text"),
    ({"designation": "W8x31", "depth": "8 in", **STEEL}, "depth", "already said"),
    ({**ANGLE, "turn": "30"}, "turn", "degrees"),
    ({**ANGLE, "turn": "400 deg"}, "turn", "360"),
    ({**ANGLE, "at": ["1 in"]}, "at", "two lengths"),
    ({**ANGLE, "at": "1 in, 2 in"}, "at", "two lengths"),
    ({**ANGLE, "at": ["1 in", "1001 ft"]}, "at/1", "1,000 ft"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("member", "field", "words"), IMPOSSIBLE, ids=lambda v: v if isinstance(v, str) else ""
)
def test_impossible_members(
    edition: Edition, example: Any, member: dict[str, Any], field: str, words: str
) -> None:
    found = faults_of(edition, {**example, "members": [ANGLE, member], "plates": []})
    assert list(found) == [f"/members/1/{field}"], found
    assert any(words in said for said in found[f"/members/1/{field}"]), found


@pytest.mark.parametrize(
    ("field", "value", "words"),
    [
        ("height", "0 in", "more than 0"),
        ("height", "-8 in", "negative"),
        ("height", "1001 ft", "1,000 ft"),
        ("height", "99999999999999999999999999 in", "24 digits"),
        ("height", 10**400, "as text with its unit"),
        ("height", 10**5000, "as text with its unit"),
        ("height", float("nan"), "a number"),
        ("height", float("inf"), "as text with its unit"),
        ("height", "1e3 in", "8 1/2 in"),
        ("height", "8 1/0 in", "divides by zero"),
        ("height", "8 F", "8 1/2 in"),
        ("height", "", "is empty"),
        ("height", ["8 in"], "as text with its unit"),
        ("height", {"value": 8}, "as text with its unit"),
        ("height", True, "as text with its unit"),
        ("height", None, "is null"),
        ("flange", "1 7/8 in", "2 in or more"),
        ("reveal", "3/16 in", "1/4–1/2 in"),
        ("reveal", "9/16 in", "1/4–1/2 in"),
        ("mask_turn", "90", "degrees"),
        ("count", 0, "from 1 to 500"),
        ("count", -1, "from 1 to 500"),
        ("count", 501, "from 1 to 500"),
        ("count", 10**5000, "from 1 to 500"),
        ("count", 1.5, "whole number"),
        ("count", "2", "without quotes"),
        ("count", True, "whole number"),
        ("count", None, "is null"),
        ("units", "metric", "us, si"),
        ("lang", "fr", "en, es"),
        ("detail", ["post"], "is not text"),
        ("members", {}, "is not a list of members"),
        ("members", [], "is missing"),
        ("members", "angle", "is not a list of members"),
        ("plates", {"width": "3 in"}, "is not a list of plates"),
        ("now", [], "is not an object"),
        ("now", "warm", "is not an object"),
        ("now", None, "is null"),
        ("resin", None, "is null"),
        ("overlay", None, "is null"),
    ],
    ids=lambda v: v[:24] if isinstance(v, str) else type(v).__name__,
)
def test_one_wrong_field(
    edition: Edition, example: Any, field: str, value: Any, words: str
) -> None:
    said = only(edition, example, f"/{field}", **{field: value})
    assert words in said, said
    assert len(said) < 500


@pytest.mark.parametrize(
    ("now", "words"),
    [
        ({"air": "201 F"}, "-60 °F to 200 °F"),
        ({"air": "-61 F"}, "-60 °F to 200 °F"),
        ({"surface": "94 C"}, "-60 °F to 200 °F"),
        ({"material": "-52 C"}, "-60 °F to 200 °F"),
        ({"humidity": "100.1 %"}, "0 % to 100 %"),
        ({"humidity": "-1 %"}, "percent"),
        ({"humidity": "0.55"}, "per cent or a part of one"),
        ({"rain_chance": "101 %"}, "0 % to 100 %"),
        ({"wind": "12"}, "miles or kilometers an hour"),
        ({"wind": "-3 mph"}, "negative"),
        ({"wet": "no"}, "true or false"),
        ({"wet": 0}, "true or false"),
        ({"wet": None}, "is null"),
        ({"air": "72 %"}, "a percentage"),
    ],
    ids=str,
)
def test_weather_no_roof_has(edition: Edition, example: Any, now: Any, words: str) -> None:
    place = f"/now/{next(iter(now))}"
    assert words in only(edition, example, place, now={**example["now"], **now})


@pytest.mark.parametrize("air", ["200 F", "-60 F", "93 C", "-51 C"])
def test_the_ends_of_what_a_roof_can_have_are_right_questions(
    ask: Callable[..., Answer], air: str
) -> None:
    now = {"air": air, "surface": air, "humidity": "100 %", "material": air}
    assert ask(now=now).verdict.state == "hold"


def test_places_in_a_list_keep_their_number(edition: Edition, example: Any) -> None:
    """What is null or no object at all does not shift those behind it."""
    members = [None, {**ANGLE, "leg_a": "9"}, 5, "angle", {**ANGLE, "section": "angl"}]
    plates = [None, {"width": "3 in", "length": "x"}]
    found = faults_of(edition, {**example, "members": members, "plates": plates})
    assert set(found) == {
        "/members/0", "/members/1/leg_a", "/members/2", "/members/3", "/members/4/section",
        "/plates/0", "/plates/1/length",
    }  # fmt: skip


def test_all_faults_at_once(edition: Edition) -> None:
    body = {
        "detail": "polle",
        "members": [
            {"section": "angle", "leg_a": "3 in", "leg_b": "3 in", "thickness": "4 in"},
            {"section": "pipe", "substrate": "stel"},
        ],
        "plates": [{"width": "3 in"}],
        "height": 8,
        "count": "two",
        "now": {"humidity": "110 %"},
        "colour": "white",
    }
    found = faults_of(edition, body)
    assert set(found) == {
        "/detail", "/roof", "/members/0/thickness", "/members/0/substrate", "/members/1/od",
        "/members/1/substrate", "/plates/0/length", "/height", "/count", "/now/humidity", "/colour",
    }  # fmt: skip
    assert len(found["/members/0/thickness"]) == 2, "4 in is over each of two legs"


@pytest.mark.parametrize("body", [None, [], "post", 5, True])
def test_no_object_at_all(edition: Edition, body: Any) -> None:
    assert list(faults_of(edition, body)) == [""]


def test_an_empty_request_names_what_is_missing(edition: Edition) -> None:
    found = faults_of(edition, {})
    assert set(found) == {"/detail", "/roof"}
    assert all("is missing" in said[0] for said in found.values())


def test_a_detail_with_members_needs_one(edition: Edition) -> None:
    assert "is missing" in faults_of(edition, {"detail": "post", "roof": "tpo"})["/members"][0]


def test_ceilings_are_told_before_any_work(edition: Edition, example: Any) -> None:
    plate = {"width": "3 in", "length": "3 in", "at": ["40 in", "0 in"]}
    round_it = [[f"{n} in", f"{n * n / 100:g} in"] for n in range(201)]
    found = faults_of(
        edition,
        {**example, "members": [ANGLE] * 51, "plates": [plate] * 51},
    )
    assert set(found) == {"/members", "/plates"}
    assert "50" in found["/members"][0] and "50" in found["/plates"][0]
    many = {"section": "polygon", "points": round_it, **STEEL}
    said = only(edition, example, "/members/0/points", members=[many], plates=[])
    assert "200" in said


@pytest.mark.parametrize(
    "changed",
    [
        {"members": [{"section": "bar", "width": "1000 ft", "depth": "1000 ft", **STEEL}]},
        {"height": "1000 ft", "flange": "1000 ft"},
        {"members": [{**ANGLE, "at": ["1000 ft", "0 in"]}, ANGLE], "flange": "1000 ft"},
    ],
    ids=["shaft", "height", "flange"],
)
def test_too_many_pieces_are_refused_before_they_are_made(
    edition: Edition, example: Any, changed: dict[str, Any]
) -> None:
    found = faults_of(edition, {**example, "plates": [], **changed})
    assert "2,000 pieces" in found[""][0]


def test_a_plate_over_a_member_is_refused(edition: Edition, example: Any) -> None:
    plates = [{"width": "3 in", "length": "3 in", "at": ["2 3/4 in", "0 in"]}]
    said = only(edition, example, "/plates/0", plates=plates)
    assert "overlaps member 1" in said


def test_a_plate_beside_a_member_is_not(ask: Callable[..., Answer]) -> None:
    plates = [{"width": "3 in", "length": "3 in", "at": ["3 in", "0 in"]}]
    assert ask(plates=plates).verdict.state == "go"


@pytest.mark.parametrize("name", details())
def test_every_default_that_is_filled_in_is_listed(edition: Edition, name: str) -> None:
    """Whatever has a default in the table of inputs stands in `assumed` where it was not given."""
    body = {field: value for field, value in question(name).items() if field != "now"}
    settled = settle(read_requirements(body, edition), edition)
    listed = {assumption.pointer for assumption in settled.assumptions}
    pointers = {item.name: item.pointer for item in inputs(edition)}
    given = {*body, *settled.query.sizes, *settled.query.choices}
    for input, rows in inputs_of(edition, body["detail"]).items():
        row = taken_now(rows, settled.choices)
        if row is None or row.measured or input in given or row.get("worked_out"):
            continue
        if any(row.get(field) is not None for field in ("default", "parameter", "choice")):
            assert pointers[input] in listed, input
    assert {"/crew", "/count", "/units", "/lang"} <= listed
