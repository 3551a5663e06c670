"""Published editions that are not as they were published are told, file by file."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from upstand.edition.publishing.publish import publish
from upstand.edition.rules import RULES
from upstand.edition.source import Source

BROKEN = Path(__file__).resolve().parents[2] / "broken" / "frozen"
NOTE = {"en": "The first.", "es": "La primera."}
CURE = "restore the edition from where it was published; never edit a frozen one"


def told(root: Path) -> list[str]:
    return [str(fault) for fault in RULES["frozen"](Source.read(root))]


@pytest.fixture
def published(small: Path) -> Path:
    publish(small, "2026.1", date="2026-11-24", note=NOTE)
    return small


def test_frozen(small: Path) -> None:
    shutil.copytree(BROKEN / "editions", small / "editions")
    assert told(small) == [
        f"editions/2026.1/SHA256SUMS: is missing or cannot be read [frozen] -> {CURE}"
    ]


def test_as_published_nothing_is_told(published: Path) -> None:
    assert told(published) == []


def test_a_changed_file(published: Path) -> None:
    path = published / "editions/2026.1/terms/post.yaml"
    path.write_text(path.read_text("utf-8") + "# a comment\n", encoding="utf-8")
    assert told(published) == [
        f"editions/2026.1/terms/post.yaml: was changed after it was published [frozen] -> {CURE}"
    ]


def test_an_extra_file_and_one_gone(published: Path) -> None:
    folder = published / "editions/2026.1"
    (folder / "terms/more.yaml").write_text("name: {en: More, es: Otro}\n", encoding="utf-8")
    (folder / "tools/grinder.yaml").unlink()
    assert told(published) == [
        "editions/2026.1/terms/more.yaml: is an extra file, not in SHA256SUMS [frozen] -> " + CURE,
        f"editions/2026.1/tools/grinder.yaml: is gone [frozen] -> {CURE}",
        "editions/2026.1/edition.json: does not hold what the YAML beside it holds [frozen] -> "
        + CURE,
    ]


def test_a_hidden_extra_file_is_one_too(published: Path) -> None:
    (published / "editions/2026.1/.more").write_text("x", encoding="utf-8")
    assert told(published) == [
        f"editions/2026.1/.more: is an extra file, not in SHA256SUMS [frozen] -> {CURE}"
    ]


def test_a_changed_compile_with_its_sum_made_new(published: Path) -> None:
    import hashlib

    folder = published / "editions/2026.1"
    before = (folder / "edition.json").read_bytes()
    after = before.replace(b'"40 mil"', b'"30 mil"')
    assert after != before
    (folder / "edition.json").write_bytes(after)
    sums = (folder / "SHA256SUMS").read_text("ascii")
    old, new = hashlib.sha256(before).hexdigest(), hashlib.sha256(after).hexdigest()
    (folder / "SHA256SUMS").write_text(sums.replace(old, new), encoding="ascii")
    assert told(published) == [
        "editions/2026.1/edition.json: does not match its own digest [frozen] -> " + CURE
    ]


def test_a_folder_not_in_the_index(published: Path) -> None:
    shutil.copytree(published / "editions/2026.1", published / "editions/2026.2")
    assert told(published) == [
        "editions/2026.2: is not in the index [frozen] -> publish it again to finish it, "
        "or remove it"
    ]


def test_a_changelog_that_was_edited(published: Path) -> None:
    path = published / "CHANGELOG.md"
    path.write_text(path.read_text("utf-8") + "\nMore.\n", encoding="utf-8")
    assert told(published) == [
        "CHANGELOG.md: does not tell what the editions recorded [frozen] -> do not edit it; "
        "publish and withdraw write it"
    ]


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ('id: "2026.1"', 'id: "2026"', "editions.0: has id '2026'"),
        ("status: published", "status: retired", "has status 'retired'"),
        ('date: "2026-11-24"', 'date: "2026-13-24"', "has date '2026-13-24'"),
        ("    note:", "    notes:", "is not {id, status, date, note}"),
        ("      es:", "      fr:", "has a note that is not {en, es}"),
        ("editions:", "edition:", "has no list `editions`"),
    ],
)
def test_an_index_that_is_no_index(published: Path, old: str, new: str, words: str) -> None:
    path = published / "editions/index.yaml"
    text = path.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")
    found = told(published)
    assert len(found) == 1
    assert words in found[0]
