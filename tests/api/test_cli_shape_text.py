"""Members and plates typed on one line: what is read, what is refused and in which words."""

from __future__ import annotations

import string
import time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from upstand.edition import Edition
from upstand.quantity.typed import read
from upstand.query import read_requirements
from upstand.query.shape_text import LONGEST, SHAPES, TextFault, read_member, read_plate
from upstand.sections import FIELDS

ANGLE = {"section": "angle", "leg_a": "3 in", "leg_b": "3 in", "thickness": "1/4 in"}
STEEL = {"substrate": "carbon-steel"}


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("angle 3x3x1/4 in carbon-steel", {**ANGLE, **STEEL}),
        # as crews say it: the name behind, and nobody writes a fraction of a millimeter
        ("3x3x1/4 angle carbon-steel", {**ANGLE, **STEEL, "leg_a": "3 in"}),
        ("angle 3x3x1/4 in in carbon-steel", {**ANGLE, **STEEL}),
        ("Angle 3 X 3 × 1/4 in carbon steel", {**ANGLE, **STEEL}),
        ("angle 3 in x 3 in x 1/4 in of carbon-steel", {**ANGLE, **STEEL}),
        (
            "angle 3x3x1/4 in carbon-steel at 6,0 in turn 30 deg",
            {**ANGLE, **STEEL, "at": ["6 in", "0 in"], "turn": "30 deg"},
        ),
        (
            "angle 3x3x1/4 in turn -30 deg at -6 in, 1/2 in",
            {**ANGLE, "turn": "-30 deg", "at": ["-6 in", "1/2 in"]},
        ),
        (
            "angle 75x75x6 mm in aluminum",
            {
                "section": "angle",
                "leg_a": "75 mm",
                "leg_b": "75 mm",
                "thickness": "6 mm",
                "substrate": "aluminum",
            },
        ),
        (
            'angle 3"x3"x1/4" carbon-steel',
            {"section": "angle", "leg_a": '3"', "leg_b": '3"', "thickness": '1/4"', **STEEL},
        ),
        (
            "i-section 8x8x0.285x0.435 in carbon-steel",
            {
                "section": "i-section",
                "depth": "8 in",
                "flange_width": "8 in",
                "web_thickness": "0.285 in",
                "flange_thickness": "0.435 in",
                **STEEL,
            },
        ),
        (
            "tube 4x4x1/4x1/2 in galvanized-steel",
            {
                "section": "tube",
                "width": "4 in",
                "depth": "4 in",
                "thickness": "1/4 in",
                "corner_radius": "1/2 in",
                "substrate": "galvanized-steel",
            },
        ),
        ("pipe 4 1/2 in carbon-steel", {"section": "pipe", "od": "4 1/2 in", **STEEL}),
        ("pipe 114.3 mm in carbon-steel", {"section": "pipe", "od": "114.3 mm", **STEEL}),
        ("pipe 2'-6 1/2\" carbon-steel", {"section": "pipe", "od": "2'-6 1/2\"", **STEEL}),
        ("bar 1/4x3 in", {"section": "bar", "width": "1/4 in", "depth": "3 in"}),
        ("rod 1 in carbon-steel", {"section": "rod", "diameter": "1 in", **STEEL}),
        ("nps 4 carbon-steel", {"section": "pipe", "nps": "4", **STEEL}),
        ("nps 1 1/2 in carbon-steel", {"section": "pipe", "nps": "1 1/2", **STEEL}),
        ("pipe nps 1-1/2 carbon-steel", {"section": "pipe", "nps": "1-1/2", **STEEL}),
        ("L3x3x1/4 carbon-steel", {"designation": "L3x3x1/4", **STEEL}),
        ("L2-1/2x2x1/4 in carbon-steel", {"designation": "L2-1/2x2x1/4", **STEEL}),
        ("w8x31 at 0,0 in", {"designation": "w8x31", "at": ["0 in", "0 in"]}),
        ("Pipe 4 STD carbon-steel", {"designation": "Pipe 4 STD", **STEEL}),
    ],
)
def test_members_are_read(text: str, expected: dict[str, object]) -> None:
    assert read_member(text) == expected


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "is empty"),
        ("   ", "is empty"),
        ("agle 3x3x1/4 in", "did you mean angle?"),
        ("at 6,0 in", "does not start with a shape"),
        ("angle", "has no size: an angle takes 3 sizes, leg a x leg b x thickness"),
        ("angle 3x3 in carbon-steel", "and 2 are given"),
        ("angle 3x3x in", "and 2 are given"),
        ("pipe 4x4x4 in", "a pipe takes its outside diameter, and 3 are given"),
        ("channel 6 in", "depth x flange width x web thickness x flange thickness, and 1 is given"),
        ("angle 75x75x6 carbon-steel", 'write "75x75x6 in" or "75x75x6 mm"'),
        (
            "angle 3 in x 3 x 75 mm",
            'has 3 without a unit beside sizes with one: write it as "3 in"',
        ),
        ("angle 3x3x1/4 in carbon_steel", 'write it as "carbon-steel"'),
        ("angle 3x3x1/4 in at 6 in", "write two lengths"),
        ("angle 3x3x1/4 in at 6,0,2 in", "write two lengths"),
        ("angle 3x3x1/4 in at", "has nothing behind “at”"),
        ("angle 3x3x1/4 in turn", "has nothing behind “turn”"),
        ("angle 3x3x1/4 in at 1,1 in at 2,2 in", "has “at” twice"),
        ("angle " + "3" * 200, f"{LONGEST} are read"),
    ],
)
def test_members_are_refused_in_words(text: str, words: str) -> None:
    with pytest.raises(TextFault) as fault:
        read_member(text)
    assert words in str(fault.value)


