"""Overlays laid over an edition."""

from __future__ import annotations

import copy
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from upstand.edition import Edition, SpecFault, UnknownOverlay, load
from upstand.edition.overlay.lay import Setting, lay_settings
from upstand.edition.overlay.read import overlay_ids
from upstand.edition.publishing.publish import publish

PRODUCT = {"grade": "product", "source": "Invented sheet A", "locator": "table 1"}
REASON = {"en": "The sheet says so.", "es": "La hoja lo dice."}
NOTE = {"en": "One.", "es": "Uno."}
Lay = Callable[..., Edition]


def row(path: str, expects: Any, value: Any, **more: Any) -> dict[str, Any]:
    return {"path": path, "expects": expects, "value": value, "basis": PRODUCT, **more}


@pytest.fixture
def lay(small: Path, tmp_path: Path) -> Lay:
    """Return a writer and loader of an overlay named `mine` over `next`."""

    def write(*rows: dict[str, Any], extends: str = "next", id: str = "mine") -> Edition:
        folder = tmp_path / "overlays"
        folder.mkdir(exist_ok=True)
        text = json.dumps({"extends": extends, "set": list(rows)})
        (folder / f"{id}.yaml").write_text(text, encoding="utf-8")
        return load(root=small, overlay=id, overlays=folder)

    return write


def test_a_value_is_the_overlays(lay: Lay, small: Path) -> None:
    edition = lay(row("resins/pu-2k: layers.base", "40 mil", "45 mil", checked_on="2026-12-01"))
    value = edition.record("resins/pu-2k").value("layers.base")
    assert (value.value, value.grade, value.source, value.locator, value.layer) == (
        45.0,
        "product",
        "sources/mine-invented-sheet-a",
        "table 1",
        "overlay mine",
    )
    assert value.checked_on == "2026-12-01"
    origin = value.traced("mil").origin
    assert (origin.kind, origin.where, origin.grade, origin.source) == (
        "overlay",
        "resins/pu-2k: layers.base",
        "product",
        "sources/mine-invented-sheet-a",
    )
    below = load("next", small)
    assert (edition.id, edition.overlay, edition.status) == ("next", "mine", "draft")
    assert edition.digest != below.digest
    assert below.record("resins/pu-2k").value("layers.base").value == 40.0
    assert edition.record("resins/pu-2k").value("layers.top").layer == "edition"
    assert edition.loosened == ()
    assert edition.overlaid == (
        {
            "path": "resins/pu-2k: layers.base",
            "from": "40 mil",
            "to": "45 mil",
            "basis": {**PRODUCT, "source": "sources/mine-invented-sheet-a"},
            "reason": None,
        },
    )


def test_a_sheet_is_among_the_sources(lay: Lay) -> None:
    other = {"grade": "product", "source": "Hoja técnica: año 2026 (revisión Ñ)", "locator": "p. 2"}
    edition = lay(
        row("resins/pu-2k: layers.base", "40 mil", "45 mil"),
        row("resins/pu-2k: layers.bed", "20 mil", "22 mil"),
        {**row("resins/pu-2k: layers.top", "25 mil", "26 mil"), "basis": other},
    )
    sheet = edition.record("sources/mine-invented-sheet-a")
    assert (sheet.get("title"), sheet.get("sort")) == ("Invented sheet A", "product-sheet")
    assert sheet.text("read", "en") == "Named by the overlay mine, which answers for it."
    assert edition.record("resins/pu-2k").value("layers.top").source == (
        "sources/mine-hoja-tecnica-ano-2026-revision-n"
    )
    assert len(edition.kind("sources")) == 3  # the handbook of the small tree, and two sheets
    registered = {"grade": "standard", "source": "sources/handbook", "locator": "table 1"}
    edition = lay({**row("resins/pu-2k: layers.base", "40 mil", "45 mil"), "basis": registered})
    assert edition.record("resins/pu-2k").value("layers.base").source == "sources/handbook"
    unregistered = {"grade": "product", "source": "sources/handbok"}
    with pytest.raises(SpecFault, match="is not in the register of sources"):
        lay({**row("resins/pu-2k: layers.base", "40 mil", "45 mil"), "basis": unregistered})


