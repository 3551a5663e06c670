"""Drawings: to scale, every text inside the sheet, everything escaped, ids of their own."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any
from xml.etree import ElementTree

import pytest

from upstand.answer import Answer, answer
from upstand.document.requirements import write
from upstand.drawing import VIEWS, NothingToDraw, draw
from upstand.drawing.svg import WIDTH, escape, text_width, wrap
from upstand.edition import Edition
from upstand.query import read_requirements

SVG = "{http://www.w3.org/2000/svg}"
ANGLE = {
    "section": "angle",
    "leg_a": "3 in",
    "leg_b": "3 in",
    "thickness": "1/4 in",
    "substrate": "carbon-steel",
}
PLATE = {"width": "3 in", "length": "3 in", "at": ["6 in", "0 in"]}
BODIES: dict[str, dict[str, Any]] = {
    "angle and plate": {"detail": "post", "roof": "tpo", "members": [ANGLE], "plates": [PLATE]},
    "beam, Spanish, SI": {
        "detail": "post",
        "roof": "tpo",
        "members": [{"designation": "W8x31", "substrate": "carbon-steel"}],
        "units": "si",
        "lang": "es",
    },
    "tall pipe": {
        "detail": "post",
        "roof": "epdm",
        "members": [{"section": "pipe", "nps": "6", "substrate": "stainless-steel"}],
        "height": "24 in",
        "flange": "6 in",
    },
    "two, one turned, and an island": {
        "detail": "post",
        "roof": "pvc",
        "members": [ANGLE, {**ANGLE, "at": ["20 in", "5 in"], "turn": "30 deg"}],
        "plates": [{**PLATE, "at": ["40 in", "0 in"]}],
    },
    "thin rod, small flange": {
        "detail": "post",
        "roof": "tpo",
        "members": [{"section": "rod", "diameter": "1/2 in", "substrate": "carbon-steel"}],
        "flange": "2 in",
        "reveal": "1/4 in",
        "height": "12 in",
    },
}


@pytest.fixture(scope="module")
def answers(edition: Edition) -> Mapping[str, Answer]:
    return {n: answer(read_requirements(b, edition), edition) for n, b in BODIES.items()}


def points(d: str) -> list[tuple[float, float]]:
    return [(float(x), float(y)) for x, y in re.findall(r"(-?\d+(?:\.\d+)?) (-?\d+(?:\.\d+)?)", d)]


def size(d: str) -> tuple[float, float]:
    xs, ys = zip(*points(d), strict=True)
    return max(xs) - min(xs), max(ys) - min(ys)


@pytest.mark.parametrize("view", sorted(VIEWS))
@pytest.mark.parametrize("name", list(BODIES))
def test_every_text_and_line_lies_inside_the_sheet(
    answers: Mapping[str, Answer], name: str, view: str
) -> None:
    root = ElementTree.fromstring(draw(answers[name], view))
    left, top, width, height = map(float, root.attrib["viewBox"].split())
    assert (left, top, width) == (0.0, 0.0, WIDTH)
    texts = list(root.iter(f"{SVG}text"))
    assert len(texts) > 4
    for text in texts:
        run = text_width(text.text or "")
        x, y = float(text.attrib["x"]), float(text.attrib["y"])
        start = {"start": x, "middle": x - run / 2, "end": x - run}[
            text.attrib.get("text-anchor", "start")
        ]
        assert start >= 0.0, text.text
        assert start + run <= width, text.text
        assert 12.0 <= y <= height - 4.0, text.text
    drawn = next(root.iter(f"{SVG}g"))
    for path in drawn.iter(f"{SVG}path"):
        for x, y in points(path.attrib["d"]):
            assert -0.5 <= x <= width + 0.5, path.attrib
            assert -0.5 <= y <= height + 0.5, path.attrib


@pytest.mark.parametrize("view", sorted(VIEWS))
@pytest.mark.parametrize("name", list(BODIES))
def test_texts_do_not_run_into_each_other(
    answers: Mapping[str, Answer], name: str, view: str
) -> None:
    root = ElementTree.fromstring(draw(answers[name], view))
    boxes = []
    for text in root.iter(f"{SVG}text"):
        words = text.text or ""
        run = 0.85 * text_width(words)  # the estimate is on the wide side
        x, y = float(text.attrib["x"]), float(text.attrib["y"])
        start = {"start": x, "middle": x - run / 2, "end": x - run}[
            text.attrib.get("text-anchor", "start")
        ]
        boxes.append((start, y - 11.0, start + run, y, words))
    for number, (x1, y1, x2, y2, one) in enumerate(boxes):
        for a1, b1, a2, b2, other in boxes[number + 1 :]:
            assert not (x1 < a2 and a1 < x2 and y1 < b2 and b1 < y2), (one, other)


def test_plan_is_to_scale(answers: Mapping[str, Answer]) -> None:
    # The example's tape is 16 by 12 in, its plate 3 by 3 in, the plate's cover 7 by 7 in.
    root = ElementTree.fromstring(draw(answers["angle and plate"], "plan"))
    mask = next(p for p in root.iter(f"{SVG}path") if p.get("class") == "mask")
    cover = next(p for p in root.iter(f"{SVG}path") if p.get("class") == "cover")
    width, length = size(mask.attrib["d"])
    unit = width / 16.0
    assert length == pytest.approx(12.0 * unit, abs=0.05)
    assert size(cover.attrib["d"]) == pytest.approx((7.0 * unit, 7.0 * unit), abs=0.05)


def test_section_is_to_scale(answers: Mapping[str, Answer]) -> None:
    # Height 8 in, tape line 8 1/2 in, flange 4 in, reveal 1/2 in: dimension lines run so long.
    root = ElementTree.fromstring(draw(answers["thin rod, small flange"], "section"))
    runs = [size(p.attrib["d"]) for p in root.iter(f"{SVG}path") if p.get("class") == "thin"]
    upright = sorted(h for w, h in runs if w < 0.01 and h > 60.0)
    across = sorted(w for w, h in runs if h < 0.01)
    assert upright[-1] / upright[-2] == pytest.approx(12.25 / 12.0, abs=0.001)
    assert any(w == pytest.approx(upright[-2] * 2.0 / 12.0, abs=0.05) for w in across)
    assert any(w == pytest.approx(upright[-2] * 0.25 / 12.0, abs=0.05) for w in across)


def test_cut_sheet_shows_every_piece_with_its_size(answers: Mapping[str, Answer]) -> None:
    one = answers["angle and plate"]
    texts = " ".join(ElementTree.fromstring(draw(one, "cut-sheet")).itertext()).replace(
        "\u00a0", " "
    )
    document = write(one)
    for piece in document["fleece"]["pieces"]:
        wanted = f"{piece['width']['text']} × {piece['length']['text']}".replace("\u00a0", " ")
        assert wanted in texts
        assert f"{piece['count']} × {piece['label']}" in texts


def test_a_number_and_its_unit_stay_together(answers: Mapping[str, Answer]) -> None:
    for one in answers.values():
        for view in VIEWS:
            for text in ElementTree.fromstring(draw(one, view)).iter(f"{SVG}text"):
                assert not re.match(r"(in|mil|mm|µm)\b", text.text or ""), text.text
                assert not re.search(r"\d$", (text.text or "").rstrip()) or re.fullmatch(
                    r".*\b(base|wrap|cover|envoltura|placa|cubierta)[^0-9]*\d+", text.text or ""
                ), text.text


def test_ids_are_its_own_and_every_reference_is_met(answers: Mapping[str, Answer]) -> None:
    svg = draw(answers["angle and plate"], "plan", name="one-plan")
    ids = re.findall(r'\bid="([^"]+)"', svg)
    assert len(ids) == len(set(ids))
    assert all(found.startswith("one-plan-") for found in ids)
    for used in re.findall(r"url\(#([^)]+)\)", svg):
        assert used in ids
    with pytest.raises(ValueError, match="can't begin an id"):
        draw(answers["angle and plate"], "plan", name='"><script>')


def test_names_are_escaped() -> None:
    assert escape('a<b>&"c\x00\x1b') == "a&lt;b&gt;&amp;&quot;c"


def test_lines_break_at_spaces_only() -> None:
    assert wrap("one two\u00a0three four", text_width("two\u00a0three ")) == [
        "one",
        "two\u00a0three",
        "four",
    ]


def test_without_geometry_there_is_nothing_to_draw(answers: Mapping[str, Answer]) -> None:
    from dataclasses import replace

    one = answers["angle and plate"]
    bare = replace(
        one, layout=replace(one.layout, built=False, regions=(), masking=None, fleece=None)
    )
    for view in VIEWS:
        with pytest.raises(NothingToDraw):
            draw(bare, view)


def test_a_drawing_is_the_same_each_time(answers: Mapping[str, Answer]) -> None:
    one = answers["two, one turned, and an island"]
    assert draw(one, "plan") == draw(one, "plan")
