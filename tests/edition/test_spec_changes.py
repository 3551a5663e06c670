"""What changed between two editions."""

from __future__ import annotations

import copy
from pathlib import Path
from typing import Any

import pytest

from upstand.edition import load
from upstand.edition.publishing.changes import changes, raw_changes, sentence, show

PRACTICE = {"grade": "practice"}


def one(old: Any, new: Any) -> list[tuple[str, str | None, str | None]]:
    found = raw_changes({"terms": {"x": old}}, {"terms": {"x": new}})
    return [(change["path"], change["old"], change["new"]) for change in found]


def test_nothing_changed(whole: Path) -> None:
    assert changes(load(root=whole), load(root=whole)) == []


@pytest.mark.parametrize(
    ("node", "text"),
    [
        ({"value": "40 mil", "basis": PRACTICE}, "40 mil"),
        ({"value": 24, "basis": PRACTICE}, "24"),
        ({"value": False, "basis": PRACTICE}, "false"),
        ({"low": "40 degF", "high": "90 degF", "basis": PRACTICE}, "40 degF to 90 degF"),
        ({"low": "30 percent", "basis": PRACTICE}, "at least 30 percent"),
        ({"at": "70 degF", "high": "24 h", "basis": PRACTICE}, "at most 24 h at 70 degF"),
        (
            {"points": [{"at": "50 degF", "percent": 4}, {"at": "70 degF", "percent": 2}]}
            | {"basis": PRACTICE},
            "4 percent at 50 degF; 2 percent at 70 degF",
        ),
        (
            {"window": {"en": "Same shift.", "es": "Mismo turno."}, "basis": PRACTICE},
            "Same shift.",
        ),
        ({"take": "resin.application.low"}, "resin.application.low"),
        (["a", "b"], "a, b"),
        ({"en": "One", "es": "Uno"}, "One"),
    ],
)
def test_shown_as_data_writes_it(node: object, text: str) -> None:
    assert show(node) == text


def test_a_value_its_basis_and_its_date(whole: Path) -> None:
    old = load(root=whole).raw
    new = copy.deepcopy(dict(old))
    node = new["resins"]["pu-2k"]["layers"]["base"]
    node["value"] = "45 mil"
    node["basis"] = {"grade": "secondary", "source": "sources/handbook", "locator": "table 1"}
    node["checked_on"] = "2026-12-01"
    path = "resins/pu-2k: layers.base"
    basis = {"grade": "secondary", "source": "sources/handbook"}
    assert raw_changes(old, new) == [
        {"path": path, "old": "40 mil", "new": "45 mil", **basis},
        {
            "path": f"{path}.basis",
            "old": "practice",
            "new": "secondary, sources/handbook, table 1",
            **basis,
        },
        {"path": f"{path}.checked_on", "old": "2026-11-24", "new": "2026-12-01", **basis},
    ]


def test_records_that_come_and_go() -> None:
    old = {"terms": {"a": {"name": {"en": "A", "es": "A"}}}}
    new = {"terms": {"b": {"name": {"en": "B", "es": "B"}}}}
    none = {"grade": None, "source": None}
    assert raw_changes(old, new) == [
        {"path": "terms/a", "old": "A", "new": None, **none},
        {"path": "terms/b", "old": None, "new": "B", **none},
    ]


def test_fields_that_come_and_go() -> None:
    assert one({"of": "details/post"}, {"note": {"en": "N", "es": "N"}}) == [
        ("terms/x: of", "details/post", None),
        ("terms/x: note", None, "N"),
    ]


def test_one_language_alone() -> None:
    old = {"means": {"en": "A", "es": "B"}}
    assert one(old, {"means": {"en": "A", "es": "C"}}) == [("terms/x: means.es", "B", "C")]


def test_lists_of_words() -> None:
    assert one({"a": ["x", "y"]}, {"a": ["y", "z"]}) == [
        ("terms/x: a", "x", None),
        ("terms/x: a", None, "z"),
    ]
    assert one({"a": ["x", "y"]}, {"a": ["y", "x"]}) == [("terms/x: a", "x, y", "y, x")]


def test_items_with_ids_are_told_by_id() -> None:
    old = {"stops": [{"id": "wet", "whom": "crew-lead"}, {"id": "hot", "whom": "crew-lead"}]}
    new = {"stops": [{"id": "hot", "whom": "site-safety"}]}
    assert one(old, new) == [
        ("terms/x: stops.wet", '{"id":"wet","whom":"crew-lead"}', None),
        ("terms/x: stops.hot.whom", "crew-lead", "site-safety"),
    ]


def test_true_is_not_one() -> None:
    assert one({"a": True}, {"a": 1}) == [("terms/x: a", "true", "1")]


def test_a_sentence_for_each_sort() -> None:
    base = {"grade": "memory", "source": "sources/x"}
    assert (
        sentence({"path": "a/b: c", "old": "1", "new": "2", **base})
        == "a/b: c: was 1, is now 2 (memory, sources/x)."
    )
    none = {"grade": None, "source": None}
    assert sentence({"path": "a/b", "old": None, "new": "B", **none}) == "a/b: new: B."
    assert sentence({"path": "a/b", "old": "B", "new": None, **none}) == "a/b: gone, was B."
