"""Records and values: what they hold, and that nothing can change them."""

from __future__ import annotations

from dataclasses import FrozenInstanceError
from pathlib import Path
from types import MappingProxyType

import pytest

from upstand.edition import (
    Edition,
    UnknownKind,
    UnknownRecord,
    UnknownValue,
    Value,
    load,
)


@pytest.fixture(scope="module")
def edition(tmp_path_factory: pytest.TempPathFactory, whole: Path) -> Edition:
    return load(root=whole)


def test_next_is_a_draft(edition: Edition) -> None:
    assert (edition.id, edition.status, edition.overlay, edition.schema) == (
        "next",
        "draft",
        None,
        2,
    )
    assert len(edition.digest) == 64


def test_records_by_kind_and_path(edition: Edition) -> None:
    record = edition.record("resins/pu-2k")
    assert (record.id, record.kind, record.path) == ("pu-2k", "resins", "resins/pu-2k")
    assert list(edition.kind("limits")) == ["height", "surface", "wind"]
    assert edition.has("resins/pu-2k")
    assert not edition.has("resins/pu")


def test_what_is_not_there_names_the_nearest(edition: Edition) -> None:
    with pytest.raises(UnknownRecord) as caught:
        edition.record("resins/pu2k")
    assert caught.value.nearest == ("resins/pu-2k",)
    assert isinstance(caught.value, KeyError)
    with pytest.raises(UnknownKind) as kind:
        edition.kind("resin")
    assert "resins" in kind.value.nearest
    with pytest.raises(UnknownValue) as value:
        edition.record("resins/pu-2k").value("layer.base")
    assert "resins/pu-2k: layers.base" in value.value.nearest
    for path in ("", "/", "resins", "resins/", "../resins/pu-2k", "resins/pu-2k/x"):
        with pytest.raises(UnknownRecord):
            edition.record(path)


def test_values_carry_their_place_and_basis(edition: Edition) -> None:
    value = edition.record("resins/pu-2k").value("layers.base")
    assert (value.where, value.value, value.unit, value.grade, value.layer) == (
        "resins/pu-2k: layers.base",
        40.0,
        "mil",
        "practice",
        "edition",
    )
    assert value.magnitude("um") == pytest.approx(1016.0)  # 25.4 um a mil
    time = edition.record("primers/metal-wood").value("cover_within")
    assert (time.low, time.high, time.unit, time.at, time.at_unit) == (
        None,
        24.0,
        "h",
        70.0,
        "degF",
    )
    assert (time.by, time.scales, time.keep) == ("warmest-surface", "halves", "shorter")
    assert time.magnitude("min", "high") == 1440.0
    with pytest.raises(UnknownValue, match="cover_within"):
        time.magnitude("min", "low")


def test_traced_values_name_their_origin(edition: Edition) -> None:
    application = edition.record("resins/pu-2k").value("application")
    low, high = application.traced("degF", "low"), application.traced("degC", "high")
    assert (low.value, low.unit) == (40.0, "degF")
    assert high.value == pytest.approx(32.2222222, abs=1e-6)  # (90 - 32) / 1.8
    assert (low.origin.kind, low.origin.where, low.origin.grade) == (
        "edition",
        "resins/pu-2k: application",
        "practice",
    )
    at = edition.record("resins/pu-2k").value("pot_life").traced("degF", "at")
    assert (at.value, at.origin.where) == (70.0, "resins/pu-2k: pot_life")


def test_paths_texts_and_lists(edition: Edition) -> None:
    record = edition.record("preparations/carbon-steel")
    assert record.text("steps.0.do", "en") == "Grind it bright."
    assert record.text("steps.1.do", "es") == "(es) Wipe it."
    assert record.texts("never", "en") == ("A wire brush alone.",)
    assert record.texts("nothing", "en") == ()
    assert record.value("steps.0.grit").low == 24.0
    assert record.get("steps.0.hazards") == ("sparks",)
    assert record.get("steps.7.hazards", "no") == "no"
    assert record.get("steps.x") is None
    assert record.has("steps.0.grit")
    assert not record.has("steps.1.grit")
    for path, lang in (("steps.0.do", "fr"), ("steps.9.do", "en"), ("steps.0", "en")):
        with pytest.raises(UnknownValue):
            record.text(path, lang)
    assert list(record.values()) == ["steps.0.grit"]


def test_nothing_can_be_changed(edition: Edition) -> None:
    record = edition.record("resins/pu-2k")
    with pytest.raises(AttributeError):
        record.id = "x"
    with pytest.raises(AttributeError):
        del record.data
    with pytest.raises(FrozenInstanceError):
        edition.id = "x"  # type: ignore[misc]
    with pytest.raises(FrozenInstanceError):
        record.value("layers.base").value = 1.0  # type: ignore[misc]
    with pytest.raises(TypeError):
        record.data["parts"] = 1  # type: ignore[index]

    def frozen(node: object) -> bool:
        if isinstance(node, MappingProxyType):
            return all(frozen(item) for item in node.values())
        if isinstance(node, tuple):
            return all(frozen(item) for item in node)
        return node is None or isinstance(node, (str, int, float, bool, Value))

    assert all(frozen(each.data) for held in edition.records.values() for each in held.values())


def test_editions_are_alike_by_digest_and_status(whole: Path, edition: Edition) -> None:
    again = load(root=whole)
    assert again == edition
    assert hash(again) == hash(edition)
    assert again is not edition