def test_one_end_of_a_range_leaves_the_other_its_origin(lay: Lay) -> None:
    edition = lay(row("resins/pu-2k: application.low", "40 degF", "45 degF"))
    value = edition.record("resins/pu-2k").value("application")
    low, high = value.traced("degF", "low"), value.traced("degF", "high")
    assert (low.value, low.origin.kind, low.origin.grade) == (45.0, "overlay", "product")
    assert (high.value, high.origin.kind, high.origin.grade) == (90.0, "edition", "practice")
    assert edition.overlaid[0]["from"] == "40 degF"
    assert edition.overlaid[0]["to"] == "45 degF"


def test_a_whole_time_keeps_how_it_scales(lay: Lay) -> None:
    edition = lay(
        row(
            "resins/pu-2k: pot_life",
            {"at": "70 degF", "low": "25 min", "high": "30 min"},
            {"at": "73 degF", "low": "20 min", "high": "22 min"},
        )
    )
    value = edition.record("resins/pu-2k").value("pot_life")
    assert (value.at, value.low, value.high) == (73.0, 20.0, 22.0)
    assert (value.by, value.scales, value.keep) == ("material", "halves", "shorter")


@pytest.mark.parametrize(
    "expects",
    [
        {"at": "70 degF", "low": "25 min", "high": "30 min"},
        {"at": "70 degF", "low": "25 min", "high": "0.5 h"},
        "25 min to 30 min at 70 degF",
    ],
)
def test_what_is_expected_may_be_written_in_several_ways(lay: Lay, expects: Any) -> None:
    new = {"at": "70 degF", "low": "20 min", "high": "22 min"}
    assert lay(row("resins/pu-2k: pot_life", expects, new)).overlaid


def test_a_field_that_was_not_there(lay: Lay) -> None:
    window = {"at": "70 degF", "high": "48 h", "by": "warmest-surface"}
    window |= {"scales": "none", "keep": "shorter"}
    edition = lay(row("resins/pu-2k: recoat_within", None, window))
    value = edition.record("resins/pu-2k").value("recoat_within")
    assert (value.high, value.unit, value.layer) == (48.0, "h", "overlay mine")
    assert edition.loosened == ()


def test_what_is_no_sourced_value(lay: Lay) -> None:
    edition = lay(
        row("resins/pu-2k: hazards", ["solvent"], ["solvent", "sparks"]),
        row(
            "primers/metal-wood: method",
            "Brush it on.",
            {"en": "Roll it on.", "es": "Aplique con rodillo."},
            reason=REASON,
        ),
    )
    assert [held["path"] for held in edition.loosened] == ["primers/metal-wood: method"]
    assert edition.record("resins/pu-2k").get("hazards") == ("solvent", "sparks")
    assert edition.record("primers/metal-wood").text("method", "en") == "Roll it on."
    assert [held["path"] for held in edition.overlaid] == [
        "resins/pu-2k: hazards",
        "primers/metal-wood: method",
    ]


def test_a_bound_that_is_taken_from_the_product(lay: Lay) -> None:
    change = row(
        "limits/surface: at_least", {"take": "product.application.low"}, "45 degF", reason=REASON
    )
    edition = lay(change)
    value = edition.record("limits/surface").value("at_least")
    assert (value.value, value.unit, value.layer) == (45.0, "degF", "overlay mine")
    assert edition.loosened[0]["how"] == "changes what cannot be shown to be stricter"


def test_a_stop_by_its_id(lay: Lay) -> None:
    whom = row("resins/pu-2k: stops.wet-lid.whom", "product-maker", "crew-lead", reason=REASON)
    edition = lay(whom)
    assert edition.record("resins/pu-2k").get("stops.0.whom") == "crew-lead"


