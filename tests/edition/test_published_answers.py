"""Every published edition answers, whatever later versions of the software learn to read."""

from __future__ import annotations

import itertools
import re
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from upstand.answer import answer
from upstand.document.requirements import write
from upstand.edition import Edition, find_root, load
from upstand.edition.build import edition as make_edition
from upstand.edition.index import read_index
from upstand.edition.schema.kinds import KINDS
from upstand.query import QueryFaults, read_requirements

ENGINE = Path(__file__).resolve().parents[2] / "shared" / "upstand"
EDITIONS = [*(entry.id for entry in read_index(find_root())), "next"]

#: Records that code asks for by name: what a later version asks for, an earlier edition may lack.
NAMED = sorted(
    {
        path
        for file in ENGINE.rglob("*.py")
        for path in re.findall(
            r'"((?:limits|parameters|activities|tools|substrates)/[a-z0-9-]+)"',
            file.read_text(encoding="utf-8"),
        )
    }
)


@pytest.mark.parametrize("edition_id", EDITIONS)
def test_each_detail_in_both_languages_and_units(edition_id: str, completeness: ModuleType) -> None:
    edition = load(edition_id)
    for detail, lang, units in itertools.product(
        edition.kind("details"), ("en", "es"), ("us", "si")
    ):
        cell = (detail, "carbon-steel", "tpo", "pu-2k")
        body = completeness.request(edition, cell, units, lang)
        document = write(answer(read_requirements(body, edition), edition))
        verdict = document["verdict"]
        assert document["edition"] == edition_id
        assert verdict["state"] == "go" or verdict["reasons"], (detail, lang, units)


def without(edition: Edition, path: str) -> Edition:
    """An older edition, as it were: this one without a record."""
    kind, _, id = path.partition("/")
    raw = {name: dict(held) for name, held in edition.raw.items()}
    del raw[kind][id]
    return make_edition(edition.id, raw, edition.status, tuple(KINDS))


@pytest.mark.parametrize("path", NAMED)
def test_without_a_record_that_code_names_it_answers_or_says_what_is_missing(
    path: str, example: dict[str, Any]
) -> None:
    edition = load("next")
    if not edition.has(path):
        pytest.skip("another edition's")
    older = without(edition, path)
    for lang in ("en", "es"):
        try:
            told = answer(read_requirements({**example, "lang": lang}, older), older)
        except QueryFaults as refused:  # a default that the edition does not hold
            assert [fault.pointer for fault in refused.faults] == ["/edition"]
            assert path in refused.faults[0].detail
            continue
        verdict = write(told)["verdict"]
        if verdict["state"] != "go":
            assert verdict["state"] == "ask"
            named = [reason for reason in verdict["reasons"] if path in reason["text"]]
            assert named and all(reason["id"] == f"edition: {path}" for reason in named)
