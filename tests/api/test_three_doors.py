"""Terminal and API say the same number: 200 random details, asked through both doors."""

from __future__ import annotations

import json
import random
from typing import Any

import pytest
from click.testing import CliRunner

from upstand_api import create_app
from upstand_api.cli.group import root

SECTIONS: dict[str, list[dict[str, str]]] = {
    "angle": [{"leg_a": "3 in", "leg_b": "2 1/2 in", "thickness": "1/4 in"}],
    "channel": [
        {
            "depth": "8 in",
            "flange_width": "2 1/4 in",
            "web_thickness": "1/4 in",
            "flange_thickness": "3/8 in",
        }
    ],
    "i-section": [
        {
            "depth": "203 mm",
            "flange_width": "203 mm",
            "web_thickness": "7 mm",
            "flange_thickness": "11 mm",
        }
    ],
    "tee": [
        {
            "depth": "5 in",
            "flange_width": "6 in",
            "web_thickness": "3/8 in",
            "flange_thickness": "1/2 in",
        }
    ],
    "tube": [{"width": "4 in", "depth": "6 in", "thickness": "1/4 in"}],
    "pipe": [{"od": "4 1/2 in"}, {"nps": "6"}],
    "bar": [{"width": "1/2 in", "depth": "4 in"}],
    "rod": [{"diameter": "1 1/4 in"}],
}
SUBSTRATES = ("carbon-steel", "galvanized-steel", "stainless-steel", "aluminum", "lumber", "lead")
ROOFS = ("tpo", "pvc", "kee", "epdm", "sbs-cap", "existing-resin")


def random_detail(dice: random.Random) -> dict[str, Any]:
    """Describe a detail that can be laid out: members 12 in apart, plates to one side."""
    members = []
    for number in range(dice.choice((1, 1, 1, 2, 3))):
        section = dice.choice(sorted(SECTIONS))
        members.append(
            {
                "section": section,
                **dice.choice(SECTIONS[section]),
                "substrate": dice.choice(SUBSTRATES),
                "at": [f"{12 * number} in", "0 in"],
                "turn": f"{dice.choice((0, 0, 30, 90))} deg",
            }
        )
    plates = [
        {"width": "3 in", "length": "3 in", "at": [f"{dice.randint(-6, 40)} in", f"{9 + 4 * k} in"]}
        for k in range(dice.choice((0, 1, 2)))
    ]
    body: dict[str, Any] = {
        "detail": "post",
        "roof": dice.choice(ROOFS),
        "members": members,
        "plates": plates,
        "height": f"{dice.choice((6, 8, 10, 12))} in",
        "flange": f"{dice.choice((3, 4, 6))} in",
        "reveal": dice.choice(("1/4 in", "1/2 in")),
        "resin": dice.choice(("pu-2k", "pu-2k", "pmma", "pu-1k", "stpe-1k")),
        "count": dice.choice((1, 2, 7)),
        "units": dice.choice(("us", "si")),
        "lang": dice.choice(("en", "es")),
    }
    if dice.random() < 0.8:
        body["now"] = {
            "air": f"{dice.randint(20, 100)} F",
            "surface": f"{dice.randint(20, 120)} F",
            "humidity": f"{dice.randint(10, 100)} %",
        }
    return body


@pytest.mark.parametrize("first", range(0, 200, 20))
def test_api_and_terminal_give_the_same_document(first: int) -> None:
    client = create_app().test_client()
    for seed in range(first, first + 20):
        body = random_detail(random.Random(seed))
        sent = json.dumps(body)
        answered = client.post("/v1/requirements", data=sent, content_type="application/json")
        assert answered.status_code == 200, answered.text
        printed = CliRunner().invoke(root, ["need", "--from", "-", "--json"], input=sent)
        assert printed.exit_code == 0, printed.output
        assert json.loads(printed.stdout) == answered.json


def test_both_doors_refuse_the_same_faults() -> None:
    body = random_detail(random.Random(1))
    body |= {"height": "0 in", "roof": "tpoo", "colour": "red"}
    answered = create_app().test_client().post("/v1/requirements", json=body)
    printed = CliRunner().invoke(root, ["need", "--from", "-"], input=json.dumps(body))
    assert answered.status_code == 422 and printed.exit_code == 2
    said = " ".join(printed.stderr.split())
    assert len(answered.json["errors"]) == 3
    for fault in answered.json["errors"]:
        assert " ".join(fault["detail"].split()) in said