def test_both_digests_tell_what_lies_on_what(lay: Lay, small: Path) -> None:
    below = load(root=small)
    first = lay(row("resins/pu-2k: layers.base", "40 mil", "45 mil"))
    assert first.base == below.digest and first.overlay_digest != first.digest
    other = lay(row("resins/pu-2k: layers.base", "40 mil", "46 mil"))
    assert other.base == below.digest and other.overlay_digest != first.overlay_digest
    again = lay(row("resins/pu-2k: layers.base", "40 mil", "45 mil"))
    assert again.overlay_digest == first.overlay_digest
    assert below.overlay_digest is None and below.base == ""


def test_a_loosened_limit_wants_a_reason_and_is_recorded(lay: Lay) -> None:
    loose = row("limits/wind: at_most", "25 mph", "30 mph")
    with pytest.raises(SpecFault, match=r"raises it \(25 mph to 30 mph\), and gives no reason"):
        lay(loose)
    edition = lay({**loose, "reason": REASON})
    assert edition.loosened == (
        {
            "path": "limits/wind: at_most",
            "from": "25 mph",
            "to": "30 mph",
            "reason": REASON,
            "how": "raises it",
        },
    )
    plain = lay({**loose, "reason": "Said by the maker."})
    assert plain.loosened[0]["reason"] == {"en": "Said by the maker.", "es": "Said by the maker."}
    for bad in ("", " ", 5, {"en": "One."}, ["x"]):
        with pytest.raises(SpecFault, match="is no reason"):
            lay({**loose, "reason": bad})
    assert lay(row("limits/wind: at_most", "25 mph", "20 mph")).loosened == ()


def test_a_dropped_caution_wants_a_reason_and_is_recorded(lay: Lay) -> None:
    drop = row("cautions/sparks", "sparks", None)
    with pytest.raises(SpecFault, match="drops a caution"):
        lay(drop)
    edition = lay({**drop, "reason": REASON})
    assert not edition.has("cautions/sparks")
    assert edition.loosened[0]["path"] == "cautions/sparks"
    with pytest.raises(SpecFault, match="is expected to warn of solvent, and warns of sparks"):
        lay({**drop, "expects": "solvent", "reason": REASON})


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (row("resins/pu-2k: layers.base", "41 mil", "45 mil"), "stands at 40 mil, and 41 mil was"),
        (row("resins/pu-2k: layers.base", None, "45 mil"), "and nothing was expected"),
        (row("resins/pu-2k: recoat_within", "2 h", "3 h"), "stands at nothing, and 2 h was"),
        (row("resins/pu2k: layers.base", "40 mil", "45 mil"), "nearest: resins/pu-2k"),
        (row("resins/pu-2k: layer.base", "40 mil", "45 mil"), "nearest: layers.base"),
        (row("resins/pu-2k: layers.base.unit", "mil", "um"), "no such field"),
        (row("resins/pu-2k: application.at", None, "45 degF"), "no such field"),
        (row("pu-2k", "40 mil", "45 mil"), "is not a path"),
        (row("resins/pu-2k: layers.base", "40 mil", "1 gal"), "measures volume, not film"),
        (row("resins/pu-2k: layers.base", "40 mil", "45"), "is not an amount"),
        (row("resins/pu-2k: layers.base", "40 mil", ["45 mil"]), "is not an amount"),
        (row("resins/pu-2k: layers.base", "40 mil", None), "cannot be taken away"),
        (row("resins/pu-2k: application.low", "40 degF", None), "is not an amount"),
        (row("resins/pu-2k: application.low", "40 degF", "95 degF"), "has low above high"),
        (row("resins/pu-2k: layers", {}, {}), "stands at"),
        (row("resins/pu-2k", None, None), "cannot be taken away: others refer to it"),
        (row("cautions/sparks", "sparks", "x"), "names a whole record"),
        (row("resins/pu-2k: parts", 2, 1, reason=REASON), "stands for a product of one part"),
        (row("resins/pu-2k: whole_packs", True, "no", reason=REASON), "is not true or false"),
        (row("primers/metal-wood: activity", "activities/prime-metal", "activities/mask"), "prim"),
        (
            row("resins/pu-2k: layers.base", "40 mil", {"value": "45 mil", "basis": PRODUCT}),
            "does not go here",
        ),
        (
            {**row("resins/pu-2k: layers.base", "40 mil", "45 mil"), "basis": {"grade": "sure"}},
            "has no basis with a known grade",
        ),
        (
            {
                **row("resins/pu-2k: layers.base", "40 mil", "45 mil"),
                "basis": {"grade": "standard"},
            },
            "a value of grade standard says where it was read",
        ),
        (
            {
                **row("resins/pu-2k: layers.base", "40 mil", "45 mil"),
                "basis": {"grade": "product", "page": "3"},
            },
            "is not part of a basis",
        ),
    ],
)
def test_refuses(lay: Lay, change: dict[str, Any], words: str) -> None:
    with pytest.raises(SpecFault) as caught:
        lay(change)
    assert words in str(caught.value)
    assert all(fault.file == "overlays/mine.yaml" for fault in caught.value.faults)
    assert all(fault.path.startswith("set.0") for fault in caught.value.faults)


