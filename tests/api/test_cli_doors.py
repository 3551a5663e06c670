"""`upstand conditions`, `film` and `cutlist`: the doors of the API in the terminal, in brief."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from flask.testing import FlaskClient

from upstand_api.cli.cutlist import read_piece, read_roll
from upstand_api.cli.film import readings
from upstand_api.cli.group import root

FIRST = 25
AIR = ("--air", "50 F", "--surface", "48 F", "--humidity", "88 %")
FILM = ("base", "40", "45", "40", "45", "40", "30", "mil", "--area", "1.73 sq ft")
CUT = ("2 C 12x7 in", "D 10 x 17 1/4 in", "4 E 4x4 in", "--roll", "20 in x 50 ft")

#: Each door, as it is typed, and the body that its words make.
DOORS: dict[str, tuple[tuple[str, ...], dict[str, Any]]] = {
    "conditions": (
        AIR,
        {"now": {"air": "50 F", "surface": "48 F", "humidity": "88 %"}},
    ),
    "film": (
        FILM,
        {
            "layer": "base",
            "area": "1.73 sq ft",
            "readings": [f"{n} mil" for n in (40, 45, 40, 45, 40, 30)],
        },
    ),
    "cutlist": (
        CUT,
        {
            "pieces": [
                {"id": "C", "width": "12 in", "length": "7 in", "count": 2},
                {"id": "D", "width": "10 in", "length": "17 1/4 in"},
                {"id": "E", "width": "4 in", "length": "4 in", "count": 4},
            ],
            "rolls": [{"width": "20 in", "length": "50 ft"}],
        },
    ),
}


def run(*words: str, sent: str | None = None, columns: int = 80) -> Result:
    return CliRunner().invoke(root, words, input=sent, env={"COLUMNS": str(columns)})


@pytest.mark.parametrize("lang", ["en", "es"])
@pytest.mark.parametrize("units", ["us", "si"])
@pytest.mark.parametrize("door", DOORS)
def test_terminal_and_api_say_the_same(
    client: FlaskClient, draft_root: Path, door: str, units: str, lang: str
) -> None:
    words, body = DOORS[door]
    asked = (door, *words, "--units", units, "--lang", lang, "--spec", str(draft_root), "--json")
    printed = run(*asked)
    assert printed.exit_code == 0, printed.stderr
    told = client.post(f"/v1/{door}", json={**body, "units": units, "lang": lang})
    assert json.loads(printed.stdout) == told.get_json()


@pytest.mark.parametrize("columns", [40, 60, 80])
@pytest.mark.parametrize("lang", ["en", "es"])
@pytest.mark.parametrize("door", DOORS)
def test_the_answer_stands_in_the_first_lines(door: str, lang: str, columns: int) -> None:
    lines = run(door, *DOORS[door][0], "--lang", lang, columns=columns).stdout.splitlines()
    assert max(len(line) for line in lines) <= columns
    if columns == 80:
        assert len(lines) <= FIRST, "\n".join(lines)
    first = lines[0]
    if door == "cutlist":
        assert first.startswith(("Rolls: ", "Rollos: "))
    else:
        assert first.startswith((">>> HOLD: ", ">>> ALTO: "))


def test_the_weather_is_told_with_reason_margin_work_and_ticks() -> None:
    text = " ".join(run("conditions", *AIR, "--wind", "30 mph").stdout.split())
    for said in (
        "margin over it is 1.4 °F",
        "Clears when: Wait until the wind",
        "dew point 46.6 °F, margin 1.4 °F",
        "Can go on: Mask",
        "Waits: ",
        "Tick on the roof: ",
    ):
        assert said in text


def test_nothing_measured_is_refused_with_how_to_say_it() -> None:
    told = run("conditions")
    assert told.exit_code == 2
    assert '--air "72 F" --surface "78 F" --humidity "55 %"' in " ".join(told.stderr.split())
    assert "escriba lo que se midió" in " ".join(run("conditions", "--lang", "es").stderr.split())


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("conditions", "--air", "72", "--surface", "70 F"), "--air: is 72 degrees Fahrenheit"),
        (("conditions", *AIR, "--resin", "glue"), "--resin: “glue” is not a known resin"),
        (("film", "base", "40", "45", "--area", "3 sq ft"), "READINGS, number 1: is 40 mils"),
        (("film", "side", "40 mil", "--area", "3 sq ft"), "LAYER: is not accepted"),
        (("film", "base", "40 mil"), "--area: and detail are missing"),
        (("film", "base", "--pack", "x=y"), "--pack x=y: is no count"),
        (("cutlist", "4x4"), 'PIECE "4x4": is no piece'),
        (("cutlist", "A 90x90 in", "--roll", "20 in"), "PIECE, number 1: fits no roll"),
        (("cutlist",), "PIECE: has nothing to cut"),
        (("cutlist", "A 4x4 in", "--edition", "x"), "--edition: no edition 'x'. Known: "),
        (("film", "--from", "nowhere.json"), "--from nowhere.json: can't be read"),
    ],
)
def test_what_is_wrong_is_told_by_option(words: tuple[str, ...], said: str) -> None:
    told = run(*words)
    assert told.exit_code == 2, told.stdout
    assert said in " ".join(told.stderr.split())


def test_a_body_is_read_from_a_file_and_options_go_over_it() -> None:
    body = json.dumps(DOORS["conditions"][1])
    held = json.loads(run("conditions", "--from", "-", "--json", sent=body).stdout)
    warm = run("conditions", "--from", "-", "--surface", "70 F", "--json", sent=body).stdout
    assert (held["verdict"], json.loads(warm)["verdict"]) == ("hold", "go")


@pytest.mark.parametrize("lang", ["en", "es"])
def test_the_record_of_a_film_is_one_sheet_to_print(tmp_path: Path, lang: str) -> None:
    sheet = tmp_path / "record.html"
    assert run("film", *FILM, "--lang", lang, "--record", str(sheet)).exit_code == 0
    page = sheet.read_text("utf-8")
    assert f'lang="{lang}"' in page and "src=" not in page and "<script" not in page
    told = {"en": ("Film record", "Read by", "30 mil", "40 mil", "HOLD"),
            "es": ("Registro de la película", "Leído por", "30 mil", "ALTO")}  # fmt: skip
    plain = page.replace("\u00a0", " ")
    assert [each for each in told[lang] if each not in plain] == []
    # six readings, and as many rows for those read again
    assert page.count("<td></td><td></td><td></td>") == 6
    by_packs = run("film", "base", "--pack", "pu-2k-1-qt=1", "--area", "4 sq ft",
                   "--record", str(sheet))  # fmt: skip
    assert by_packs.exit_code == 0, by_packs.stderr
    assert "Pack used" in sheet.read_text("utf-8")


def test_what_cannot_be_written_is_told(tmp_path: Path) -> None:
    for words in (("film", *FILM, "--record"), ("cutlist", *CUT, "--draw")):
        told = run(*words, str(tmp_path / "no" / "file"))
        assert told.exit_code == 2
        assert "can't be written" in told.stderr


def test_a_plan_is_drawn(tmp_path: Path) -> None:
    assert run("cutlist", *CUT, "--draw", str(tmp_path / "plan.svg")).exit_code == 0
    assert (tmp_path / "plan.svg").read_text("utf-8").startswith("<svg")


def test_typed_pieces_rolls_and_readings_are_read() -> None:
    assert readings("40 45, 50 mil") == ["40 mil", "45 mil", "50 mil"]
    assert readings("1000 um 40mil") == ["1000 um", "40 mil"]
    assert readings("40 45") == ["40", "45"]
    assert read_piece('E1 4 x 4"') == {"id": "E1", "width": '4 "', "length": '4 "'}
    assert read_roll("1016 mm x 15 m") == {"width": "1016 mm", "length": "15 m"}


def test_synonyms_and_any_case_are_ids() -> None:
    told = run("conditions", "--air", "72 F", "--surface", "78 F", "--humidity", "55 %",
               "--resin", "PU-2K", "--json")  # fmt: skip
    assert json.loads(told.stdout)["resin"]["id"] == "pu-2k"