def test_plates() -> None:
    assert read_plate("3x3 in at 6,0 in") == {
        "width": "3 in",
        "length": "3 in",
        "at": ["6 in", "0 in"],
    }
    assert read_plate("75x80 mm in stainless-steel") == {
        "width": "75 mm",
        "length": "80 mm",
        "substrate": "stainless-steel",
    }


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("3x3", 'write "3x3 in" or "3x3 mm"'),
        ("3 in", "a plate takes 2 sizes, width x length, and 1 is given"),
        ("3x3 in turn 30 deg", "has “turn”, which a plate does not take"),
        ("", "is empty"),
    ],
)
def test_plates_are_refused_in_words(text: str, words: str) -> None:
    with pytest.raises(TextFault) as fault:
        read_plate(text)
    assert words in str(fault.value)


def test_shapes_are_the_sections_of_the_engine() -> None:
    typed = {name: (shape.fields, shape.may) for name, shape in SHAPES.items()}
    # a polygon is a list of points: too long for one line, it comes in a file
    engine = {name: (f.needs, f.may) for name, f in FIELDS.items() if name != "polygon"}
    assert typed == engine


@pytest.mark.parametrize("shape", SHAPES.values(), ids=list(SHAPES))
def test_every_example_in_a_message_is_accepted(shape: object, edition: Edition) -> None:
    member = read_member(shape.example)  # type: ignore[attr-defined]
    body = {"detail": "post", "roof": "tpo", "members": [member]}
    query = read_requirements(body, edition)
    assert query.members[0].section == member["section"]


_numbers = st.one_of(
    st.integers(1, 99).map(str),
    st.tuples(st.integers(1, 40), st.sampled_from(["1/4", "1/2", "7/8", "3/16"])).map(
        lambda pair: f"{pair[0]} {pair[1]}"
    ),
    st.sampled_from(["1/4", "3/16", "0.285", "12.75"]),
)


@given(
    name=st.sampled_from(sorted(SHAPES)),
    data=st.data(),
    unit=st.sampled_from(["in", "mm", '"', "cm"]),
    material=st.sampled_from(["", "carbon-steel", "in carbon-steel", "of pe-pp", "cast iron"]),
    by=st.sampled_from(["x", " x ", "×", " X "]),
    placed=st.booleans(),
)
def test_what_is_typed_comes_back(
    name: str, data: st.DataObject, unit: str, material: str, by: str, placed: bool
) -> None:
    fields = SHAPES[name].fields
    sizes = data.draw(st.lists(_numbers, min_size=len(fields), max_size=len(fields)))
    gap = "" if unit == '"' else " "
    said = "pipe od" if name == "pipe" else name
    text = f"{said} {by.join(sizes)}{gap}{unit} {material}"
    if placed:
        text += " at 1 1/2,-3 in turn 45 deg"
    member = read_member(text)
    assert member["section"] == name
    for field, size in zip(fields, sizes, strict=True):
        found, meant = read(member[field], "length"), read(f"{size} {unit}", "length")
        assert (found.value, found.unit) == (meant.value, meant.unit)
    known = {"": None, "cast iron": "cast-iron"}
    expected = known.get(material, material.removeprefix("in ").removeprefix("of "))
    assert member.get("substrate") == expected
    assert member.get("at") == (["1 1/2 in", "-3 in"] if placed else None)
    assert member.get("turn") == ("45 deg" if placed else None)


_alphabet = string.ascii_letters + string.digits + " x/.,-'\"×½°\u00a0\t\n\x00"


@given(st.one_of(st.text(max_size=200), st.text(alphabet=_alphabet, max_size=140)))
def test_any_text_is_read_or_refused_with_words(text: str) -> None:
    for read_one in (read_member, read_plate):
        try:
            body = read_one(text)
        except TextFault as fault:
            assert len(str(fault)) > 10
        else:
            assert all(isinstance(value, str | list) for value in body.values())


def test_the_longest_text_takes_no_time() -> None:
    started = time.perf_counter()
    for text in ("pipe " + "1 " * 57, "L" + "1x" * 59, "angle " + "x" * 110, "nps " + "1/" * 55):
        for read_one in (read_member, read_plate):
            try:
                read_one(text)
            except TextFault:
                continue
    assert time.perf_counter() - started < 0.2
