"""A published edition has one commit for ever: the one that added its file."""

from __future__ import annotations

import os
import shutil
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
EDITIONS = "specdata/editions"


def git(root: Path, *words: str) -> str:
    run = subprocess.run(
        ["git", "-C", str(root), *words], capture_output=True, text=True, check=True
    )
    return run.stdout.strip()


def why_no_history(root: Path) -> str | None:
    """Say why the history of a checkout cannot be read whole."""
    if shutil.which("git") is None:
        return "git is not installed"
    if not (root / ".git").exists():
        return "this is no git checkout"
    if git(root, "rev-parse", "--is-shallow-repository") == "true":
        return "this is a shallow clone: its history is cut off"
    return None


def changed_after_publishing(root: Path) -> list[str]:
    """Return the editions' files that any commit, or the working tree, changed once they stood."""
    # --full-history: a change that a merge took back is one too
    log = ("log", "--full-history", "-m", "--format=%H", "--diff-filter=MDRT", "--name-only")
    told = git(root, *log, "HEAD", "--", f"{EDITIONS}/*.json")
    now = git(root, "diff", "--name-only", "--diff-filter=MDRT", "HEAD", "--", f"{EDITIONS}/*.json")
    names = {line for text in (told, now) for line in text.splitlines() if line.endswith(".json")}
    return sorted(name for name in names if name.count("/") == EDITIONS.count("/") + 1)


def test_no_edition_was_changed_after_it_was_published() -> None:
    why = why_no_history(ROOT)
    if why is not None:
        assert "CI" not in os.environ, why
        pytest.skip(why)
    assert changed_after_publishing(ROOT) == []


@pytest.fixture
def repository(tmp_path: Path) -> Path:
    if shutil.which("git") is None:
        pytest.skip("git is not installed")
    (tmp_path / EDITIONS).mkdir(parents=True)
    git(tmp_path, "init", "-q", "-b", "main")
    git(tmp_path, "config", "user.email", "tests@example.org")
    git(tmp_path, "config", "user.name", "Tests")
    write(tmp_path, "2026.1", "one")
    return tmp_path


def write(root: Path, id: str, text: str, *, commit: bool = True) -> None:
    (root / EDITIONS / f"{id}.json").write_text(text, encoding="utf-8")
    if commit:
        git(root, "add", ".")
        git(root, "commit", "-q", "-m", f"{id}: {text}")


def test_more_editions_are_no_change(repository: Path) -> None:
    write(repository, "2026.2", "two")
    write(repository, "2026.3", "three", commit=False)
    assert changed_after_publishing(repository) == []


def test_a_second_commit_is_found_though_a_third_takes_it_back(repository: Path) -> None:
    write(repository, "2026.2", "two")
    write(repository, "2026.1", "other")
    write(repository, "2026.1", "one")
    assert changed_after_publishing(repository) == [f"{EDITIONS}/2026.1.json"]


def test_a_change_that_is_not_committed_and_a_file_gone(repository: Path) -> None:
    write(repository, "2026.2", "two")
    write(repository, "2026.1", "other", commit=False)
    (repository / EDITIONS / "2026.2.json").unlink()
    assert changed_after_publishing(repository) == [
        f"{EDITIONS}/2026.1.json",
        f"{EDITIONS}/2026.2.json",
    ]


def test_a_change_on_a_branch_that_was_merged_is_found(repository: Path) -> None:
    git(repository, "checkout", "-q", "-b", "side")
    write(repository, "2026.1", "other")
    git(repository, "checkout", "-q", "main")
    write(repository, "2026.2", "two")
    git(repository, "merge", "-q", "-s", "ours", "side", "-m", "merged, and ours kept")
    assert changed_after_publishing(repository) == [f"{EDITIONS}/2026.1.json"]


def test_a_shallow_clone_says_so(repository: Path, tmp_path: Path) -> None:
    write(repository, "2026.2", "two")
    there = tmp_path / "there"
    git(tmp_path, "clone", "-q", "--depth", "1", f"file://{repository}", str(there))
    assert "shallow" in str(why_no_history(there))
