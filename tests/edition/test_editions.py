"""The published editions: whole, frozen, both answering, and different only where they say so."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

import pytest

from upstand.answer import answer
from upstand.document.requirements import write
from upstand.edition import find_root, load
from upstand.edition.frozen import read_frozen
from upstand.edition.index import read_index
from upstand.edition.publishing.changes import changes
from upstand.edition.publishing.publish import withdraw
from upstand.query import read_requirements

BLOCK_PIER = {
    "detail": "post",
    "roof": "tpo",
    "members": [{"section": "bar", "width": "8 in", "depth": "8 in", "substrate": "cmu"}],
    "now": {"air": "72 F", "surface": "78 F", "humidity": "55 %", "material": "70 F"},
}
ENTRIES = {entry.id: entry for entry in read_index(find_root())}
PUBLISHED = list(ENTRIES)


def _document(edition_id: str, body: dict[str, Any]) -> dict[str, Any]:
    edition = load(id=edition_id)
    return write(answer(read_requirements(body, edition), edition))


def test_the_newest_is_the_default() -> None:
    assert PUBLISHED[-2:] == ["2026.2", "2026.1"]
    assert load().id == PUBLISHED[0]
    assert load().status == "published"


@pytest.mark.parametrize("edition_id", PUBLISHED)
def test_each_is_as_it_was_frozen(edition_id: str) -> None:
    assert read_frozen(find_root(), ENTRIES[edition_id])


@pytest.mark.parametrize("edition_id", PUBLISHED)
def test_each_answers_the_worked_example_alike(edition_id: str) -> None:
    body = {
        **BLOCK_PIER,
        "members": [
            {
                "section": "angle",
                "leg_a": "3 in",
                "leg_b": "3 in",
                "thickness": "1/4 in",
                "substrate": "carbon-steel",
            }
        ],
        "plates": [{"width": "3 in", "length": "3 in", "at": ["6 in", "0 in"]}],
    }
    found = _document(edition_id, body)
    assert found["edition"] == edition_id
    # 259.5625 in² of zone: (15 x 11 - 1.4375) + 12 x 8
    assert found["fleece"]["zone"]["value"] == pytest.approx(259.5625 / 144)
    assert found["verdict"]["state"] == "go"


def test_side_by_side_the_answers_differ_where_the_changes_say() -> None:
    old, new = _document("2026.1", BLOCK_PIER), _document("2026.2", BLOCK_PIER)
    named = {change["path"] for change in changes(load(id="2026.1"), load(id="2026.2"))}
    assert "primers/masonry: flash_off" in named
    # 2026.1 took the 2 to 4 h of the metal and wood primer; 2026.2 says that none is on file
    assert [t["text"] for t in old["times"] if t["id"] == "flash-off/masonry"] == ["2–4 h at 78 °F"]
    assert "flash-off/masonry" not in [t["id"] for t in new["times"]]
    # so that one goes, and the other asks how it is told that the primer is ready
    assert (old["verdict"]["state"], new["verdict"]["state"]) == ("go", "ask")
    assert [r["id"] for r in new["verdict"]["reasons"]] == ["primers/masonry: wait"]
    same = {"fleece", "masking", "coats", "surfaces", "totals", "dimensions"}
    assert all(old[part] == new[part] for part in same)


def test_a_withdrawn_edition_answers_with_a_warning(tmp_path: Path) -> None:
    root = tmp_path / "specdata"
    shutil.copytree(find_root(), root)
    note = {"en": "Drying time without a source.", "es": "Tiempo de secado sin fuente."}
    withdraw(root, "2026.1", date="2026-11-25", note=note)
    edition = load(id="2026.1", root=root)
    found = write(answer(read_requirements(BLOCK_PIER, edition), edition))
    assert found["notices"][0] == "This edition is withdrawn: Drying time without a source."
    for edition_id in PUBLISHED[:-1]:
        withdraw(root, edition_id, date="2026-11-25", note=note)
    assert load(root=root).id == "next"


def test_a_recoat_window_from_a_sheet_is_said_in_a_sentence() -> None:
    edition = load(overlay="example", overlays=find_root() / "overlays")
    found = write(answer(read_requirements(BLOCK_PIER, edition), edition))
    top = next(step for step in found["steps"] if step["activity"] == "top-coat")
    # the invented sheet: 48 h at 70 °F, as stated at 70 °F and above
    assert top["holds"][1]["text"] == (
        "After cure, recoat only within 48 h at 78 °F; later abrade and wipe first."
    )
