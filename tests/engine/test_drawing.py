"""Drawings: to scale, every text inside the sheet, everything escaped, ids of their own."""

from __future__ import annotations

import random
import re
import time
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from shapely.geometry import LineString, Point, box
from shapely.geometry.base import BaseGeometry

from upstand.answer import Answer, answer
from upstand.document.requirements import write
from upstand.drawing import VIEWS, NothingToDraw, draw
from upstand.drawing.svg import STYLE, WIDTH, escape, text_width, wrap
from upstand.edition import Edition
from upstand.edition.strict_yaml import read_file
from upstand.query import QueryFaults, read_requirements

AnyDetail = Callable[[random.Random], dict[str, Any]]
SVG = "{http://www.w3.org/2000/svg}"
BODIES: dict[str, dict[str, Any]] = read_file(Path(__file__).with_name("drawn.yaml"), "drawn.yaml")


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
def test_nothing_is_clipped_and_no_word_crosses_another(
    answers: Mapping[str, Answer], name: str, view: str
) -> None:
    check_sheet(draw(answers[name], view), name)


def check_sheet(svg: str, name: str) -> None:
    """Every text and line inside the sheet, no text on another, no leader through anything."""
    root = ElementTree.fromstring(svg)
    left, top, width, height = map(float, root.attrib["viewBox"].split())
    assert (left, top, width) == (0.0, 0.0, WIDTH)
    boxes = []
    for text in root.iter(f"{SVG}text"):
        words = text.text or ""
        run = text_width(words, bold="bold" in text.attrib.get("class", ""))
        x, y = float(text.attrib["x"]), float(text.attrib["y"])
        start = {"start": x, "middle": x - run / 2, "end": x - run}[
            text.attrib.get("text-anchor", "start")
        ]
        assert start >= 0.0 and start + run <= width, (name, words)
        assert 12.0 <= y <= height - 4.0, (name, words)
        less = 0.075 * run  # the estimate of its width is on the wide side
        boxes.append((start + less, y - 11.0, start + run - less, y, words))
    assert len(boxes) > 2, name
    for number, (x1, y1, x2, y2, one) in enumerate(boxes):
        for a1, b1, a2, b2, other in boxes[number + 1 :]:
            assert not (x1 < a2 and a1 < x2 and y1 < b2 and b1 < y2), (name, one, other)
    drawn = next(root.iter(f"{SVG}g"))
    for path in drawn.iter(f"{SVG}path"):
        for x, y in points(path.attrib["d"]):
            assert -0.5 <= x <= width + 0.5, (name, path.attrib)
            assert -0.5 <= y <= height + 0.5, (name, path.attrib)
    check_leaders(drawn, [box(*sides) for *sides, _ in boxes], name)


#: Lines that a leader may not cross: edges, folds, tape, fleece, sizes, what stands or lies there.
PARTS = (
    "piece", "mask", "tape", "fleece", "plate", "sleeve", "breaker", "under", "crease", "joined",
    "thin",
)  # fmt: skip


def check_leaders(drawn: ElementTree.Element, words: list[BaseGeometry], name: str) -> None:
    leaders: list[BaseGeometry] = []
    parts: list[BaseGeometry] = []
    for path in drawn.iter(f"{SVG}path"):
        style, lines = path.get("class"), strokes(path.attrib["d"])
        if style == "leader":
            leaders += lines
        elif style in PARTS:
            parts += lines
    dots = [
        Point(float(dot.attrib["cx"]), float(dot.attrib["cy"]))
        for dot in drawn.iter(f"{SVG}circle")
        if dot.get("r") == "2.5"
    ]
    assert len(dots) == len(leaders), name
    for number, (leader, dot) in enumerate(zip(leaders, dots, strict=True)):
        assert leader.distance(dot) < 0.1, name
        assert not any(leader.intersects(word) for word in words), name
        assert not any(leader.intersects(other) for other in leaders[number + 1 :]), name
        way = leader.difference(dot.buffer(3.5))
        assert not any(way.intersects(part) for part in parts), name


def strokes(d: str) -> list[BaseGeometry]:
    """Take a path apart into its strokes, each drawn through."""
    found = []
    for part in d.split("M")[1:]:
        through = points(part)
        if part.endswith("Z"):
            through.append(through[0])
        if len(through) > 1:
            found.append(LineString(through))
    return found


