"""Publishing: frozen whole or not at all, withdrawn in the index, loaded by id."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from upstand.edition import SpecFault, UnknownEdition, edition_ids, load
from upstand.edition.check import check
from upstand.edition.frozen import digest_of
from upstand.edition.index import read_index, write_index
from upstand.edition.publishing.publish import publish, withdraw

NOTE = {"en": "The first.", "es": "La primera."}
OVERLAY = """\
# A comment.
extends: next
set:
  - path: "resins/pu-2k: layers.base"
    expects: "40 mil"
    value: "45 mil"
    basis: {grade: product, source: "An invented sheet", locator: "page 1"}
"""
SHARED = Path(__file__).resolve().parents[2] / "shared"


def change(root: Path, record: str, old: str, new: str) -> None:
    path = root / "next" / f"{record}.yaml"
    text = path.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")


def test_publish_and_load(small: Path) -> None:
    draft = load(root=small)
    file = publish(small, "2026.1", date="2026-11-24", note=NOTE)
    assert file == small / "editions/2026.1.json"
    edition = load(root=small)
    assert (edition.id, edition.status, edition.date) == ("2026.1", "published", "2026-11-24")
    assert edition.note == NOTE
    assert edition.raw == draft.raw
    assert load("next", small).status == "draft"
    assert edition_ids(small) == ["2026.1", "next"]
    assert edition.digest == digest_of(file.read_bytes())
    assert json.loads(file.read_bytes())["data"] == draft.raw
    assert check(small, date="2026-11-24").ok


def test_the_newest_is_the_default_by_number_not_by_text(small: Path) -> None:
    for number in (2, 9, 10):
        change(small, "terms/post", "post", "post ")
        publish(small, f"2026.{number}", date="2026-11-24", note=NOTE)
    assert load(root=small).id == "2026.10"
    with pytest.raises(SpecFault, match=r"would come after 2026\.10, which is newer"):
        publish(small, "2026.3", date="2026-11-24", note=NOTE)


def test_a_frozen_edition_does_not_follow_next(small: Path) -> None:
    publish(small, "2026.1", date="2026-11-24", note=NOTE)
    change(small, "resins/pu-2k", "40 mil", "45 mil")
    assert load(root=small).record("resins/pu-2k").value("layers.base").value == 40.0
    assert load("next", small).record("resins/pu-2k").value("layers.base").value == 45.0


def test_a_withdrawn_edition_answers_and_is_no_default(small: Path) -> None:
    publish(small, "2026.1", date="2026-11-24", note=NOTE)
    change(small, "resins/pu-2k", "40 mil", "45 mil")
    publish(small, "2026.2", date="2026-11-25", note=NOTE)
    before = load("2026.2", small)
    why = {"en": "Base was wrong.", "es": "La base estaba mal."}
    withdraw(small, "2026.2", date="2026-11-26", note=why)
    held = load("2026.2", small)
    assert (held.status, held.note) == ("withdrawn", why)
    assert held.digest == before.digest
    assert held.key != before.key
    assert held != before
    assert load(root=small).id == "2026.1"
    text = (small / "CHANGELOG.md").read_text("utf-8")
    assert "**Withdrawn on 2026-11-26:** Base was wrong." in text
    assert check(small).ok
    with pytest.raises(SpecFault, match="is withdrawn already"):
        withdraw(small, "2026.2", date="2026-11-26", note=why)
    with pytest.raises(UnknownEdition):
        withdraw(small, "2026.3", date="2026-11-26", note=why)
    withdraw(small, "2026.1", date="2026-11-26", note=why)
    assert load(root=small).id == "next"


def test_the_changelog_tells_path_old_new_and_source(small: Path) -> None:
    publish(small, "2026.1", date="2026-11-24", note=NOTE)
    change(small, "resins/pu-2k", "40 mil", "45 mil")
    publish(small, "2026.2", date="2026-11-25", note={"en": "Thicker.", "es": "Más gruesa."})
    text = (small / "CHANGELOG.md").read_text("utf-8")
    first, second = text.index("## 2026.2 (2026-11-25)"), text.index("## 2026.1 (2026-11-24)")
    assert first < second
    assert "- resins/pu-2k: layers.base: was 40 mil, is now 45 mil (practice)." in text
    assert "First edition: " in text[second:]


def test_the_file_has_a_line_for_each_field_and_differs_in_what_changed(small: Path) -> None:
    first = publish(small, "2026.1", date="2026-11-24", note=NOTE).read_text("utf-8")
    change(small, "resins/pu-2k", "40 mil", "45 mil")
    second = publish(small, "2026.2", date="2026-11-25", note=NOTE).read_text("utf-8")
    old, new = first.splitlines(), second.splitlines()
    assert [pair for pair in zip(old, new, strict=True) if pair[0] != pair[1]] == [
        (' "edition": "2026.1",', ' "edition": "2026.2",'),
        ('      "value": "40 mil",', '      "value": "45 mil",'),
    ]
    assert '["L3X3X1/4", 3],' in map(str.strip, old)  # a list of plain values is one line


def test_overlays_go_along_and_must_lie_on_the_new_edition(small: Path) -> None:
    overlay = small / "overlays/mine.yaml"
    overlay.parent.mkdir()
    overlay.write_text(OVERLAY, encoding="utf-8")
    publish(small, "2026.1", date="2026-11-24", note=NOTE)
    assert overlay.read_text("utf-8") == OVERLAY.replace("next", '"2026.1"')
    change(small, "resins/pu-2k", "40 mil", "42 mil")
    with pytest.raises(SpecFault, match="stands at 42 mil, and 40 mil was expected"):
        publish(small, "2026.2", date="2026-11-25", note=NOTE)
    assert edition_ids(small) == ["2026.1", "next"]
    overlay.write_text(overlay.read_text("utf-8").replace("40 mil", "42 mil"), encoding="utf-8")
    publish(small, "2026.2", date="2026-11-25", note=NOTE)
    assert load(root=small, overlay="mine").id == "2026.2"


def test_what_fails_the_check_is_not_published(small: Path) -> None:
    change(small, "resins/pu-2k", "40 mil", "40 gal")
    with pytest.raises(SpecFault, match="measures volume, not film"):
        publish(small, "2026.1", date="2026-11-24", note=NOTE)
    assert sorted(path.name for path in (small / "editions").iterdir()) == [".lock"]
    assert load(root=small, id="next")


def test_what_was_checked_after_the_day_is_not_published(small: Path) -> None:
    with pytest.raises(SpecFault, match="lies after 2026-11-23"):
        publish(small, "2026.1", date="2026-11-23", note=NOTE)


def test_an_edition_is_published_once(small: Path) -> None:
    publish(small, "2026.1", date="2026-11-24", note=NOTE)
    with pytest.raises(SpecFault, match="is published already, and frozen"):
        publish(small, "2026.1", date="2026-11-24", note=NOTE)


@pytest.mark.parametrize("id", ["next", "2026", "2026.0", "26.1", "2026.1/..", "2026.01", ""])
def test_an_id_that_is_none(small: Path, id: str) -> None:
    with pytest.raises(SpecFault, match="is not an edition id"):
        publish(small, id, date="2026-11-24", note=NOTE)


def test_a_day_and_a_note_that_are_none(small: Path) -> None:
    with pytest.raises(SpecFault, match="is not a day: today"):
        publish(small, "2026.1", date="today", note=NOTE)
    for note in ({"en": "One."}, {"en": "One.", "es": ""}, {"en": "a\nb", "es": "c"}):
        with pytest.raises(SpecFault, match="is not one line in each language"):
            publish(small, "2026.1", date="2026-11-24", note=note)


def test_a_note_with_signs_of_yaml_and_markdown(small: Path) -> None:
    note = {"en": 'A "quote": *star* # <b> \\ {x}', "es": "'uno': [dos] & ñ"}
    publish(small, "2026.1", date="2026-11-24", note=note)
    assert load(root=small).note == note
    assert check(small).ok


def test_a_file_in_the_way_is_not_overwritten(small: Path) -> None:
    (small / "editions").mkdir()
    (small / "editions/2026.1.json").write_text("{}", encoding="utf-8")
    with pytest.raises(SpecFault, match="is not what would be published"):
        publish(small, "2026.1", date="2026-11-24", note=NOTE)
    assert (small / "editions/2026.1.json").read_text("utf-8") == "{}"


def test_an_edition_that_was_changed_is_refused_by_name_and_the_rest_load(small: Path) -> None:
    publish(small, "2026.1", date="2026-11-24", note=NOTE)
    change(small, "resins/pu-2k", "40 mil", "45 mil")
    path = publish(small, "2026.2", date="2026-11-25", note=NOTE)
    path.write_bytes(path.read_bytes().replace(b'"45 mil"', b'"30 mil"'))
    with pytest.raises(SpecFault, match=r"editions/2026\.2\.json: was changed after it was publ"):
        load("2026.2", small)
    with pytest.raises(SpecFault, match=r"editions/2026\.2\.json"):
        load(root=small)
    assert load("2026.1", small).record("resins/pu-2k").value("layers.base").value == 40.0


def test_two_publishers_do_not_meet(small: Path) -> None:
    fcntl = pytest.importorskip("fcntl")
    (small / "editions").mkdir()
    with (small / "editions/.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        with pytest.raises(SpecFault, match="is being written by another publish"):
            publish(small, "2026.1", date="2026-11-24", note=NOTE)
    publish(small, "2026.1", date="2026-11-24", note=NOTE)


KILLED = """
import os, signal, sys
from upstand.edition.publishing import publish as module

