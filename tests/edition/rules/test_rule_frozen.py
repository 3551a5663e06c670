"""Published editions that are not as they were published are told, file by file."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from upstand.edition.frozen import digest_of
from upstand.edition.publishing.publish import publish
from upstand.edition.rules import RULES
from upstand.edition.source import Source

BROKEN = Path(__file__).resolve().parents[2] / "broken" / "frozen"
NOTE = {"en": "The first.", "es": "La primera."}
CURE = "restore the edition from where it was published; never edit a frozen one"
CHANGED = (
    "editions/2026.1.json: was changed after it was published: its digest is not the index's "
    f"[frozen] -> {CURE}"
)


def told(root: Path) -> list[str]:
    return [str(fault) for fault in RULES["frozen"](Source.read(root))]


@pytest.fixture
def published(small: Path) -> Path:
    publish(small, "2026.1", date="2026-11-24", note=NOTE)
    return small


def test_frozen(small: Path) -> None:
    shutil.copytree(BROKEN / "editions", small / "editions")
    assert told(small) == [CHANGED]


def test_as_published_nothing_is_told(published: Path) -> None:
    assert told(published) == []


def test_a_space_more(published: Path) -> None:
    path = published / "editions/2026.1.json"
    path.write_text(path.read_text("utf-8") + "\n", encoding="utf-8")
    assert told(published) == [CHANGED]


def test_one_gone_and_a_link_in_its_place(published: Path) -> None:
    path = published / "editions/2026.1.json"
    path.rename(published / "elsewhere.json")
    assert told(published) == [f"editions/2026.1.json: is gone [frozen] -> {CURE}"]
    path.symlink_to(published / "elsewhere.json")
    assert told(published) == [f"editions/2026.1.json: is a symbolic link [frozen] -> {CURE}"]


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ('"schema": 2', '"schema": 1', "has schema 1; this software reads 2"),
        ('"edition": "2026.1"', '"edition": "2026.3"', "says it is edition 2026.3"),
        ("{", "[", "is not JSON"),
    ],
)
def test_a_changed_file_with_its_digest_made_new(
    published: Path, old: str, new: str, words: str
) -> None:
    path, index = published / "editions/2026.1.json", published / "editions/index.yaml"
    before = path.read_bytes()
    after = before.replace(old.encode(), new.encode(), 1)
    assert after != before
    path.write_bytes(after)
    index.write_text(index.read_text("utf-8").replace(digest_of(before), digest_of(after)), "utf-8")
    assert told(published) == [f"editions/2026.1.json: {words} [frozen] -> {CURE}"]


def test_what_is_not_in_the_index(published: Path) -> None:
    shutil.copy(published / "editions/2026.1.json", published / "editions/2026.2.json")
    (published / "editions/2026.1").mkdir()
    cure = "publish it again to finish it, or remove it"
    assert told(published) == [
        f"editions/2026.1: is not in the index [frozen] -> {cure}",
        f"editions/2026.2.json: is not in the index [frozen] -> {cure}",
    ]


def test_a_changelog_that_was_edited(published: Path) -> None:
    path = published / "CHANGELOG.md"
    path.write_text(path.read_text("utf-8") + "\nMore.\n", encoding="utf-8")
    assert told(published) == [
        "CHANGELOG.md: does not tell what changed from edition to edition [frozen] -> do not edit "
        "it; publish and withdraw write it"
    ]


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ('id: "2026.1"', 'id: "2026"', "editions.0: has id '2026'"),
        ("status: published", "status: retired", "has status 'retired'"),
        ("status: published", "status: withdrawn", "is withdrawn without a day, or has one"),
        ('date: "2026-11-24"', 'date: "2026-13-24"', "has date '2026-13-24'"),
        ("    note:", "    notes:", "is not {id, status, date, note, digest}"),
        ("      es:", "      fr:", "has a note that is not {en, es}"),
        ('digest: "', 'digest: "0', "has digest '0"),
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
