"""What the README says holds: its commands run, and its answer is the one that comes out."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

from click.testing import CliRunner

from upstand_api.cli.group import root

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")
COMMANDS = re.findall(r"```sh\n(.*?)\n```", README, flags=re.S)


def _terminal(command: str) -> str:
    words = shlex.split(command)
    at = next(i for i, word in enumerate(words) if word.endswith("bin/upstand"))
    result = CliRunner().invoke(root, words[at + 1 :], env={"COLUMNS": "88"})
    assert result.exit_code == 0, result.output
    return result.output


def test_the_job_stands_at_the_top_in_one_paragraph() -> None:
    title, paragraph, *_ = README.split("\n\n")
    assert title == "# Upstand"
    assert "flashing" in paragraph and len(paragraph.split()) < 160


def test_each_command_is_one_line_and_there_are_two_to_begin_with() -> None:
    assert all("\n" not in command for command in COMMANDS)
    first, second = COMMANDS[:2]
    assert "pip install -q ." in first and first.endswith("upstand need --example")
    assert "-e '.[test]'" in second and second.endswith("pytest")


def test_the_first_command_s_job_runs() -> None:
    assert ">>> GO" in _terminal(COMMANDS[0].rpartition("&& ")[2])


def test_the_answer_shown_is_the_one_that_comes_out() -> None:
    command = next(c for c in COMMANDS if "--member" in c)
    shown = re.search(r"answer: begin -->\n+```text\n(.*?)\n```", README, flags=re.S)
    assert shown is not None
    assert shown.group(1) == _terminal(command).rstrip("\n")
