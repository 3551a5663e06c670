"""What is wrong is told in both languages, by a code that stays, with what would be accepted."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from upstand import LANGUAGES
from upstand.quantity.typed import NotationFault, read
from upstand.query.faults import Fault, QueryFaults, nearest
from upstand.telling.said import CODES, Or, Said, say, sentences, tell

ROOT = Path(__file__).parents[2]
SLOT = re.compile(r"\{([a-z_]+)\}")
NUMBER = re.compile(r"\d+(?:[.,]\d+)?")


@pytest.fixture(params=sorted(sentences()))
def id(request: pytest.FixtureRequest) -> str:
    """Each sentence's id."""
    return str(request.param)


def test_every_sentence_keeps_the_rules(id: str) -> None:
    held = sentences()[id]
    en, es = held.texts
    assert en and es and en.strip() == en and es.strip() == es
    assert set(SLOT.findall(en)) >= set(SLOT.findall(es)), "no slot that the other has not"
    assert sorted(NUMBER.findall(en)) == sorted(NUMBER.findall(es)), "the same numbers"
    assert held.code in CODES or held.code == ""
    assert not re.search(r"  | [.,;:]", en + es)
    assert not re.search(r"metre|litre|colour|centre\b(?!`)", en.replace("`at` is the centre", ""))


def calls() -> Iterator[str]:
    """Every text and beginning of a text in code: a sentence is named as a whole, or begun."""
    for folder in ("shared", "api"):
        for file in (ROOT / folder).rglob("*.py"):
            for node in ast.walk(ast.parse(file.read_text("utf-8"))):
                if isinstance(node, ast.Constant) and isinstance(node.value, str):
                    yield node.value


def test_every_sentence_is_told_somewhere() -> None:
    named = set(calls())
    begun = ("name-", "bare-", "title-", "thing-", "called-")
    silent = [id for id in sentences() if id not in named and not id.startswith(begun)]
    assert silent == []


def test_every_code_is_used() -> None:
    assert {held.code for held in sentences().values()} - {""} == set(CODES)


def test_a_sentence_is_its_english_text_and_tells_the_other() -> None:
    told = say("nearest", ["tpo"], close=Or(("tpo", "pvc")), known=("epdm", "pvc", "tpo"))
    assert told == "did you mean tpo or pvc? Known: epdm, pvc, tpo"
    assert told.tell("es") == "¿quiso decir tpo o pvc? Se conocen: epdm, pvc, tpo"
    assert tell("plain", "es") == "plain"


def test_sentences_inside_a_sentence_speak_its_language_and_say_what_is_accepted() -> None:
    told = say("unknown-id", word="x", what=say("thing-resin"), nearest=nearest("x", ["a", "b"]))
    assert told.tell("es") == "“x” no se conoce como resina: se conocen a, b"
    assert (told.code, told.accepted) == ("unknown-id", ("a", "b"))


@pytest.mark.parametrize(
    ("text", "code", "accepted"),
    [
        ("8", "no-unit", ("8 in", "8 mm")),
        ("8 F", "wrong-unit", ("8 1/2 in", "2'-6 1/2\"", "1.5 ft", "216 mm")),
        ("", "empty", ("8 1/2 in", "2'-6 1/2\"", "1.5 ft", "216 mm")),
        ("2000 ft", "out-of-range", ()),
    ],
)
def test_a_quantity_is_refused_by_code(text: str, code: str, accepted: tuple[str, ...]) -> None:
    with pytest.raises(NotationFault) as caught:
        read(text, "length")
    message = caught.value.message
    assert (message.code, message.accepted) == (code, accepted)
    assert message.tell("es") != message.tell("en") == str(caught.value)


def test_half_a_character_is_never_told() -> None:
    faults = QueryFaults([Fault("/a\ud800", say("unknown-field", nearest="\udfff"))]).faults
    assert faults[0].pointer == "/a?" and "\udfff" not in faults[0].detail
    assert all("\udfff" not in tell(faults[0].detail, lang) for lang in LANGUAGES)
    assert isinstance(faults[0].detail, Said)


def test_nothing_that_is_told_is_worded_in_code() -> None:
    """A fault's text is a sentence of the files, so that it has a code and both languages."""
    worded = []
    places = [ROOT / "shared/upstand/query", ROOT / "api/upstand_api"]
    for file in (each for place in places for each in place.rglob("*.py")):
        for node in ast.walk(ast.parse(file.read_text("utf-8"))):
            if not (isinstance(node, ast.Call) and isinstance(node.func, ast.Name)):
                continue
            if node.func.id in ("Fault", "CellFault", "ValidationError", "problem") and node.args:
                last = node.args[-1] if node.func.id != "problem" else node.args[1]
                if isinstance(last, ast.JoinedStr | ast.Constant):
                    worded.append(f"{file.relative_to(ROOT)}:{node.lineno}")
    assert worded == []
