"""Every text of the whole matrix of answers: no ask in a go, no doubled stop, no stray capital."""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from upstand.answer import Answer, answer
from upstand.document.requirements import write
from upstand.edition import Edition
from upstand.query import QueryFaults, read_requirements

sys.path.insert(0, str(Path(__file__).parents[1] / "edition"))
import completeness

Told = tuple[Answer, dict[str, Any]]

WARM = completeness.WEATHER
COOL = {**WARM, "air": "52 F", "surface": "50 F", "surface_warmest": "55 F", "material": "62 F"}
ASKS = re.compile(r"\bask\b|pregunt", re.IGNORECASE)
FAULTY = re.compile(
    r"[.,;:]\s?[.,;:](?!\d)|  |[{}]|\(\)|\s[.,;:]|\bde el \b|\ba el \b|\d\.?e-\d|^[.,;:]"
)
#: In a sum they say what is reckoned first.
NESTED = re.compile(r"\([^()]*\([^()]*\)")
STRAY = re.compile(r"(?<=[\wáéíóúñ,;)] )[A-ZÁÉÍÓÚÑ][a-záéíóúñ]\w*")
#: Names of places, months of work and what a rule itself writes large.
PROPER = {
    "States",
    "State",
    "Unidos",
    "Estados",
    "Washington",
    "Massachusetts",
    "Category",
    "Categoría",
}
#: Titles and publishers stand as they are printed.
PRINTED = ("title", "issuer")


def _asked(edition: Edition, lang: str) -> Iterator[Told]:
    """Ask each detail with each substrate, roof and resin; on warm, cool and unknown days."""
    for number, cell in enumerate(completeness.cells(edition, whole=False)):
        body = completeness.request(edition, cell, "us" if number % 3 else "si", lang)
        body["now"] = (WARM, COOL, {"air": "72 F"}, {})[number % 4]
        if number % 5 < 2:  # something was done already, lately or long ago
            body["now"] = {**body["now"], "at": f"2026-11-28T{('07', '17')[number % 2]}:00"}
            body["since"] = [
                {"activity": activity, "at": "2026-11-27T15:00"}
                for activity in ("prime-metal", "prime-sheet", "clean", "base-coat")
            ]
        try:
            done = answer(read_requirements(body, edition), edition)
        except QueryFaults:
            continue
        yield done, write(done)


@pytest.fixture(scope="module", params=["en", "es"])
def told(request: pytest.FixtureRequest, edition: Edition) -> list[Told]:
    return list(_asked(edition, request.param))


def _texts(node: Any, without: tuple[str, ...] = ()) -> Iterator[str]:
    if isinstance(node, dict):
        for name, inside in node.items():
            if name not in without:
                yield from _texts(inside, without)
    elif isinstance(node, list):
        for inside in node:
            yield from _texts(inside, without)
    elif isinstance(node, str):
        yield node


def test_a_go_holds_no_ask_in_any_step(told: list[Told]) -> None:
    going = [document for _, document in told if document["verdict"]["state"] == "go"]
    assert len(going) > 20
    for document in going:
        for step in document["steps"]:
            assert not step["asks"], step["asks"]
            asking = [text for text in _texts(step) if ASKS.search(text)]
            assert not asking, asking


def test_what_a_step_asks_is_a_reason_of_the_verdict(told: list[Told]) -> None:
    seen = set()
    for _, document in told:
        reasons = {r["id"] for r in document["verdict"]["reasons"] if r["state"] == "ask"}
        for step in document["steps"]:
            ids = {ask["id"] for ask in step["asks"]}
            assert ids <= reasons
            seen |= ids
    assert any(id.startswith("resins/") for id in seen)
    assert any(id.startswith("primers/") for id in seen)


def test_a_time_that_no_record_gives_is_asked_about(told: list[Told]) -> None:
    """What the steps name without a number stands among the reasons, under the product's id."""
    found = 0
    for done, document in told:
        reasons = {r["id"] for r in document["verdict"]["reasons"]}
        resin = document["resin"]["id"]
        for time in done.timing.times:
            if time.id == f"watertight/{resin}" and time.why in ("below", "table"):
                found += not done.layout.stopped
                assert done.layout.stopped or f"resins/{resin}: watertight" in reasons
    assert found


def test_no_text_is_put_together_wrongly(told: list[Told]) -> None:
    every = {text for _, document in told for text in _texts(document)}
    spoken = {text for _, document in told for text in _texts(document, ("workings",))}
    wrong = {text for text in every if FAULTY.search(text)}
    wrong |= {text for text in spoken if NESTED.search(text)}
    assert not wrong, sorted(wrong)[:5]


def test_no_capital_stands_inside_a_sentence(told: list[Told]) -> None:
    spoken = {text for _, document in told for text in _texts(document, PRINTED)}
    strays = {(word, text) for text in spoken for word in STRAY.findall(text)}
    wrong = {text for word, text in strays if word not in PROPER}
    assert not wrong, sorted(wrong)[:5]


def test_the_check_finds_what_it_is_for() -> None:
    for text in ("It is so..", "a  b", "{slot}", "()", "near , by", "de el techo", "x + 1e-09"):
        assert FAULTY.search(text), text
    assert NESTED.search("((not computed))")
    assert STRAY.findall("the sheet of One-part resin") == ["One"]
    assert not STRAY.findall("Steel. Wait: TPO sheet, at (b)(3)")
    assert not FAULTY.search("Wait 2.5 h (at 70 °F); then 1/2 in, i.e. so.")