def test_plan_is_to_scale(answers: Mapping[str, Answer]) -> None:
    # The example's tape is 16 by 12 in, its plate 3 by 3 in.
    root = ElementTree.fromstring(draw(answers["angle and plate"], "plan"))
    drawn = next(root.iter(f"{SVG}g"))
    mask = next(p for p in drawn.iter(f"{SVG}path") if p.get("class") == "mask")
    plate = next(p for p in drawn.iter(f"{SVG}path") if p.get("class") == "plate")
    width, length = size(mask.attrib["d"])
    unit = width / 16.0
    assert length == pytest.approx(12.0 * unit, abs=0.05)
    assert size(plate.attrib["d"]) == pytest.approx((3.0 * unit, 3.0 * unit), abs=0.05)


def test_section_is_to_scale(answers: Mapping[str, Answer]) -> None:
    # Height 12 in, reveal 1/4 in, flange 2 in: dimension lines run so long.
    root = ElementTree.fromstring(draw(answers["thin rod, small flange"], "section"))
    runs = [size(p.attrib["d"]) for p in root.iter(f"{SVG}path") if p.get("class") == "thin"]
    upright = max(h for w, h in runs if w < 0.01)
    unit = upright / 12.0
    assert any(h == pytest.approx(0.25 * unit, abs=0.02) for w, h in runs if w < 0.01)
    across = [w for w, h in runs if h < 0.01]
    assert any(w == pytest.approx(2.0 * unit, abs=0.05) for w in across)
    assert any(w == pytest.approx(0.25 * unit, abs=0.02) for w in across)


@pytest.mark.parametrize("name", list(BODIES))
def test_every_piece_stands_in_the_figure_of_the_plan_and_of_the_section(
    answers: Mapping[str, Answer], name: str
) -> None:
    """In the plan every piece but the caps, whose anchors nobody places, and what is left out at
    a break; in the section all that its list of pieces names.
    """
    one = answers[name]
    assert one.layout.fleece is not None
    plan, section = (ElementTree.fromstring(draw(one, view)) for view in ("plan", "section"))
    wanted = {piece.letter for piece in one.layout.fleece.pieces if piece.kind != "cap"}
    missing = wanted - in_figure(plan)
    if any(path.get("class") == "break" for path in plan.iter(f"{SVG}path")):
        assert len(wanted - missing) >= 3 or not missing, missing
    else:
        assert not missing
    rows = [t.text or "" for t in section.iter(f"{SVG}text") if t.get("class") == "bold"]
    assert {letter for row in rows for letter in listed(row)} <= in_figure(section)


def in_figure(root: ElementTree.Element) -> set[str]:
    """Return the letters of pieces in the figure itself, not in the list below it."""
    texts = [t.text or "" for t in root.iter(f"{SVG}text") if "halo" in t.get("class", "")]
    words = [word for text in texts for word in text.split("\u00a0")]
    return {letter for word in words for letter in listed(word)}


@pytest.mark.parametrize("name", list(BODIES))
def test_every_piece_has_its_letter_on_the_list_and_the_cut_sheet(
    answers: Mapping[str, Answer], name: str
) -> None:
    one = answers[name]
    assert one.layout.fleece is not None
    for view in ("plan", "cut-sheet"):
        texts = [t.text or "" for t in ElementTree.fromstring(draw(one, view)).iter(f"{SVG}text")]
        marks = {letter for text in texts for letter in listed(text)}
        missing = {piece.letter for piece in one.layout.fleece.pieces} - marks
        assert not missing, view


@pytest.mark.parametrize("name", list(BODIES))
def test_a_piece_has_one_letter_in_answer_steps_and_drawings(
    answers: Mapping[str, Answer], name: str
) -> None:
    document = write(answers[name])
    pieces = [piece["letter"] for piece in document["fleece"]["pieces"]]
    assert len(set(pieces)) == len(pieces)
    fitted = next(step["text"] for step in document["steps"] if step["activity"] == "dry-fit")
    in_step = [letter for part in fitted.split("; ") for letter in listed(part.split(": ")[-1])]
    assert in_step == pieces  # in the order of laying, each once
    for view in ("plan", "cut-sheet"):
        root = ElementTree.fromstring(draw(answers[name], view))
        rows = [t.text or "" for t in root.iter(f"{SVG}text") if t.get("class") == "bold"]
        in_list = [letter for row in rows for letter in listed(row) if not row.startswith("(")]
        assert in_list == pieces, view


