"""The software's sentences: one set of rules for all of them, wherever they are shown."""

from __future__ import annotations

import ast
import re
import shutil
from pathlib import Path

import pytest

from upstand.edition.rules.slots import FILLED
from upstand.quantity.shown import Speech
from upstand.quantity.traced import asked
from upstand.words import store
from upstand.words.fill import Words, fill, lower_first
from upstand.words.model import Rounded, Sentence, Span
from upstand.words.store import Text, read_words, texts

ROOT = Path(__file__).parents[2]
SLOT = re.compile(r"\{([a-z_]+)\}")
#: Texts that are numbers of a formula, an address of a way out, or signs.
NUMBER = re.compile(r"\d+(?:[.,]\d+)?")
#: Said in English on the page in Spanish, since it leads there, and the other way round.
OTHER_LANGUAGE = {"start-other"}


@pytest.fixture(params=sorted(texts()))
def both(request: pytest.FixtureRequest) -> tuple[str, Text]:
    """Each sentence and label with its id."""
    return request.param, texts()[request.param]


def test_every_text_keeps_the_rules(both: tuple[str, Text]) -> None:
    id, text = both
    assert re.fullmatch(r"[a-z][a-z0-9_-]*", id)
    assert text.en.strip() == text.en and text.es.strip() == text.es, "a space at an end"
    assert text.en and text.es, "in both languages"
    assert sorted(SLOT.findall(text.en)) == sorted(SLOT.findall(text.es)), "the same slots"
    for said in text:
        assert not re.search(r"[{}]", SLOT.sub("", said)), "a brace that is no slot"
        assert not re.search(r"\.\.|,,|;;|::|  |\(\(|\)\)| [.,;:]", said), "doubled punctuation"
        assert "fieltro" not in said.lower() and "vellón" not in said.lower(), "fleece is tela"
    if id not in OTHER_LANGUAGE:
        assert NUMBER.findall(text.en) == NUMBER.findall(text.es), "the same numbers"


def test_a_wrong_text_is_found() -> None:
    """The rules above tell: each of these breaks one of them."""
    for en, es in (("{a}", "{b}"), ("of 2", "de 3"), ("one..", "uno"), ("fleece", "vellón")):
        with pytest.raises(AssertionError):
            test_every_text_keeps_the_rules(("made-up", Text(en, es)))


def test_one_id_stands_once(tmp_path: Path) -> None:
    for name in ("a", "b"):
        (tmp_path / f"{name}.yaml").write_text("twice: {en: One, es: Uno}\n", encoding="utf-8")
    with pytest.raises(ValueError, match=r"b\.yaml: twice stands in another file too"):
        read_words(tmp_path)


def test_a_sentence_is_one_file_that_is_changed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A line in a file of words, and it is said in both languages and systems of units."""
    folder = tmp_path / "words"
    shutil.copytree(ROOT / "shared/upstand/words", folder)
    with (folder / "work.yaml").open("a", encoding="utf-8") as file:
        file.write('slope-said:\n  en: "Slope: {slope}."\n  es: "Pendiente: {slope}."\n')
    more = read_words(folder)
    assert set(more) == {*texts(), "slope-said"}
    monkeypatch.setattr(store, "texts", lambda: more)
    sentence = Sentence("slope-said", {"slope": asked(0.25, "in", "/slope")})
    assert Words("en").said(sentence) == "Slope: 1/4 in."
    assert Words("es", Speech("si")).said(sentence) == "Pendiente: 6 mm."


def named_in_code() -> set[str]:
    """Every string and beginning of a string in code, as far as its first slot."""
    found = set()
    for folder in ("shared", "api", "site"):
        for file in (ROOT / folder).rglob("*.py"):
            for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
                if isinstance(node, ast.Constant) and isinstance(node.value, str):
                    found.add(node.value)
    return found


def test_every_sentence_is_said_somewhere() -> None:
    named = named_in_code()
    begun = tuple(text for text in named if re.fullmatch(r"[a-z]+-(?:[a-z]+-)*", text))
    made = ("name-", "formula-", "cli-", "drawing-", "start-", "grade-", "whom-")
    silent = [
        id
        for id in texts()
        if id not in named
        and not id.startswith(begun)
        and not (id.startswith(made) and id.partition("-")[2] in named)
        and not id.startswith(("name-", "start-", "whom-", "grade-", "cli-severity-", "cli-stage-"))
    ]
    assert not silent


def test_slots_are_filled_from_what_is_computed() -> None:
    words = Words("es")
    part = Sentence("surface-member-n", {"n": "2"})
    assert words.say("assumed-at", what=part) == "Elemento 2: no se dio su lugar: en el origen."
    assert words.said(Sentence("assumed-at", {"what": ("A", "B")})).startswith("A y B:")
    assert words.slot(("one, flat", "two")) == "one, flat; two"
    with pytest.raises(KeyError):
        words.say("assumed-at")
    with pytest.raises(KeyError):
        words.say("no-such-sentence")


def test_ends_of_a_range_are_rounded_to_the_safe_side() -> None:
    from upstand.quantity.traced import asked

    words = Words("en")
    low, high = asked(40.04, "degF", "/a"), asked(89.96, "degF", "/b")
    assert words.slot(Span(low, high, ("up", "down"))) == "40.1–89.9 °F"
    assert words.slot(Rounded(low, "up")) == "40.1 °F"
    assert words.slot(Span(None, high, ("up", "down"))) == "89.9 °F"


def test_one_pass() -> None:
    assert fill("{a}", {"a": "{b}"}) == "{b}"
    assert lower_first("PMMA resin") == "PMMA resin"


def test_kinds_whose_texts_have_slots() -> None:
    assert set(FILLED) == {"activities", "limits", "primers", "resins"}
