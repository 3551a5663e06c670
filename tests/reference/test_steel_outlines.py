"""The listed sizes and their sharp outlines against AISC's areas and perimeters, shape by shape.

The columns of `aisc_columns.csv` are others than those the sizes were taken from: a figure that
slipped into the wrong row or column shows here.
"""

from __future__ import annotations

import csv
import math
from collections.abc import Iterator
from pathlib import Path

import pytest

from upstand.edition import build as spec_build
from upstand.edition.model import Edition
from upstand.edition.strict_yaml import read_file
from upstand.formulas import REGISTER
from upstand.sections import Section, StandardShape, build, find_designation

HERE = Path(__file__)
DATA = HERE.parents[2] / "specdata" / "next" / "sections"

# How far a sharp outline may be over the listed perimeter, by series. None for angles, whose listed
# perimeter is sharp too; tapered flanges (S, C, MC) most. Three figures: hence the under.
OVER = {
    "L": (0.0, 0.0),
    "W": (-0.005, 0.0225),
    "HP": (-0.005, 0.023),
    "M": (-0.01, 0.04),
    "WT": (-0.01, 0.03),
    "S": (0.025, 0.08),
    "C": (-0.01, 0.065),
    "MC": (-0.02, 0.08),
}
# Metal drawn sharp over the listed area: what fillets add is missing, tapered toes are too thick.
AREA = {
    "L": (0.955, 1.006),
    "W": (0.94, 1.006),
    "HP": (0.95, 1.006),
    "M": (0.9, 1.006),
    "WT": (0.93, 1.01),
    "MT": (0.93, 1.01),
    "ST": (0.955, 1.02),
    "S": (0.955, 1.02),
    "C": (0.955, 1.02),
    "MC": (0.92, 1.02),
    "HSS": (0.975, 1.015),
    "PIPE": (
        1.03,
        1.115,
    ),  # the wall is the nominal one, the listed area is of the thinner design wall
}
SERIES = tuple(AREA)


@pytest.fixture(scope="module")
def edition() -> Edition:
    raw = {path.stem: read_file(path, path.name) for path in DATA.glob("*.yaml")}
    return spec_build.edition("next", {"sections": raw}, "draft", ("sections",))


def _rows(series: str) -> Iterator[dict[str, str]]:
    text = HERE.with_name("aisc_columns.csv").read_text("utf-8").splitlines()
    for row in csv.DictReader(line for line in text if not line.startswith("#")):
        name = row["designation"]
        head = name[: next(at for at, sign in enumerate(name) if sign.isdigit())]
        if head == series:
            yield row


def _reckon(section: Section, formula: str | None) -> float:
    inputs = {name: section.dimensions[named] for name, named in section.formula_inputs.items()}
    return REGISTER[str(formula)](**inputs)


def _metal_in2(shape: StandardShape, section: Section) -> float:
    """Return the metal of a shape: the outline, less the hollow of a tube or a pipe."""
    sizes = section.dimensions
    outside = _reckon(section, section.area_formula)
    if shape.kind == "pipe":
        return outside - math.pi * (sizes["od"] - 2 * sizes["thickness"]) ** 2 / 4
    if shape.kind == "tube":
        wall = sizes["thickness"]  # inside corners have the radius of one wall
        inside = (sizes["width"] - 2 * wall) * (sizes["depth"] - 2 * wall)
        return outside - (inside - (4 - math.pi) * wall**2)
    return outside


@pytest.mark.parametrize("series", SERIES)
def test_area_is_the_listed_one_but_for_the_fillets(edition: Edition, series: str) -> None:
    low, high = AREA[series]
    off = {}
    for row in _rows(series):
        shape = find_designation(edition, row["designation"])
        section = build(shape.kind, shape.dimensions)
        share = _metal_in2(shape, section) / float(row["area"])
        if not low <= share <= high:
            off[row["designation"]] = round(share, 4)
    assert not off


@pytest.mark.parametrize("series", OVER)
def test_girth_is_the_listed_perimeter_but_for_the_fillets(edition: Edition, series: str) -> None:
    low, high = OVER[series]
    off, seen = {}, 0
    for row in _rows(series):
        if row["PB"] == "-":
            continue
        seen += 1
        shape = find_designation(edition, row["designation"])
        section = build(shape.kind, shape.dimensions)
        over = _reckon(section, section.girth_formula) / float(row["PB"]) - 1
        if not low - 1e-9 <= over <= high + 1e-9:
            off[row["designation"]] = round(over, 4)
    assert seen > 10 and not off


def test_every_listed_shape_has_its_row(edition: Edition) -> None:
    stated = {row["designation"] for series in SERIES for row in _rows(series)}
    listed = {
        row[0]
        for record in edition.kind("sections").values()
        for table in record.get("tables", {}).values()
        if table["columns"][0] == "designation"
        and table["basis"].get("source", "").endswith("shapes")
        for row in table["rows"]
    }
    assert listed == stated


@pytest.mark.parametrize(
    ("kind", "dimensions", "girth_in"),
    [
        # sharp outlines of the same shapes, computed apart from this code
        ("angle", {"leg_a": 3, "leg_b": 3, "thickness": 0.25}, 12.00),
        (
            "i-section",
            {"depth": 8, "flange_width": 8, "web_thickness": 0.285, "flange_thickness": 0.435},
            47.43,
        ),
        (
            "channel",
            {"depth": 6, "flange_width": 1.92, "web_thickness": 0.2, "flange_thickness": 0.343},
            19.28,
        ),
        # HSS4x4x1/4 with round corners, design wall 0.233 in, and pipe NPS 4
        ("tube", {"width": 4, "depth": 4, "thickness": 0.233}, 15.20),
        ("pipe", {"od": 4.5}, 14.137),
    ],
)
def test_girths_from_outside(kind: str, dimensions: dict[str, float], girth_in: float) -> None:
    section = build(kind, dimensions)
    decimals = 3 if kind == "pipe" else 2
    assert _reckon(section, section.girth_formula) == pytest.approx(
        girth_in, abs=0.5 * 10**-decimals
    )


def test_listed_tube_areas_bear_out_the_corner_radius() -> None:
    """AISC lists 3.37 in2 for HSS4x4x1/4 (carried by the same package), wall 0.233 in.

    Twice the wall outside and once inside gives it within 0.4 %; one and a half and a half do not.
    """
    wall, listed = 0.233, 3.37

    def metal(outside: float, inside: float) -> float:
        spandrels = (4 - math.pi) * (outside**2 - inside**2)
        return 4**2 - (4 - 2 * wall) ** 2 - spandrels

    assert metal(2 * wall, wall) == pytest.approx(listed, rel=0.004)
    assert metal(1.5 * wall, 0.5 * wall) != pytest.approx(listed, rel=0.004)