def test_several_values_in_one_are_set_one_by_one(lay: Lay, small: Path) -> None:
    held = load("next", small).raw["resins"]["pu-2k"]["layers"]
    with pytest.raises(SpecFault, match=r"set each value in it: layers\.base"):
        lay(row("resins/pu-2k: layers", copy.deepcopy(held), {}))


def test_every_fault_is_told_at_once(lay: Lay) -> None:
    with pytest.raises(SpecFault) as caught:
        lay(
            row("resins/pu-2k: layers.base", "41 mil", "45 mil"),
            row("resins/none: layers.base", "41 mil", "45 mil"),
            row("limits/wind: at_most", "25 mph", "30 mph"),
        )
    assert [fault.path for fault in caught.value.faults] == [
        "set.0.expects",
        "set.1.path",
        "set.2.reason",
    ]


def test_an_overlay_on_an_overlay(lay: Lay) -> None:
    lay(row("resins/pu-2k: layers.base", "40 mil", "45 mil"), id="maker")
    edition = lay(
        row("resins/pu-2k: layers.base", "45 mil", "50 mil"),
        row("resins/pu-2k: layers.top", "25 mil", "28 mil"),
        extends="maker",
        id="firm",
    )
    assert edition.overlay == "firm"
    assert edition.record("resins/pu-2k").value("layers.base").value == 50.0
    assert edition.record("resins/pu-2k").value("layers.top").layer == "overlay firm"
    assert [held["to"] for held in edition.overlaid] == ["45 mil", "50 mil", "28 mil"]


def test_a_loosening_below_is_still_told_above(lay: Lay) -> None:
    lay(row("limits/wind: at_most", "25 mph", "30 mph", reason=REASON), id="maker")
    edition = lay(row("resins/pu-2k: layers.base", "40 mil", "45 mil"), extends="maker", id="firm")
    assert [held["path"] for held in edition.loosened] == ["limits/wind: at_most"]


def test_a_long_chain_ends(lay: Lay) -> None:
    lay(row("resins/pu-2k: layers.base", "40 mil", "41 mil"), id="o-0")
    for number in range(1, 8):
        here = row("resins/pu-2k: layers.base", f"{40 + number} mil", f"{41 + number} mil")
        edition = lay(here, extends=f"o-{number - 1}", id=f"o-{number}")
    assert edition.record("resins/pu-2k").value("layers.base").value == 48.0
    with pytest.raises(SpecFault, match="lies on more than 8 others"):
        lay(row("resins/pu-2k: layers.base", "48 mil", "49 mil"), extends="o-7", id="o-8")


def test_the_edition_may_be_a_bare_number(small: Path, tmp_path: Path) -> None:
    publish(small, "2026.10", date="2026-11-24", note=NOTE)
    folder = tmp_path / "overlays"
    folder.mkdir()
    text = "extends: 2026.10\nset:\n  - path: 'resins/pu-2k: layers.base'\n    expects: 40 mil\n"
    text += "    value: 45 mil\n    basis: {grade: product}\n"
    (folder / "mine.yaml").write_text(text, encoding="utf-8")
    edition = load(root=small, overlay="mine", overlays=folder)
    assert (edition.id, edition.status) == ("2026.10", "published")
    with pytest.raises(SpecFault, match=r"is 2026\.10, and next was asked for"):
        load("next", small, overlay="mine", overlays=folder)


