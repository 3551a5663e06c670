"""An input, a limit, an activity is one file: added to a tree, every door has it."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner

from upstand.answer import answer
from upstand.conditions import conditions
from upstand.edition import find_root, load
from upstand.query import QueryFaults, read_requirements
from upstand.query.conditions import read_conditions
from upstand.query.forms import input_forms
from upstand_api.app import create_app
from upstand_api.cli.group import root
from upstand_api.settings import Settings

INPUT = """
name: {en: "Slope", es: "Pendiente"}
reads: length
order: 170
how: {en: "Rise in a foot, by level.", es: "Lo que sube en un pie, con nivel."}
example: "1/4 in"
taken:
  - {details: [wall-base], measured: true}
"""
LIMIT = """
name: {en: "Slope", es: "Pendiente"}
of: slope
order: 15
at_least: {value: "1/8 in", basis: {grade: assumed}, checked_on: "2026-11-28"}
else: ask
missing: skip
because:
  en: "The slope is {found}, under {limit}."
  es: "La pendiente es de {found}, menos de {limit}."
clears: {en: "Build it up to {limit}.", es: "Súbala a {limit}."}
whom: roof-designer
facts: [{en: "Slope.", es: "Pendiente."}, {en: "Drains.", es: "Drenajes."}]
"""
ACTIVITY = """
name: {en: "Sweep", es: "Barrer"}
say: {en: "Sweep the place.", es: "Barra el lugar."}
needs: always
stage: clean
order: 65
common: true
"""
WALL = {"detail": "wall-base", "roof": "tpo", "surfaces": [{"substrate": "cmu"}], "length": "9 ft"}


@pytest.fixture
def tree(tmp_path: Path) -> Path:
    """A copy of the data with one more input, limit and activity: one file each."""
    shutil.copytree(find_root() / "next", tmp_path / "next")
    for path, text in (
        ("inputs/slope", INPUT),
        ("limits/slope", LIMIT),
        ("activities/sweep", ACTIVITY),
    ):
        (tmp_path / "next" / f"{path}.yaml").write_text(text, "utf-8")
    return tmp_path


def test_an_input_is_read_settled_and_refused_where_it_is_not_taken(tree: Path) -> None:
    edition = load("next", tree)
    assert read_requirements({**WALL, "slope": "3 mm"}, edition).sizes["slope"].unit == "in"
    assert "slope" in answer(read_requirements(WALL, edition), edition).settled.missing
    drain = {"detail": "drain", "roof": "tpo", "slope": "1/4 in"}
    with pytest.raises(QueryFaults, match="/slope: the detail drain has no slope"):
        read_requirements(drain, edition)
    with pytest.raises(QueryFaults, match="/slope: is not a field here"):
        read_requirements({**WALL, "slope": "3 mm"}, load("next"))


def test_an_input_stands_in_the_api_s_description(tree: Path) -> None:
    app = create_app(Settings(specdata=tree))
    told = app.test_client().get("/openapi.json").get_json()["components"]["schemas"]
    assert told["Requirements"]["properties"]["slope"]["description"] == (
        "Slope. Rise in a foot, by level; for wall-base"
    )


def test_an_input_is_an_option_of_the_terminal(tree: Path) -> None:
    words = ["need", "wall-base", "--roof", "tpo", "--wall", "cmu", "--slope", "0 in"]
    told = CliRunner().invoke(root, [*words, "--spec", str(tree)])
    assert told.exit_code == 2
    assert "--slope: 0 in can't be used: write more than 0" in " ".join(told.output.split())


def test_an_input_is_a_field_of_the_forms(tree: Path) -> None:
    forms = {form["name"]: form for form in input_forms(load("next", tree), "wall-base", "es")}
    assert (forms["slope"]["label"], forms["slope"]["required"]) == ("Pendiente", True)
    assert forms["height"]["default"] == "8 in"


def test_a_limit_on_it_is_judged(tree: Path) -> None:
    edition = load("next", tree)
    for slope, asked in (("1/16 in", True), ("1/8 in", False)):
        found = answer(read_requirements({**WALL, "slope": slope}, edition), edition)
        assert ("limits/slope" in [r.id for r in found.verdict.reasons]) is asked


def test_an_activity_is_a_step_in_its_place_and_weather_governs_its_stage(tree: Path) -> None:
    edition = load("next", tree)
    steps = answer(read_requirements(WALL, edition), edition).procedure.activities()
    assert steps.index("sweep") == steps.index("mask") - 2  # before clean, which masonry calls for
    weather = {"now": {"air": "72 F", "surface": "78 F", "humidity": "55 %", "wet": True}}
    found = conditions(read_conditions(weather, edition), edition)
    assert found.activities["sweep"] == "hold"