left = [int(sys.argv[2])]

def stop_at(call):
    def wrapped(*args, **kwargs):
        left[0] -= 1
        if left[0] == 0:
            os.kill(os.getpid(), signal.SIGKILL)
        return call(*args, **kwargs)
    return wrapped

# every step that touches the disk in a way that lasts
for name in ("fsync", "rename", "replace"):
    setattr(os, name, stop_at(getattr(os, name)))
module.publish(sys.argv[1], "2026.2", date="2026-11-25", note={"en": "Second.", "es": "Segunda."})
print("steps", int(sys.argv[2]) - left[0])
"""


def run(root: Path, step: int) -> subprocess.CompletedProcess[str]:
    environment = {**os.environ, "PYTHONPATH": str(SHARED)}
    return subprocess.run(
        [sys.executable, "-c", KILLED, str(root), str(step)],
        capture_output=True,
        text=True,
        env=environment,
        check=False,
    )


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="no kill -9 on this system")
@pytest.mark.parametrize("step", range(1, 13))
def test_killed_at_any_step_it_leaves_none_or_a_whole_one(small: Path, step: int) -> None:
    (small / "overlays").mkdir()
    (small / "overlays/mine.yaml").write_text(OVERLAY, encoding="utf-8")
    publish(small, "2026.1", date="2026-11-24", note=NOTE)
    change(small, "resins/pu-2k", "20 mil", "21 mil")
    done = run(small, step)
    assert done.returncode == -signal.SIGKILL, done.stderr
    listed = [entry.id for entry in read_index(small)]
    assert listed in (["2026.1"], ["2026.2", "2026.1"])
    assert (listed[0] == "2026.2") is (step == 12)  # the index is replaced in the step before
    for id in listed:
        assert load(id, small).id == id
    if listed == ["2026.1"]:  # run again it goes on from there
        finished = run(small, 10_000)
        assert finished.stdout.startswith("steps"), finished.stderr
    assert load(root=small).id == "2026.2"
    assert load(root=small, overlay="mine").id == "2026.2"
    assert check(small, date="2026-11-25").ok
    assert sorted(p.name for p in (small / "editions").iterdir()) == [
        ".lock",
        "2026.1.json",
        "2026.2.json",
        "index.yaml",
    ]


def test_the_steps_are_counted_right(small: Path) -> None:
    (small / "overlays").mkdir()
    (small / "overlays/mine.yaml").write_text(OVERLAY, encoding="utf-8")
    publish(small, "2026.1", date="2026-11-24", note=NOTE)
    # edition, overlay, log, index: each written, put in its place, its folder written
    assert run(small, 10_000).stdout == f"steps {4 * 3}\n"


def test_an_unfinished_one_that_no_longer_fits_is_not_listed(small: Path) -> None:
    publish(small, "2026.1", date="2026-11-24", note=NOTE)
    change(small, "resins/pu-2k", "40 mil", "45 mil")
    publish(small, "2026.2", date="2026-11-25", note=NOTE)
    index = small / "editions/index.yaml"
    index.write_text(write_index(read_index(small)[1:]), encoding="utf-8")
    assert edition_ids(small) == ["2026.1", "next"]
    with pytest.raises(UnknownEdition):
        load("2026.2", small)
    change(small, "resins/pu-2k", "45 mil", "46 mil")
    with pytest.raises(SpecFault, match="is not what would be published"):
        publish(small, "2026.2", date="2026-11-25", note=NOTE)
    change(small, "resins/pu-2k", "46 mil", "45 mil")
    publish(small, "2026.2", date="2026-11-25", note=NOTE)
    assert load(root=small).id == "2026.2"
