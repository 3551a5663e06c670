"""Sizes that can't be: by API and terminal one clear sentence, what would be accepted, and soon."""

from __future__ import annotations

import time
from typing import Any

import pytest
from click.testing import CliRunner
from flask.testing import FlaskClient

from upstand_api.cli.group import root

OPENING = {"width": "8 in", "height": "4 in"}
CORNERS = [[f"{n % 40} in", f"{n // 40} in"] for n in range(1000)]
#: What is asked, where the fault lies, what its sentence says of what would be accepted.
BAD: dict[str, tuple[dict[str, Any], str, str]] = {
    "seat wider than the bowl": (
        {"detail": "drain", "bowl": "10 in", "seat": "12 in"}, "/seat", "under 10 in",
    ),
    "reach past the drip edge": (
        {"detail": "scupper", "opening": OPENING, "depth": "8 in", "reach": "9 in"},
        "/reach", "at most 7.5 in",
    ),
    "riser over the tape line": (
        {"detail": "threshold", "length": "36 in", "riser": "9 in", "sill": "5 in",
         "height": "8 in"},
        "/height", "at least 11 in",
    ),
    "a run a mile long": (
        {"detail": "wall-base", "length": "5280 ft"}, "/length", "1,000 ft at most",
    ),
    "a thousand corners": (
        {"detail": "post",
         "members": [{"section": "polygon", "points": CORNERS, "substrate": "lumber"}]},
        "/members/0/points", "at most 200",
    ),
    "a length that is no number": (
        {"detail": "wall-base", "length": "NaN in"}, "/length", 'a length as "8 1/2 in"',
    ),
    "a curb that goes on": (
        {"detail": "curb", "width": "30 in", "length": "36 in", "joined": 1},
        "/joined", "leave it out",
    ),
}  # fmt: skip


@pytest.mark.parametrize("lang", ["en", "es"])
@pytest.mark.parametrize("name", list(BAD))
def test_the_api_says_in_one_sentence_what_would_be_accepted(
    client: FlaskClient, name: str, lang: str
) -> None:
    body, where, says = BAD[name]
    start = time.process_time()
    told = client.post("/v1/requirements", json={"roof": "tpo", "lang": lang, **body})
    assert time.process_time() - start < 1.0
    assert told.status_code == 422
    (error,) = told.get_json()["errors"]
    assert error["pointer"] == where
    if lang == "en":
        assert says in error["detail"]
    assert "\n" not in error["detail"] and len(error["detail"]) < 260


def words(body: dict[str, Any]) -> list[str]:
    """Write a question as it is typed."""
    typed = ["need", body["detail"], "--roof", "tpo"]
    for name, value in body.items():
        if isinstance(value, dict):
            for part, size in value.items():
                typed += [f"--{name}-{part}", size]
        elif name != "detail":
            typed += [f"--{name}", str(value)]
    return typed


@pytest.mark.parametrize("name", [name for name in BAD if name != "a thousand corners"])
def test_the_terminal_says_the_same(name: str) -> None:
    body, where, says = BAD[name]
    start = time.process_time()
    told = CliRunner().invoke(root, words(body), env={"COLUMNS": "88"})
    assert time.process_time() - start < 5.0
    assert told.exit_code == 2
    said = " ".join(told.stderr.split())
    assert f"--{where[1:]}: " in said and "one thing to put right" in said
    assert says in said


@pytest.mark.parametrize(
    ("sizes", "asked"),
    [
        # a box of 14 in, a duct of 12 x 6, a pipe: box-like, by the longer side
        ({"section": "bar", "width": "14 in", "depth": "14 in"}, True),
        ({"section": "tube", "width": "12 in", "depth": "6 in", "thickness": "1/4 in"}, True),
        ({"section": "pipe", "od": "14 in"}, True),
        # a free outline, and a box turned against the mask
        ({"section": "polygon", "points": [["0 in", "0 in"], ["20 in", "0 in"],
                                           ["20 in", "20 in"], ["0 in", "20 in"]]}, True),
        ({"section": "bar", "width": "14 in", "depth": "14 in", "turn": "30 deg"}, True),
        # 11 7/8 in is a post, and so is a beam 12 in deep with flanges of 6 1/2
        ({"section": "tube", "width": "11 7/8 in", "depth": "6 in", "thickness": "1/4 in"}, False),
        ({"designation": "W12x26"}, False),
    ],
)  # fmt: skip
def test_what_is_as_large_as_a_curb_is_confirmed_to_be_none(
    client: FlaskClient, sizes: dict[str, Any], asked: bool
) -> None:
    body = {"detail": "post", "roof": "tpo", "members": [{**sizes, "substrate": "carbon-steel"}]}
    told = client.post("/v1/requirements", json=body)
    assert told.status_code == 200
    assert any("as a curb" in c["text"] for c in told.get_json()["confirm"]) is asked
