"""Invented moments (tests/site/moments.yaml) at the terminal and the API: what is seen, and where.

Those of the phone and of paper are walked in tests/site.
"""

from __future__ import annotations

import json
import re
import shlex
from html import unescape
from pathlib import Path

import pytest
import yaml
from click.testing import CliRunner
from flask.testing import FlaskClient

from upstand_api.cli.group import root

MOMENTS = yaml.safe_load((Path(__file__).parents[1] / "site/moments.yaml").read_text("utf-8"))
PHONE = ("phone", "phone offline", "paper")


def lines(*words: str) -> list[str]:
    result = CliRunner().invoke(root, ["need", *words], env={"COLUMNS": "80"})
    assert result.exit_code == 0, result.stderr
    return result.stdout.splitlines()


def joined(some: list[str]) -> str:
    return " ".join(" ".join(some).split())


def test_there_are_ten_and_those_of_the_terminal_are_here() -> None:
    here = [m["asks"] for m in MOMENTS if m["where"] not in PHONE]
    assert len(MOMENTS) == 10
    assert here == [
        "square tube through EPDM, surface 48, air 47, 80 percent",
        "twelve stanchions, no weather",
        "resin for a block parapet",
        "sill is 4 in off the roof",
        "asbestos-cement",
    ]


@pytest.mark.parametrize(
    ("surface", "said"),
    [
        # air 47 °F at 80 %: dew point 41.1 °F by Magnus, so 48 °F stands 6.9 °F over it, rounded
        # down to the safe side 6.8 °F
        ("48 F", (">>> GO: ", "dew margin 6.8 °F")),
        ("45 F", (">>> HOLD: ", "3.8 °F", "5.4 °F", "Clears when: ")),
    ],
)
def test_a_hurried_caller_hears_go_or_hold_margin_and_why_in_five_lines(
    surface: str, said: tuple[str, ...]
) -> None:
    first = joined(
        lines("post", "--roof", "epdm", "--member", "tube 4x4x1/4 in carbon-steel",
              "--surface", surface, "--air", "47 F", "--humidity", "80 %")[:5]
    )  # fmt: skip
    assert [each for each in said if each not in first] == []


def test_an_estimator_sees_packs_and_mixes_for_twelve_and_no_word_against_starting() -> None:
    page = lines("post", "--roof", "epdm", "--member", "angle 3x3x1/4 in carbon-steel",
                 "--count", "12")  # fmt: skip
    first = joined(page[:25])
    assert page[0].startswith("12 × ") and ">>> PLAN: " in first
    assert "Bring at least: 24 × Two-part polyurethane" in first and "24 mixes" in first
    assert "HOLD" not in first and "ASK" not in first


def test_an_office_with_a_low_door_is_told_whom_to_ask_with_which_facts() -> None:
    page = lines("threshold", "--roof", "epdm", "--riser", "4 in", "--riser", "concrete",
                 "--sill", "5 in", "--sill", "concrete", "--jamb", "concrete", "--wall", "cmu",
                 "--length", "40 in")  # fmt: skip
    first = joined(page[:10])
    for said in (">>> ASK: ", "4 in over the roof", "Ask the roof's designer", "Have ready: "):
        assert said in first, first
    whole = joined(page)
    assert "Bring at least: " in whole and "Cut: " in whole


def test_an_old_vent_pipe_stops_with_danger_and_whom_to_call_and_nothing_else() -> None:
    page = lines("pipe", "--roof", "epdm", "--member", "nps 6 asbestos-cement")
    assert len(page) <= 24
    whole = joined(page)
    assert ">>> HOLD: " in whole and "Dangers: Asbestos: " in whole
    assert "Ask a licensed trade" in whole
    assert not re.search(r"Bring|Film:|Cut:|Times:", whole)


def test_a_programmer_with_the_docs_alone_asks_and_knows_what_comes_back(
    client: FlaskClient,
) -> None:
    page = unescape(client.get("/docs").get_data(as_text=True))
    section = page.partition('id="post_requirements"')[2].partition("<section>")[0]
    command = re.search(r"<pre>(curl [^<]*)</pre>", section)
    assert command, "a request to paste"
    words = shlex.split(command[1])
    body = json.loads(words[words.index("-d") + 1])
    told = client.post("/v1/requirements", json=body)
    assert told.status_code == 200
    # what came back is named on the same page, and so is what a parapet of block takes
    assert [key for key in told.get_json() if f"<code>{key}" not in section] == []
    for field in ("surfaces[].part", "surfaces[].substrate", "length"):
        assert f"<code>{field}" in section
    parapet = {"detail": "wall-base", "roof": "tpo", "length": "12 ft",
               "surfaces": [{"part": "wall", "substrate": "cmu"}]}  # fmt: skip
    answer = client.post("/v1/requirements", json=parapet).get_json()
    assert next(m for m in answer["materials"] if m["kind"] == "resin")["need"]["value"] > 0
