"""`upstand need --draw`: the drawings as files, beside the page."""

from __future__ import annotations

from pathlib import Path
from xml.etree import ElementTree

from click.testing import CliRunner

from upstand.drawing import VIEWS
from upstand_api.cli.group import root


def test_the_views_are_written_into_a_folder_that_is_made(tmp_path: Path) -> None:
    folder = tmp_path / "new" / "drawings"
    told = CliRunner().invoke(root, ["need", "--example", "--draw", str(folder)])
    assert told.exit_code == 0, told.output
    assert sorted(path.name for path in folder.iterdir()) == sorted(f"post-{v}.svg" for v in VIEWS)
    for path in folder.iterdir():
        assert ElementTree.fromstring(path.read_text("utf-8")).tag.endswith("svg")
        assert str(path) in told.stderr and str(path) not in told.stdout


def test_a_folder_that_cannot_be_is_told_in_one_line(tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("a file", "utf-8")
    told = CliRunner().invoke(root, ["need", "--example", "--draw", str(tmp_path / "taken")])
    assert told.exit_code == 2
    words = " ".join(told.stderr.split())  # a long folder breaks the line anywhere
    assert "--draw" in words and "can't be written" in words