def test_a_folder_of_sheets_is_one_overlay(small: Path, tmp_path: Path) -> None:
    folder = tmp_path / "overlays"
    (folder / "firm").mkdir(parents=True)
    for name, path, old, new in (
        ("a", "resins/pu-2k: layers.base", "40 mil", "45 mil"),
        ("b", "primers/metal-wood: coverage", "150 ft^2/gal", "140 ft^2/gal"),
    ):
        node = {"extends": "next", "set": [row(path, old, new)]}
        (folder / "firm" / f"{name}.yaml").write_text(json.dumps(node), encoding="utf-8")
    edition = load(root=small, overlay="firm", overlays=folder)
    assert len(edition.overlaid) == 2
    node = {"extends": "2026.1", "set": [row("resins/pu-2k: layers.top", "25 mil", "26 mil")]}
    (folder / "firm" / "c.yaml").write_text(json.dumps(node), encoding="utf-8")
    with pytest.raises(SpecFault, match=r"extends 2026\.1, another file of this overlay next"):
        load(root=small, overlay="firm", overlays=folder)


def test_where_overlays_are_looked_for(
    small: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("UPSTAND_OVERLAYS", raising=False)
    node = {"extends": "next", "set": [row("resins/pu-2k: layers.base", "40 mil", "45 mil")]}
    (small / "overlays").mkdir()
    (small / "overlays/mine.yaml").write_text(json.dumps(node), encoding="utf-8")
    assert load(root=small, overlay="mine").overlay == "mine"
    monkeypatch.setenv("UPSTAND_OVERLAYS", str(tmp_path / "private"))
    with pytest.raises(UnknownOverlay):
        load(root=small, overlay="mine")
    for id in ("../overlays/mine", "", "mine.yaml", "Mine", "a" * 65):
        with pytest.raises(UnknownOverlay):
            load(root=small, overlay=id, overlays=small / "overlays")
    assert overlay_ids(small / "overlays") == ["mine"]
    (small / "overlays/link.yaml").symlink_to(small / "overlays/mine.yaml")
    assert overlay_ids(small / "overlays") == ["mine"]


JUNK = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-5, 99)
    | st.floats(-9, 9)
    | st.sampled_from(["40 mil", "45 mil", "1 gal", "70 degF", "x", "", "primers/x", "low"]),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(
            st.sampled_from(["value", "low", "high", "at", "points", "take", "window", "en", "es"]),
            inner,
            max_size=3,
        )
    ),
    max_leaves=6,
)


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(data=st.data())
def test_whatever_is_written_is_laid_or_refused_in_words(whole: Path, data: st.DataObject) -> None:
    raw = load("next", whole).raw
    kind = data.draw(st.sampled_from(["resins", "primers", "limits", "substrates", "details"]))
    id = data.draw(st.sampled_from(sorted(raw[kind])))
    path = data.draw(st.sampled_from(sorted(raw[kind][id])))
    held: Any = raw[kind][id][path]
    bare = isinstance(held, dict) and "basis" in held
    expects = (
        held.get("value", {k: v for k, v in held.items() if k in ("at", "low", "high")})
        if (bare)
        else held
    )
    value = data.draw(JUNK)
    setting = Setting(
        "overlays/x.yaml", "set.0", f"{kind}/{id}: {path}", expects, value, PRODUCT, None, REASON
    )
    copied: Any = copy.deepcopy(dict(raw))
    laid = lay_settings(copied, [setting], "overlay x")
    if not laid.faults:
        from upstand.edition import build
        from upstand.edition.schema.kinds import KINDS

        build.edition("next", copied, "draft", tuple(KINDS), overlay="x")
