"""The sketch of where to measure: every size of a detail that has no default, to scale."""

from __future__ import annotations

import math
import re
from typing import Any
from xml.etree import ElementTree

import pytest

from upstand.answer import answer
from upstand.drawing.measure import draw_measures
from upstand.drawing.svg import WIDTH
from upstand.edition import Edition
from upstand.query import read_requirements
from upstand.query.forms import input_forms

SVG = "{http://www.w3.org/2000/svg}"
OPENING = {"width": "8 in", "height": "4 in"}
#: Details, their sizes, and those sizes in inches in the order in which they are asked for.
SIZES: dict[str, tuple[dict[str, Any], dict[str, float]]] = {
    "wall-base": ({"length": "40 in"}, {"length": 40}),
    "threshold": (
        {"length": "30 in", "riser": "4 in", "sill": "5 in", "accepted": True},
        {"length": 30, "riser": 4, "sill": 5},
    ),
    "curb": ({"width": "30 in", "length": "36 in"}, {"width": 30, "length": 36}),
    "drain": ({"bowl": "16 in", "seat": "11 in"}, {"bowl": 16, "seat": 11}),
    "scupper": (
        {"opening": OPENING, "depth": "7 in"},
        {"opening_width": 8, "opening_height": 4, "depth": 7},
    ),
    "crack": ({"length": "30 in"}, {"length": 30}),
    "metal-joint": ({"length": "9 in"}, {"length": 9}),
    "tie-in": ({"length": "30 in"}, {"length": 30}),
    "patch": ({"width": "6 in", "length": "3 in"}, {"width": 6, "length": 3}),
}


@pytest.mark.parametrize("lang", ["en", "es"])
@pytest.mark.parametrize("detail", list(SIZES))
def test_every_measured_size_is_drawn_to_scale_and_named(
    detail: str, lang: str, edition: Edition
) -> None:
    asked, inches = SIZES[detail]
    body = {"detail": detail, "roof": "tpo", "lang": lang, **asked}
    svg = draw_measures(answer(read_requirements(body, edition), edition), "sketch")
    assert svg is not None
    root = ElementTree.fromstring(svg)
    drawn = next(root.iter(f"{SVG}g"))
    lines = [p.attrib["d"] for p in drawn.iter(f"{SVG}path") if p.get("class") == "piece"]
    runs = [math.dist(*ends(d)) for d in lines]
    fields = [
        field
        for field in input_forms(edition, detail, lang)
        if field["required"] and field["reads"] == "length"
    ]
    assert {field["name"] for field in fields} == set(inches)
    scale = max(runs) / max(inches.values())
    assert sorted(runs) == pytest.approx(sorted(size * scale for size in inches.values()), abs=0.1)
    texts = " ".join(t.text or "" for t in root.iter(f"{SVG}text")).replace("\u00a0", " ")
    for field in fields:
        assert field["label"] in texts and field["how"] in texts
    numbers = [t for t in root.iter(f"{SVG}text") if re.fullmatch(r"\d", t.text or "")]
    assert len(numbers) == 2 * len(inches)  # in the figure and in the list
    assert all(0 <= float(t.attrib["x"]) <= WIDTH for t in root.iter(f"{SVG}text"))


def ends(d: str) -> list[tuple[float, float]]:
    found = re.findall(r"(-?[\d.]+) (-?[\d.]+)", d)
    return [(float(x), float(y)) for x, y in found]


def test_what_has_no_such_size_has_no_sketch(edition: Edition) -> None:
    pipe = {"section": "pipe", "od": "4 in", "substrate": "cast-iron"}
    for body in ({"detail": "pipe", "members": [pipe]}, {"detail": "drain"}):
        asked = read_requirements({"roof": "tpo", **body}, edition)
        assert draw_measures(answer(asked, edition)) is None
