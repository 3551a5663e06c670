"""Drawings: to scale, every text inside the sheet, everything escaped, ids of their own."""

from __future__ import annotations

import random
import re
from collections.abc import Iterator, Mapping
from typing import Any
from xml.etree import ElementTree

import pytest
from shapely.geometry import Point, Polygon, box
from shapely.geometry.base import BaseGeometry

from upstand.answer import Answer, answer
from upstand.drawing import VIEWS, NothingToDraw, draw
from upstand.drawing.cut_outs import laid_out
from upstand.drawing.svg import WIDTH, escape, text_width, wrap
from upstand.edition import Edition
from upstand.quantity.typed import read
from upstand.quantity.units import convert
from upstand.query import QueryFaults, read_requirements

SVG = "{http://www.w3.org/2000/svg}"
ANGLE = {
    "section": "angle",
    "leg_a": "3 in",
    "leg_b": "3 in",
    "thickness": "1/4 in",
    "substrate": "carbon-steel",
}
PLATE = {"width": "3 in", "length": "3 in", "at": ["6 in", "0 in"]}
ON_CMU = [{"part": "wall", "substrate": "cmu"}]
BODIES: dict[str, dict[str, Any]] = {
    "wall": {"detail": "wall-base", "roof": "tpo", "length": "20 ft", "surfaces": ON_CMU},
    "wall of 500 ft": {"detail": "wall-base", "roof": "tpo", "length": "500 ft"},
    "inside corner": {"detail": "corner", "roof": "tpo", "corner": "inside"},
    "outside corner, joined": {"detail": "corner", "roof": "tpo", "corner": "outside", "joined": 1},
    "door with a back": {
        "detail": "threshold",
        "roof": "tpo",
        "length": "36 in",
        "riser": "4 in",
        "sill": "5 in",
        "back": "2 in",
        "accepted": True,
        "lang": "es",
    },
    "curb": {"detail": "curb", "roof": "tpo", "width": "30 in", "length": "36 in"},
    "drain": {"detail": "drain", "roof": "tpo", "bowl": "16 in", "seat": "11 in", "sump": "36 in"},
    "scupper": {
        "detail": "scupper",
        "roof": "tpo",
        "opening": {"width": "8 in", "height": "4 in"},
        "depth": "8 in",
        "surfaces": ON_CMU,
    },
    "crack": {"detail": "crack", "roof": "tpo", "length": "10 ft", "units": "si"},
    "metal joint": {"detail": "metal-joint", "roof": "tpo", "length": "9 in"},
    "tie-in": {"detail": "tie-in", "roof": "tpo", "length": "10 ft"},
    "patch": {"detail": "patch", "roof": "tpo", "width": "6 in", "length": "3 in"},
    "hot pipe": {
        "detail": "hot-pipe",
        "roof": "tpo",
        "members": [{"section": "pipe", "od": "10 in", "substrate": "galvanized-steel"}],
    },
    "support": {
        "detail": "support",
        "roof": "tpo",
        "members": [
            {
                "section": "tube",
                "width": "4 in",
                "depth": "4 in",
                "thickness": "1/4 in",
                "substrate": "carbon-steel",
            }
        ],
        "plates": [{"width": "10 in", "length": "10 in"}],
    },
    "cluster": {
        "detail": "cluster",
        "roof": "tpo",
        "members": [
            {"section": "pipe", "nps": "2", "substrate": "galvanized-steel"},
            {
                "section": "pipe",
                "nps": "1-1/2",
                "substrate": "galvanized-steel",
                "at": ["7 in", "1 in"],
            },
        ],
    },
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
def test_nothing_is_clipped_and_no_word_crosses_another(
    answers: Mapping[str, Answer], name: str, view: str
) -> None:
    check_sheet(draw(answers[name], view), name)


def check_sheet(svg: str, name: str) -> None:
    """Every text and line inside the sheet, no text on another, no leader through a text."""
    root = ElementTree.fromstring(svg)
    left, top, width, height = map(float, root.attrib["viewBox"].split())
    assert (left, top, width) == (0.0, 0.0, WIDTH)
    boxes = []
    for text in root.iter(f"{SVG}text"):
        words = text.text or ""
        run = text_width(words)
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


@pytest.mark.parametrize("name", [name for name in BODIES if name != "beam, Spanish, SI"])
def test_every_piece_has_its_letter_on_plan_and_cut_sheet(
    answers: Mapping[str, Answer], name: str
) -> None:
    one = answers[name]
    assert one.layout.fleece is not None
    for view in ("plan", "cut-sheet"):
        texts = [t.text or "" for t in ElementTree.fromstring(draw(one, view)).iter(f"{SVG}text")]
        marks = {letter for text in texts[:400] for letter in listed(text)}
        missing = {piece.letter for piece in one.layout.fleece.pieces} - marks
        assert not missing, view


def listed(text: str) -> Iterator[str]:
    """Yield the letters that a text names: B2, (B2), or B2–B5."""
    found = re.match(r"\(?([A-Z])(\d+)(?:–\1(\d+))?", text)
    if found:
        first, last = int(found[2]), int(found[3] or found[2])
        yield from (f"{found[1]}{number}" for number in range(first, last + 1))


@pytest.mark.parametrize("name", [n for n, b in BODIES.items() if b.get("lang") != "es"])
def test_sizes_read_off_the_cut_sheet_rebuild_the_pieces(
    answers: Mapping[str, Answer], name: str
) -> None:
    """Only what is written on the sheet is used: sizes, what is cut out, round corners."""
    one = answers[name]
    assert one.layout.fleece is not None
    si = BODIES[name].get("units") == "si"
    step, place = (1.0 / 25.4, 0.5 / 25.4) if si else (0.25, 1 / 16)
    shapes = read_off(draw(one, "cut-sheet"))
    for piece in one.layout.fleece.pieces:
        flat = laid_out(piece)
        rebuilt = shapes[piece.letter]
        # sizes are rounded up, places to the nearest eighth: no edge may be off by more
        off = rebuilt.boundary.hausdorff_distance(flat.shape.boundary)
        assert off <= (step + 4 * place) * 1.5, piece.letter
        assert rebuilt.area == pytest.approx(
            flat.shape.area, abs=rebuilt.length * (step + place)
        ), piece.letter


def read_off(svg: str) -> dict[str, BaseGeometry]:
    """Read every piece off a cut sheet, as somebody with scissors would."""
    root = ElementTree.fromstring(svg)
    words, letters = "", ()
    found: dict[str, BaseGeometry] = {}

    def make() -> None:
        shape = rebuild(words)
        if shape is not None:
            found.update({letter: shape for letter in letters})

    for text in root.iter(f"{SVG}text"):
        if text.get("class") == "bold":
            make()
            words, letters = "", tuple(listed(text.text or ""))
        else:
            words += " " + (text.text or "").replace("\u00a0", " ")
    make()
    return found


LENGTH = r"([\d ,./-]+? (?:in|mm))"


def inches(text: str) -> float:
    reading = read(text.replace(",", ""), "length")
    return convert(reading.value, reading.unit, "in")


def rebuild(words: str) -> BaseGeometry | None:
    size = re.search(rf"{LENGTH} wide × {LENGTH} high", words)
    if size is None:
        return None
    wide, tall = inches(size[1]), inches(size[2])
    shape: BaseGeometry = box(0.0, 0.0, wide, tall)
    for rounded in re.finditer(rf"Round off the four corners, radius {LENGTH}", words):
        radius = inches(rounded[1])
        core = box(radius, radius, max(wide - radius, radius), max(tall - radius, radius))
        shape = core.buffer(radius, quad_segs=32).intersection(shape)
    for round_it in re.finditer(rf"Cut to a circle, radius {LENGTH}", words):
        radius = inches(round_it[1])
        shape = Point(wide / 2, tall / 2).buffer(radius, quad_segs=32)
    for out in re.finditer(
        rf"Cut out {LENGTH} × {LENGTH}, from {LENGTH} right and {LENGTH} up"
        rf"(, its corners within the piece round, radius {LENGTH})?",
        words,
    ):
        w, h, x, y = (inches(out[n]) for n in range(1, 5))
        gone: BaseGeometry = box(x, y, x + w, y + h)
        if out[5]:
            radius = inches(out[6])
            rounded_off = box(x, y, x + w, y + h).buffer(-radius).buffer(radius, quad_segs=32)
            # corners at the piece's edge stay sharp: there it is rounded off past the edge
            for a, b in ((x, y), (x + w, y), (x, y + h), (x + w, y + h)):
                if min(a, b, wide - a, tall - b) < 1 / 16:
                    rounded_off = rounded_off.union(
                        box(a - radius, b - radius, a + radius, b + radius).intersection(gone)
                    )
            gone = rounded_off
        shape = shape.difference(gone)
    disc = rf"Cut out round, radius {LENGTH}, its center {LENGTH} right and {LENGTH} up"
    for out in re.finditer(disc, words):
        radius, x, y = (inches(out[n]) for n in range(1, 4))
        shape = shape.difference(Point(x, y).buffer(radius, quad_segs=32))
    for out in re.finditer(r"Cut out by its corners \(right, up\): ([^A-Z]*)", words):
        corners = [tuple(inches(part) for part in at.split(", ")) for at in out[1].split(" · ")]
        shape = shape.difference(Polygon(corners))
    return shape


@pytest.mark.parametrize("seed", range(20))
def test_random_details_are_drawn_with_nothing_clipped_or_crossing(
    edition: Edition, seed: int
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


def any_detail(chance: random.Random) -> dict[str, Any]:
    def inch(low: float, high: float) -> str:
        return f"{round(chance.uniform(low, high) * 8) / 8} in"

    kind = chance.choice(["post", "cluster", "wall-base", "corner", "threshold", "curb", "drain",
                          "scupper", "crack", "metal-joint", "tie-in", "patch"])  # fmt: skip
    body: dict[str, Any] = {"detail": kind, "roof": chance.choice(["tpo", "epdm", "sbs-cap"])}
    body |= {"units": chance.choice(["us", "si"]), "lang": chance.choice(["en", "es"])}
    if kind in ("post", "cluster"):
        body["members"] = [
            {
                "designation": chance.choice(["L3x3x1/4", "W8x31", "HSS4x4x1/4", "Pipe 4 STD"]),
                "substrate": "carbon-steel",
                "at": [f"{14 * n} in", inch(0, 3)],
                "turn": f"{chance.choice([0, 0, 30, 90])} deg",
            }
            for n in range(1 if kind == "post" else chance.randint(2, 4))
        ]
        body["height"] = inch(8, 20)
    elif kind in ("wall-base", "crack", "tie-in"):
        body["length"] = inch(12, 600)
    elif kind == "corner":
        body |= {"corner": chance.choice(["inside", "outside"]), "joined": chance.choice([0, 1, 2])}
    elif kind == "threshold":
        body |= {"length": inch(24, 96), "riser": inch(1, 7), "sill": inch(2, 9)}
        body |= {"back": chance.choice(["0.5 in", "1 in"]), "accepted": True}
    elif kind == "curb":
        body |= {"width": inch(12, 90), "length": inch(12, 150)}
    elif kind == "drain":
        body |= {"bowl": inch(13, 20), "seat": inch(6, 8), "sump": inch(36, 48)}
    elif kind == "scupper":
        body |= {"opening": {"width": inch(4, 24), "height": inch(3, 8)}, "depth": inch(4, 14)}
    elif kind == "metal-joint":
        body |= {"length": inch(6, 30), "joint": chance.choice(["edge", "gutter", "sheet"])}
    else:
        body |= {"width": inch(1, 20), "length": inch(1, 30)}
    return body


def test_a_number_and_its_unit_stay_together(answers: Mapping[str, Answer]) -> None:
    numbered = r"\(?[A-Z]\d+\)?|.*[a-zñóí] \d+"  # a letter, or a piece's name
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
    bare = replace(
        one, layout=replace(one.layout, built=False, regions=(), masking=None, fleece=None)
    )
    for view in VIEWS:
        with pytest.raises(NothingToDraw):
            draw(bare, view)


def test_a_drawing_is_the_same_each_time(answers: Mapping[str, Answer]) -> None:
    one = answers["two, one turned, and an island"]
    assert draw(one, "plan") == draw(one, "plan")
