"""The data that comes with the project passes its own check."""

from __future__ import annotations

from pathlib import Path

import pytest

from upstand.edition import Edition, load
from upstand.edition.check import check
from upstand.edition.schema.kinds import KINDS
from upstand.edition.schema.values import GRADES

SPECDATA = Path(__file__).resolve().parents[2] / "specdata"


@pytest.fixture(scope="module")
def edition() -> Edition:
    return load("next", SPECDATA)


def test_nothing_is_wrong_with_it() -> None:
    assert [str(fault) for fault in check(SPECDATA).faults] == []


def test_every_kind_has_records(edition: Edition) -> None:
    assert [kind for kind in KINDS if not edition.kind(kind)] == []


def test_every_value_has_a_grade_of_the_list(edition: Edition) -> None:
    held = [
        value
        for kind in KINDS
        for each in edition.kind(kind).values()
        for value in each.values().values()
    ]
    assert len(held) > 150
    assert {value.grade for value in held} <= set(GRADES) - {"product"}


def test_the_example_overlay_lies_on_it(edition: Edition) -> None:
    overlaid = load(root=SPECDATA, overlay="example", overlays=SPECDATA / "overlays")
    assert overlaid.record("resins/pu-2k").value("layers.base").layer == "overlay example"
    assert [held["path"] for held in overlaid.loosened] == ["resins/pu-2k: application.high"]
    assert {held["basis"]["grade"] for held in overlaid.overlaid} == {"product"}
