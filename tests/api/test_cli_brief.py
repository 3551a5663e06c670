"""The answer in brief: one screen for a call, for every detail, in both languages."""

from __future__ import annotations

import functools
import json
import re
from collections.abc import Iterator

import pytest
from click.testing import CliRunner

from upstand import scene
from upstand.edition import load
from upstand_api.cli.group import root

LINES, FIRST = 40, 25

#: Weather of other days, and days on which little was measured.
DAYS = {
    "the scene's": scene.scene()["now"],
    "no readings": None,
    "rain and wet": {**scene.scene()["now"], "rain_chance": "80 %", "wet": True, "wind": "30 mph"},
    "air alone": {"air": "50 F"},
    "frost and storm": {
        "air": "34 F",
        "surface": "30 F",
        "material": "40 F",
        "humidity": "95 %",
        "wet": True,
        "wind": "40 mph",
        "rain_chance": "90 %",
    },
    "heat": {"air": "110 F", "surface": "150 F", "material": "100 F", "humidity": "20 %"},
}


@pytest.fixture(autouse=True, scope="module")
def _editions_are_read_once() -> Iterator[None]:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("upstand.edition.load", functools.cache(load))
        yield


def brief(body: object, *words: str, columns: int = 80) -> list[str]:
    result = CliRunner().invoke(
        root, ["need", "--from", "-", *words], input=json.dumps(body), env={"COLUMNS": str(columns)}
    )
    assert result.exit_code == 0, result.output
    return result.stdout.splitlines()


def starts(lines: list[str], *leads: str) -> list[int]:
    return [next(n for n, line in enumerate(lines) if line.startswith(lead)) for lead in leads]


@pytest.mark.parametrize("lang", ["en", "es"])
@pytest.mark.parametrize("day", DAYS)
@pytest.mark.parametrize("name", scene.details())
def test_every_detail_of_the_scene_fits_a_screen(name: str, day: str, lang: str) -> None:
    body = {**scene.question(name, weather=False), "lang": lang}
    if DAYS[day] is not None:
        body["now"] = DAYS[day]
    for resin in (None, "pmma", "pu-1k"):
        lines = brief(body if resin is None else {**body, "resin": resin})
        assert len(lines) <= LINES, "\n".join(lines)
        assert max(len(line) for line in lines) <= 80
        assert " el departamento" not in " ".join(lines).replace(" del ", " "), "a el is al"


@pytest.mark.parametrize("lang", ["en", "es"])
def test_a_detail_asked_with_nothing_but_its_name_fits_a_screen(lang: str) -> None:
    edition = load()
    for name, record in edition.kind("details").items():
        if record.get("sections"):
            continue  # without a member there is no question
        lines = brief({"detail": name, "roof": "tpo", "lang": lang})
        assert len(lines) <= LINES, "\n".join(lines)


def test_the_first_lines_are_the_answer_in_its_order() -> None:
    lines = brief(scene.question())
    leads = (">>> GO: ", "Dangers: ", "Weather: ", "EPDM sheet", "member 1", "Film: ", "Sizes: ",
             "Bring at least: ", "Cut: ", "Times: ", "Days ahead: ", "Ask next: ")  # fmt: skip
    found = starts(lines, *leads)
    assert found == sorted(found)
    assert found[-1] < FIRST


def test_every_hazard_has_its_name_and_measure_in_three_lines() -> None:
    for lang in ("en", "es"):
        body = {**scene.question(), "lang": lang}
        lines = brief(body)
        whole = json.loads("\n".join(brief(body, "--json")))
        start = next(n for n, line in enumerate(lines) if line.startswith(("Dangers", "Peligros")))
        end = next(n for n in range(start + 1, 99) if not lines[n].startswith("  "))
        assert end - start <= 3, lines[start:end]
        said = " ".join(" ".join(lines[start:end]).split())
        assert len(whole["cautions"]) >= 8
        assert [c["short"] for c in whole["cautions"] if c["short"] not in said] == []


@pytest.mark.parametrize("lang", ["en", "es"])
def test_reasons_are_all_there_however_many_and_clear_as_they_say(lang: str) -> None:
    body = {**scene.question("scupper"), "now": DAYS["frost and storm"], "lang": lang}
    body["resin"] = "pu-1k"
    lines = brief(body)
    whole = json.loads("\n".join(brief(body, "--json")))["verdict"]["reasons"]
    numbers = [
        int(number)
        for line in lines
        if (found := re.match(r"(\d+(?:, \d+)*)\. [A-Z]+: ", line))
        for number in found[1].split(", ")
    ]
    assert sorted(numbers) == list(range(1, len(whole) + 1)) and len(whole) > 8
    text = " ".join(" ".join(lines).split())
    # what a hold waits for keeps its bound and what the bound is of
    over = {
        "en": "at least 5.4 °F above the dew point.",
        "es": "5.4 °F por encima del punto de rocío.",
    }
    assert over[lang] in text
    assert {"en": "is 25 mph or less.", "es": "sea de 25 mph o menos."}[lang] in text


def test_a_hold_says_what_it_clears_and_no_danger_stops_short() -> None:
    now = {**scene.scene()["now"], "rain_chance": "60 %"}
    lines = brief({**scene.question(), "now": now})
    assert any(line.startswith(">>> HOLD: ") for line in lines)
    assert "Clears when: " in " ".join(lines)


def test_where_a_hazard_stops_all_work_nothing_leads_on_to_it() -> None:
    body = {**scene.question("soil-vent")}
    body["members"] = [{"section": "pipe", "od": "6 in", "substrate": "asbestos-cement"}]
    lines = brief(body)
    assert any(line.startswith(">>> HOLD: ") for line in lines)
    assert not [line for line in lines if line.startswith(("Bring", "Cut: ", "Film: "))]
    assert any("Asbestos: " in line for line in lines)


def test_what_is_missing_is_what_to_ask_next() -> None:
    planned = brief(scene.question(weather=False))
    assert "Air, humidity, surface and material" in planned[starts(planned, "Ask next: ")[0]]
    measured = brief(scene.question())
    assert "reinforced height" in measured[starts(measured, "Ask next: ")[0]]
    told = brief({**scene.question(), "height": "8 in"})
    assert "reinforced height" not in told[starts(told, "Ask next: ")[0]]


@pytest.mark.parametrize("columns", [40, 60, 80, 120])
def test_a_narrower_terminal_wraps_well(columns: int) -> None:
    lines = brief(scene.question(), columns=columns)
    assert max(len(line) for line in lines) <= columns
    words = " ".join(" ".join(lines).split())
    assert words == " ".join(" ".join(brief(scene.question(), columns=88)).split())


def test_a_part_begins_with_verdict_and_dangers() -> None:
    headings = {
        "--steps": "WHAT TO DO",
        "--checks": "CONFIRM ON THE ROOF",
        "--cut": "WHAT TO CUT",
        "--working": "WHERE EACH NUMBER",
    }
    for part, heading in headings.items():
        lines = brief(scene.question(), part)
        found = starts(lines, ">>> GO: ", "Dangers: ", heading)
        assert found == sorted(found)
