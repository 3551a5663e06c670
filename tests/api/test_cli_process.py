"""The command line as a process: exit status, pipes, ctrl-C, and what is imported when."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner

from upstand import __version__
from upstand_api.cli.group import COMMANDS, EXAMPLES, root

REPOSITORY = Path(__file__).resolve().parents[2]
UPSTAND = [sys.executable, "-m", "upstand_api.cli"]


def environment(**extra: str) -> dict[str, str]:
    path = os.pathsep.join(str(REPOSITORY / folder) for folder in ("shared", "api"))
    kept = {k: v for k, v in os.environ.items() if k not in ("NO_COLOR", "FORCE_COLOR")}
    return {**kept, "PYTHONPATH": path, "COLUMNS": "88", **extra}


def start(*words: str, **extra: str) -> subprocess.Popen[bytes]:
    return subprocess.Popen(
        [*UPSTAND, *words],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        env=environment(**extra),
    )


def test_version_is_read_without_the_engine() -> None:
    code = (
        "import sys\nfrom upstand_api.cli.group import root\n"
        "root.main(['--version'], standalone_mode=False)\n"
        "heavy = {'shapely', 'pint', 'flask', 'marshmallow', 'yaml', 'numpy'} & set(sys.modules)\n"
        "sys.exit(f'imported {heavy}' if heavy else 0)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, env=environment(), check=False
    )
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout == f"upstand {__version__}\n"


def test_an_answer_is_given_without_the_web_server() -> None:
    code = (
        "import sys\nfrom upstand_api.cli.group import root\n"
        "root.main(['need', '--example'], standalone_mode=False)\n"
        "heavy = {'flask', 'mkdocs', 'requests', 'waitress'} & set(sys.modules)\n"
        "sys.exit(f'imported {heavy}' if heavy else 0)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, env=environment(), check=False
    )
    assert (done.returncode, done.stderr) == (0, b"")


def test_piped_output_is_plain_text() -> None:
    process = start("need", "--example", TERM="xterm-256color")
    out, err = process.communicate(timeout=60)
    assert (process.returncode, err) == (0, b"")
    assert b"\x1b" not in out
    assert out.decode("utf-8").startswith("EXAMPLE: ")


def test_a_terminal_of_few_signs_still_gets_its_answer() -> None:
    process = start("need", "--example", PYTHONIOENCODING="ascii")
    out, err = process.communicate(timeout=60)
    assert (process.returncode, err) == (0, b"")
    assert b"13 x 13 in" in out


@pytest.mark.skipif(os.name != "posix", reason="signals and pipes as POSIX has them")
def test_a_reader_that_goes_away_is_no_fault() -> None:
    process = start("need", "--example", "--working")
    assert process.stdout is not None
    process.stdout.close()
    assert process.wait(timeout=60) == 141
    assert process.stderr is not None
    assert process.stderr.read() == b""


@pytest.mark.skipif(os.name != "posix", reason="signals and pipes as POSIX has them")
def test_ctrl_c_stops_without_a_traceback(tmp_path: Path) -> None:
    pipe = tmp_path / "request.json"
    os.mkfifo(pipe)
    # a shell's background jobs ignore the signal, and so would what they start
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    process = start("need", "--from", str(pipe))
    signal.signal(signal.SIGINT, before)
    with pipe.open("wb"):  # returns when the process has opened it, and waits for what it asks
        process.send_signal(signal.SIGINT)
        assert process.wait(timeout=60) == 130
    assert process.stderr is not None
    assert process.stderr.read().decode().strip() == "upstand: stopped"


def test_bad_input_ends_with_2() -> None:
    process = start("need", "post")
    out, err = process.communicate(timeout=60)
    assert (process.returncode, out) == (2, b"")
    assert b"Traceback" not in err


def test_alone_it_shows_help_for_all_its_users() -> None:
    result = CliRunner().invoke(root, [])
    assert result.exit_code == 0
    there = root.list_commands(root.make_context("upstand", ["--help"], resilient_parsing=True))
    assert {"need", "check", "publish"} <= set(there)
    for name in there:
        assert COMMANDS[name].whom in result.stdout
        assert COMMANDS[name].does in result.stdout
    for name in set(COMMANDS) - set(there):
        assert COMMANDS[name].does not in result.stdout


def test_each_example_of_the_help_starts_a_command_that_is_listed() -> None:
    for lines in EXAMPLES.values():
        for line in lines:
            words = line.split()
            assert words[0] != "upstand" or words[1] in COMMANDS


@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="a disk that is always full")
def test_a_full_disk_is_told_as_what_it_is() -> None:
    with open("/dev/full", "wb") as full:
        done = subprocess.run(
            [sys.executable, "-m", "upstand_api.cli", "need", "--example"],
            stdout=full,
            stderr=subprocess.PIPE,
            timeout=60,
        )
    assert done.returncode == 1
    assert done.stderr == b"upstand: the disk is full: what was written is not whole\n"


@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="a disk that is always full")
def test_help_on_a_full_disk_is_told_as_what_it_is() -> None:
    with open("/dev/full", "wb") as full:
        done = subprocess.run(
            [sys.executable, "-m", "upstand_api.cli", "--help"],
            stdout=full,
            stderr=subprocess.PIPE,
            timeout=60,
        )
    assert done.returncode == 1
    assert done.stderr == b"upstand: the disk is full: what was written is not whole\n"


@pytest.mark.skipif(os.name != "posix", reason="closes the output as POSIX shells do")
@pytest.mark.parametrize("words", ["need --example", "show next terms/wrap", "--help"])
def test_a_closed_output_is_told_as_what_it_is(words: str) -> None:
    line = f"exec {sys.executable} -m upstand_api.cli {words} >&-"
    done = subprocess.run(["sh", "-c", line], stderr=subprocess.PIPE, timeout=60)
    assert done.returncode == 1
    assert done.stderr == b"upstand: the output is closed\n"


@pytest.mark.parametrize("words", [["show", "next", "terms/fleece"], ["need", "vell\u00f3n"]])
def test_a_terminal_of_few_signs_gets_letters_without_their_accents(words: list[str]) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "upstand_api.cli", *words],
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        env={**os.environ, "PYTHONIOENCODING": "ascii"},
        timeout=60,
    )
    assert b"vellon" in done.stdout
    assert done.stdout.isascii()