def listed(text: str) -> Iterator[str]:
    """Yield the letters that a text names: B2, (B2), or B2–B5."""
    found = re.match(r"\(?([A-Z])(\d+)(?:–\1(\d+))?", text)
    if found:
        first, last = int(found[2]), int(found[3] or found[2])
        yield from (f"{found[1]}{number}" for number in range(first, last + 1))


@pytest.mark.parametrize("seed", range(20))
def test_random_details_are_drawn_with_nothing_clipped_or_crossing(
    edition: Edition, any_detail: AnyDetail, seed: int
) -> None:
    """Ten details a seed, three views each: 200 details in all."""
    chance = random.Random(seed)
    for _ in range(10):
        body = any_detail(chance)
        try:
            one = answer(read_requirements(body, edition), edition)
        except QueryFaults:
            continue
        for view in VIEWS:
            try:
                svg = draw(one, view)
            except NothingToDraw:
                assert not one.layout.built or one.layout.fleece is None
                continue
            check_sheet(svg, f"{view} of {body}")


def test_a_number_and_its_unit_stay_together(answers: Mapping[str, Answer]) -> None:
    numbered = r"\(?[A-Z]\d+( [A-Z]\d+)*\)?|.*[a-zñóí] \d+"  # a letter, or a piece's name
    for one in answers.values():
        for view in VIEWS:
            for text in ElementTree.fromstring(draw(one, view)).iter(f"{SVG}text"):
                words = (text.text or "").rstrip().replace("\u00a0", " ")
                assert not re.match(r"(in|mil|mm|µm)\b", words), words
                if re.search(r"\d$", words):
                    assert re.fullmatch(numbered, words) or "–" in words, words


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
    nothing = replace(one.layout, built=False, regions=(), masking=None, fleece=None)
    bare = replace(one, ground=replace(one.ground, layout=nothing))
    for view in VIEWS:
        with pytest.raises(NothingToDraw):
            draw(bare, view)


def test_a_drawing_is_the_same_each_time(answers: Mapping[str, Answer]) -> None:
    one = answers["two, one turned, and an island"]
    assert draw(one, "plan") == draw(one, "plan")


def test_styles_of_drawings_are_none_of_the_pages_own() -> None:
    """What the handbook hides on paper by a class must not hide a line of a drawing."""
    own = set(re.findall(r"\.drawing(?: path,\.drawing)? \.([a-z-]+)", STYLE))
    css = Path(__file__).parents[2] / "site" / "theme" / "assets" / "upstand.css"
    pages = set(re.findall(r"\.([a-z][a-z-]*)", css.read_text(encoding="utf-8")))
    assert len(own) > 20
    assert own & pages == set()


PIPE = {"section": "pipe", "od": "2 in", "substrate": "copper"}
LARGE: dict[str, dict[str, Any]] = {
    "fifty pipes far apart": {
        "detail": "cluster",
        "members": [{**PIPE, "at": [f"{n % 10 * 60} in", f"{n // 10 * 60} in"]} for n in range(50)],
    },
    "a wall of 1,000 ft, high": {"detail": "wall-base", "length": "1000 ft", "height": "40 in"},
    "a curb of 60 by 90 ft": {"detail": "curb", "width": "60 ft", "length": "90 ft"},
    "fifty plates": {
        "detail": "wall-base",
        "length": "300 ft",
        "plates": [
            {"width": "3 in", "length": "3 in", "at": [f"{20 + 60 * n} in", "12 in"]}
            for n in range(50)
        ],
    },
    "a hole of 1/8 in": {"detail": "patch", "width": "1/8 in", "length": "1/8 in"},
    "a crack up a wall": {
        "detail": "crack",
        "length": "10 ft",
        "surfaces": [{"substrate": "concrete", "orientation": "upright"}],
    },
}


@pytest.mark.parametrize("name", list(LARGE))
def test_what_is_large_or_tiny_is_drawn_in_time(edition: Edition, name: str) -> None:
    one = answer(read_requirements({"roof": "tpo", **LARGE[name]}, edition), edition)
    for view in VIEWS:
        start = time.process_time()
        svg = draw(one, view)
        assert time.process_time() - start < 5.0, view
        assert len(svg) < 500_000, view
        check_sheet(svg, f"{view} of {name}")
