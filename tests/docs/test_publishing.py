"""The contributors' page on publishing holds: followed in a scratch copy, all stays green there."""

from __future__ import annotations

import datetime
import os
import re
import shlex
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
import yaml

ROOT = Path(__file__).resolve().parents[2]
PAGE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
STEPS = PAGE.partition("### Publish an edition")[2].partition("\n#")[0]
LEFT = (".git", ".venv", "node_modules", "_built", "__pycache__", ".*_cache", "dist", "build")


@pytest.fixture(scope="module")
def scratch(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of the checkout in which one value is edited and one more edition published."""
    copy = tmp_path_factory.mktemp("scratch") / "upstand"
    shutil.copytree(ROOT, copy, ignore=shutil.ignore_patterns(*LEFT))
    edited = copy / "specdata" / "next" / "resins" / "pu-2k.yaml"
    text = edited.read_text(encoding="utf-8")
    assert text.count('value: "25 mil"') == 1
    edited.write_text(text.replace('value: "25 mil"', 'value: "26 mil"'), encoding="utf-8")
    for words in commands():
        done = run(copy, "-m", "upstand_api.cli", *words)
        assert done.returncode == 0, done.stdout + done.stderr
    return copy


def commands() -> list[list[str]]:
    """Return what the page says to type, in its order, with texts put in and dated today."""
    found = [shlex.split(c) for c in re.findall(r"`\.venv/bin/upstand ([^`]*)`", STEPS)]
    assert [words[0] for words in found] == ["check", "publish"]
    said = {"--note-en": "Tried.", "--note-es": "Probada.", "--date": str(datetime.date.today())}
    for words in found:
        for option in said.keys() & set(words):
            words[words.index(option) + 1] = said[option]
    return found


def run(copy: Path, *words: str) -> subprocess.CompletedProcess[str]:
    path = os.pathsep.join(str(copy / folder) for folder in ("shared", "api", "site"))
    kept = {k: v for k, v in os.environ.items() if not k.startswith(("UPSTAND_", "PYTEST_", "CI"))}
    return subprocess.run(
        [sys.executable, *words],
        cwd=copy,
        env={**kept, "PYTHONPATH": path},
        capture_output=True,
        encoding="utf-8",
        check=False,
    )


def test_what_names_the_newest_edition_names_the_new_one(scratch: Path) -> None:
    id = commands()[1][1]
    year, number = id.split(".")
    readme = (scratch / "README.md").read_text(encoding="utf-8")
    assert f"{id} · upstand" in readme
    # the top coat is a mil more, and so is the whole film: 40 + 36 + 26
    assert "top 26 mil, wet; whole 102 mil" in readme
    for file in (scratch / "specdata" / "overlays" / "example").glob("*.yaml"):
        assert yaml.safe_load(file.read_text(encoding="utf-8"))["extends"] == id
    for page in (scratch / "site" / "pages").glob("*/overlays.md"):
        assert f'    extends: "{id}"\n' in page.read_text(encoding="utf-8")
    page = (scratch / "DEVELOPERS.md").read_text(encoding="utf-8")
    assert f"upstand publish {year}.{int(number) + 1} --date" in page


def test_the_data_s_check_and_the_tests_stay_green(scratch: Path) -> None:
    checked = run(scratch, "-m", "upstand_api.cli", "check")
    assert checked.stdout.startswith("no faults\n"), checked.stdout
    tests = (
        *("test_specdata", "test_editions", "test_published_answers", "test_completeness"),
        *("test_history", "../engine/test_hand_example", "../engine/test_hand_cases"),
        *("../docs/test_developers", "../docs/test_overlay_page", "../docs/test_readme"),
    )
    files = [str(Path("tests/edition") / f"{name}.py") for name in tests]
    there = [name for name in files if (scratch / name).is_file()]
    done = run(scratch, "-m", "pytest", "-q", "-p", "no:cacheprovider", *there)
    assert done.returncode == 0, done.stdout[-3000:]
