"""The document of an answer: which keys, in which language and units, and what is left out."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from upstand.answer import Answer
from upstand.document import requirements, workings
from upstand.document.requirements import write
from upstand.query.faults import QueryFaults
from upstand.query.model import ANSWER_KEYS

Ask = Callable[..., Answer]


def texts(node: Any) -> list[str]:
    if isinstance(node, str):
        return [node]
    inner = node.values() if isinstance(node, dict) else node if isinstance(node, list) else ()
    return [text for each in inner for text in texts(each)]


def test_all_keys_in_their_order(ask: Ask) -> None:
    assert tuple(write(ask())) == ANSWER_KEYS


def test_keys_that_are_wanted(ask: Ask) -> None:
    answer, whole = ask(), write(ask())
    for key in ANSWER_KEYS:
        assert write(answer, fields=[key]) == {key: whole[key]}
    some = ("totals", "verdict")
    assert write(answer, fields=some) == {"verdict": whole["verdict"], "totals": whole["totals"]}


def test_the_question_names_the_keys(ask: Ask) -> None:
    answer = ask()
    asked = replace(answer.settled.query, fields=("verdict",))
    brief = replace(answer, settled=replace(answer.settled, query=asked))
    assert list(write(brief)) == ["verdict"]
    assert tuple(write(brief, fields=ANSWER_KEYS)) == ANSWER_KEYS


def test_every_key_can_be_asked_for(ask: Ask) -> None:
    assert tuple(write(ask(fields=list(ANSWER_KEYS)))) == ANSWER_KEYS
    with pytest.raises(QueryFaults, match="is not accepted: write one of edition, digest"):
        ask(fields=["quantities"])


def test_what_is_not_wanted_is_not_computed(ask: Ask, monkeypatch: pytest.MonkeyPatch) -> None:
    answer = ask()

    def refused(*given: Any) -> Any:
        raise AssertionError("walked or explained for nothing")

    monkeypatch.setattr(requirements, "graph_of", refused)
    monkeypatch.setattr(workings, "explain", refused)
    assert write(answer, fields=["verdict", "totals", "steps"])
    with pytest.raises(AssertionError, match="for nothing"):
        write(answer, fields=["workings"])


def test_one_answer_in_every_language_and_unit(ask: Ask) -> None:
    answer = ask(lang="en", units="us")
    assert write(answer, "es", "si") == write(ask(lang="es", units="si"))
    assert write(answer) == write(answer, "en", "us")


def test_spaces_before_units_break_for_programs_and_hold_on_pages(ask: Ask) -> None:
    answer = ask()
    plain, held = write(answer), write(answer, no_break=True)
    assert not any("\u00a0" in text for text in texts(plain))
    assert held["film"]["text"] == plain["film"]["text"].replace(" ", "\u00a0")
    assert [t.replace("\u00a0", " ") for t in texts(held)] == texts(plain)


def test_a_document_changed_by_its_reader_does_not_change_the_next(ask: Ask) -> None:
    answer = ask()
    whole, spoiled = write(answer), write(answer)
    for key in ("checks", "cautions", "tools"):
        spoiled[key][0]["name"] = "spoiled"
    spoiled["surfaces"][0]["preparation"][0]["text"] = "spoiled"
    assert write(answer) == whole
