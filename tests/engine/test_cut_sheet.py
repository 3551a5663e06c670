"""The cut sheet: sizes read off it rebuild every piece, folds and slits say how it lies."""

from __future__ import annotations

import math
import random
import re
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from shapely.geometry import Point, Polygon, box
from shapely.geometry.base import BaseGeometry

from upstand.answer import Answer, answer
from upstand.drawing import draw
from upstand.drawing.cut_outs import laid_out
from upstand.drawing.unfold import unfold
from upstand.edition import Edition
from upstand.edition.strict_yaml import read_file
from upstand.layout.model import Face, Space
from upstand.quantity.typed import read
from upstand.quantity.units import convert
from upstand.query import read_requirements

AnyDetail = Callable[[random.Random], dict[str, Any]]
SVG = "{http://www.w3.org/2000/svg}"
BODIES: dict[str, dict[str, Any]] = read_file(Path(__file__).with_name("drawn.yaml"), "drawn.yaml")


@pytest.fixture(scope="module")
def answers(edition: Edition) -> Mapping[str, Answer]:
    return {n: answer(read_requirements(b, edition), edition) for n, b in BODIES.items()}


@pytest.mark.parametrize("name", [n for n, b in BODIES.items() if b.get("lang") != "es"])
def test_sizes_read_off_the_cut_sheet_rebuild_the_pieces(
    answers: Mapping[str, Answer], name: str
) -> None:
    """Only what is written on the sheet is used: sizes, what is cut out, round corners."""
    check_rebuilt(answers[name])


@pytest.mark.parametrize("seed", range(8))
def test_sizes_of_random_details_rebuild_their_pieces(
    edition: Edition, any_detail: AnyDetail, seed: int
) -> None:
    """Ten details of any kind a seed: their pieces rebuilt, folds and slits held against space."""
    chance = random.Random(100 + seed)
    for _ in range(10):
        asked = {**any_detail(chance), "lang": "en"}
        one = answer(read_requirements(asked, edition), edition)
        if one.layout.fleece is not None:
            check_rebuilt(one)
            check_unfolded(one)


def check_rebuilt(one: Answer) -> None:
    assert one.layout.fleece is not None
    si = one.settled.query.units == "si"
    step, place = (5.0 / 25.4, 0.5 / 25.4) if si else (0.25, 1 / 16)
    shapes = read_off(draw(one, "cut-sheet"))
    for piece in one.layout.fleece.pieces:
        flat = laid_out(piece)
        rebuilt = shapes[piece.letter]
        # what is narrower than 1/8 in is slit, not cut out
        wanted = flat.shape.buffer(0.063, join_style="mitre").buffer(-0.063, join_style="mitre")
        # sizes are rounded up, places to the nearest eighth: no edge may be off by more
        off = rebuilt.boundary.hausdorff_distance(wanted.boundary)
        assert off <= (step + 4 * place) * 1.5, piece.letter
        assert rebuilt.area == pytest.approx(wanted.area, abs=rebuilt.length * (step + place)), (
            piece.letter
        )


def check_unfolded(one: Answer) -> None:
    """Each part of a piece has its place in it, and lies in space where the layout says."""
    assert one.layout.fleece is not None
    faces = {face.id: face for face in one.layout.faces}
    for piece in one.layout.fleece.pieces:
        found = unfold(piece, one.layout.faces)
        if found is None:
            # a patch is folded over a corner and laps itself; all else that goes over a fold opens
            assert piece.kind in ("patch", "wrap", "top", "cover") or len(piece.across) < 2
            continue
        whole = box(0.0, 0.0, piece.length.value, piece.width.value).buffer(0.011)
        assert len(found.cells) == len(piece.lies)
        for number, cell in enumerate(found.cells):
            assert whole.covers(cell.sheet()), piece.letter
            others = found.cells[number + 1 :]
            assert all(cell.sheet().intersection(o.sheet()).area < 1e-6 for o in others)
            at_once = [cell.place(x, y) for x, y in cell.sheet().exterior.coords]
            assert any(
                lying.face == cell.face and spans(faces[cell.face], lying.shape, at_once)
                for lying in piece.lies
            ), piece.letter
        # an edge that is neither fold nor slit lets both its sides lie in one plane
        for line in found.folds:
            middle = Point((line[0][0] + line[1][0]) / 2.0, (line[0][1] + line[1][1]) / 2.0)
            beside = {c.face for c in found.cells if c.sheet().distance(middle) < 1e-6}
            assert len({plane(faces[id]) for id in beside}) > 1, piece.letter


def spans(face: Face, shape: BaseGeometry, corners: list[Space]) -> bool:
    """Whether corners in space are those of the box round a shape on a face."""
    frame = face.frame
    assert frame is not None
    there = [
        tuple(frame.origin[n] + x * frame.along[n] + y * frame.up[n] for n in range(3))
        for x, y in box(*shape.bounds).exterior.coords
    ]
    return all(any(math.dist(a, b) < 1e-3 for b in there) for a in corners)


def plane(face: Face) -> tuple[float, ...]:
    """Name the plane of a face: its normal, either way, and how far out it is."""
    assert face.frame is not None
    (a, b, c), (d, e, f) = face.frame.along, face.frame.up
    normal = (b * f - c * e, c * d - a * f, a * e - b * d)
    far = sum(n * o for n, o in zip(normal, face.frame.origin, strict=True))
    sign = -1.0 if next(n for n in normal if abs(n) > 0.5) < 0.0 else 1.0
    return tuple(round(sign * value, 4) + 0.0 for value in (*normal, far))


def test_what_is_told_between_folds_adds_up_to_the_piece(answers: Mapping[str, Answer]) -> None:
    """By hand: a door 36 in wide, riser 4, sill 5, back 2; the piece is 40 x 13 in."""
    texts = told(draw(answers["door with a back"], "cut-sheet"), "C1")
    assert "2 in techo · 4 in peralte · 5 in umbral · 2 in fondo" in texts
    assert texts.count("2 in jamba, dique de extremo (end dam)") == 4  # both ends, sill and back
    # 2 + 4 = 6 in up the ends are cut free from the wall, 11 in up they turn the inner corner
    for slit in ("0 in, 6 in – 2 in, 6 in", "38 in, 11 in – 40 in, 11 in"):
        assert slit in texts


def told(svg: str, letter: str) -> str:
    """Return what a cut sheet tells of one piece."""
    words: list[str] = []
    on = False
    for text in ElementTree.fromstring(svg).iter(f"{SVG}text"):
        if text.get("class") == "bold":
            on = letter in (text.text or "").split()[0]
        elif on:
            words.append((text.text or "").replace("\u00a0", " "))
    return " ".join(words)


def test_no_piece_is_told_by_a_heap_of_points(edition: Edition, any_detail: AnyDetail) -> None:
    """Round corners and rings are told by a radius: never more than ten lines of figures."""
    chance = random.Random(7)
    for _ in range(30):
        asked = {**any_detail(chance), "lang": "en"}
        one = answer(read_requirements(asked, edition), edition)
        if one.layout.fleece is None:
            continue
        for piece in one.layout.fleece.pieces:
            said = told(draw(one, "cut-sheet"), piece.letter)
            assert said.count(" · ") <= 12, (asked, said)


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


def listed(text: str) -> Iterator[str]:
    """Yield the letters that a text names: B2, (B2), or B2–B5."""
    found = re.match(r"\(?([A-Z])(\d+)(?:–\1(\d+))?", text)
    if found:
        first, last = int(found[2]), int(found[3] or found[2])
        yield from (f"{found[1]}{number}" for number in range(first, last + 1))
