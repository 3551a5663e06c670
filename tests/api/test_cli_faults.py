"""What is typed wrong: one message that names the option and what would be accepted, status 2."""

from __future__ import annotations

import functools
import json
import re
from collections.abc import Iterator
from pathlib import Path

import click
import pytest
from click.testing import CliRunner, Result

from upstand.edition import Fault, SpecFault, load
from upstand_api.cli.group import root
from upstand_api.cli.typed.request import EXAMPLE, OPTIONS

POST = ("post", "--roof", "tpo", "--member", "angle 3x3x1/4 in carbon-steel")


@pytest.fixture(autouse=True, scope="module")
def _editions_are_read_once() -> Iterator[None]:
    """Editions are immutable: reading the same one for every test would only take time."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("upstand.edition.load", functools.cache(load))
        yield


def run(*words: str, stdin: str | bytes | None = None) -> Result:
    return CliRunner().invoke(root, list(words), input=stdin, env={"COLUMNS": "88"})


def refusal(*words: str, stdin: str | bytes | None = None) -> str:
    """Return what stands on stderr, unwrapped, having seen that nothing else was printed."""
    result = run("need", *words, stdin=stdin)
    assert result.exit_code == 2, result.output
    assert result.stdout == ""
    assert "Traceback" not in result.stderr
    return " ".join(result.stderr.split())


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((), 'DETAIL, the word behind `need`: is missing: write it, such as "post"'),
        ((), '--roof: is missing: write it, such as "tpo"'),
        (("post", "--roof", "tpo"), '--member "angle 3x3x1/4 in carbon-steel"'),
        (("posst", "--roof", "tpo"), "“posst” is not a known detail: did you mean post?"),
        ((*POST, "--roof", "tpoo"), "--roof: “tpoo” is not a known roof: did you mean tpo?"),
        ((*POST, "--resin", "pu2k"), "--resin: “pu2k” is not a known resin: did you mean pu-2k"),
        ((*POST, "--fleece", "x"), "--fleece: “x” is not a known fleece"),
        ((*POST, "--height", "8"), '--height: is 8 inches or millimeters? write "8 in" or "8 mm"'),
        ((*POST, "--height", "0 in"), "--height: 0 in can't be used"),
        ((*POST, "--height", "8 lb"), "--height: "),
        ((*POST, "--flange", "1 in"), "--flange: 1 in can't be used"),
        ((*POST, "--reveal", "2 in"), "--reveal: 2 in can't be used"),
        ((*POST, "--mask-turn", "30"), '--mask-turn: is 30 degrees? write "30 deg"'),
        ((*POST, "--air", "72"), '--air: is 72 degrees Fahrenheit or Celsius? write "72 F"'),
        ((*POST, "--air", "500 F"), "write a temperature from -60 °F to 200 °F"),
        ((*POST, "--surface", "-70 F"), "--surface: -70 F can't be used"),
        ((*POST, "--material", "warm"), "--material: "),
        ((*POST, "--humidity", "155 %"), "--humidity: 155 % can't be used"),
        ((*POST, "--wind", "12"), "--wind: is 12 miles or kilometers an hour?"),
        ((*POST, "--rain", "-5 %"), "--rain: "),
        ((*POST, "--count", "0"), "--count: is out of range: write a whole number from 1 to 500"),
        ((*POST, "--count", "two"), "--count: is not a whole number: write a whole number from"),
        ((*POST, "--count", "1.5"), "--count: is not a whole number"),
        ((*POST, "--count", "9" * 40), "--count: is not a whole number"),
        ((*POST, "--units", "metric"), "--units: is not accepted: write one of us, si"),
        ((*POST, "--lang", "fr"), "--lang: is not accepted: write one of en, es"),
        ((*POST, "--edition", "x"), "--edition: no edition 'x'. Known: "),
        ((*POST, "--overlay", "nobody"), "--overlay: no overlay 'nobody'"),
        ((*POST, "--overlay", "gone.yaml"), "--overlay: gone.yaml is not there"),
        ((*POST, "--spec", "nowhere"), "--spec: nowhere holds no spec data"),
        ((*POST, "--plate", "3x0 in"), '--plate "3x0 in", length: 0 in can\'t be used'),
        ((*POST, "--plate", "3 in"), '--plate "3 in": a plate takes 2 sizes, width x length'),
        ((*POST, "--plate", "3x3 in of tin"), '--plate "3x3 in of tin", substrate: “tin” is not'),
        (
            (*POST, "--member", "angle 3x3x4 in carbon-steel"),
            '--member "angle 3x3x4 in carbon-steel", thickness: ',
        ),
        ((*POST, "--member", "angle 3x3x1/4 in"), "substrate: is missing: what is the member made"),
        ((*POST, "--member", "W8x999 carbon-steel"), "designation: "),
        ((*POST, "--member", "nps 7 carbon-steel"), "nps: "),
        ((*POST, "--member", "rod 1 in carbon-steel at 1,2"), "at, number 1: is 1 inches or"),
        (
            (*POST, "--air", "72", "F"),
            'A value with a blank stands in quotes, such as --air "72 F"',
        ),
        (("--example", "--from", "-"), "--from and --example: are both given: choose one"),
        (("--from", "no-such-file.json"), "--from no-such-file.json: can't be read: No such file"),
    ],
)
def test_the_option_and_what_is_accepted_are_named(words: tuple[str, ...], said: str) -> None:
    assert said in refusal(*words)


def test_all_faults_come_at_once() -> None:
    text = refusal(
        *("post", "--roof", "tpoo", "--member", "angle 3x3 in", "--member", "pipe 4 in tin"),
        *("--air", "72", "--humidity", "155 %", "--count", "0", "--edition", "1999.1"),
    )
    assert text.startswith("upstand need: 7 things to put right ")
    for place in ("--roof: ", '--member "angle', '--member "pipe', "--air: ", "--humidity: "):
        assert place in text
    assert "--count: " in text and "--edition: " in text


def test_a_member_that_can_t_be_read_is_not_also_missing() -> None:
    text = refusal("post", "--roof", "tpo", "--member", "angle 3x3 in carbon-steel")
    assert text.startswith("upstand need: one thing to put right ")


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (
            b'{"detail": "post", "detail": "pipe"}',
            "standard input, /detail: stands twice: keep one",
        ),
        (b'{"now": {"air": NaN}}', "standard input, /now/air: is NaN, which is no number"),
        (b'{"count": 1e999}', "standard input, /count: is too large a number"),
        (b'{"a": ' + b"[" * 5000, "--from -: is nested deeper than 16 levels"),
        (b'{"roof": "\\ud800"}', "standard input, /roof: holds half of a character"),
        (b"[1]", "--from -: is not an object: write {…} describing one detail"),
        (b"{", "--from -: is not JSON, at line 1, column 2"),
        (b"", "--from -: is empty"),
        (b"\xff", "--from -: is not UTF-8 text"),
        (b" " * 300_000, "--from -: is over 256 KB"),
        (b'{"colour": 1}', "standard input, /colour: is not a field here"),
        (b'{"edition": 2026.1}', 'standard input, /edition: is not text: write it as "2026.1"'),
        (b'{"overlay": "../../secret"}', "standard input, /overlay: no overlay"),
        (b'{"members": [{"leg_a": "3"}]}', "standard input, /members/0/leg_a: is 3 inches or"),
        (b'{"now": 5}', "standard input, /now: is not an object"),
    ],
)
def test_a_request_read_from_standard_input(content: bytes, said: str) -> None:
    assert said in refusal("--from", "-", stdin=content)


def test_an_option_over_a_file_is_named_as_the_option(tmp_path: Path) -> None:
    file = tmp_path / "asked.json"
    file.write_text(json.dumps({**EXAMPLE, "height": "8"}), "utf-8")
    text = refusal("--from", str(file), "--air", "72")
    # a long path may be wrapped: the name of the file and the field stay together
    assert "asked.json, /height: is 8 inches or millimeters?" in text
    assert "--air: is 72 degrees" in text
    assert refusal("--from", str(tmp_path)).count("can't be read: Is a directory") == 1


def test_what_a_terminal_acts_on_is_not_passed_through() -> None:
    text = run("need", "post\x1b[2J", "--roof", "\x07tpo", "--member", "a\nb").stderr
    assert "\x1b" not in text and "\x07" not in text


def test_a_wrong_option_names_the_right_one() -> None:
    result = run("need", "--hieght", "8 in")
    assert result.exit_code == 2
    assert "--height" in result.stderr


def test_a_wrong_command_names_the_right_one() -> None:
    result = run("nede")
    assert result.exit_code == 2
    assert "There is no command “nede”. Did you mean need?" in result.stderr


def test_every_option_of_the_request_is_an_option_of_the_command() -> None:
    command = root.get_command(click.Context(root), "need")
    assert command is not None
    declared = {parameter.name for parameter in command.params}
    assert set(OPTIONS) <= declared
    named = {f"--{name.replace('_', '-')}" for name in OPTIONS}
    listed = run("need", "--help").stdout
    assert {name for name in named if not re.search(rf"{name}\b", listed)} == set()


def test_broken_data_is_not_the_asker_s_fault(tmp_path: Path) -> None:
    (tmp_path / "next" / "resins").mkdir(parents=True)
    (tmp_path / "next" / "resins" / "pu-2k.yaml").write_text("a: 1\na: 2\n", "utf-8")
    result = run("need", *POST, "--spec", str(tmp_path))
    assert result.exit_code == 1
    assert result.stdout == ""
    assert "upstand: the requirements data can't be used" in result.stderr
    assert "resins/pu-2k.yaml" in result.stderr


def test_a_fault_of_the_software_has_no_traceback(monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(*_: object, **__: object) -> None:
        raise RuntimeError("a slip")

    monkeypatch.setattr("upstand.query.read_requirements", fail)
    result = run("need", *POST)
    assert result.exit_code == 1
    assert "a fault of this software, not of what you typed (RuntimeError: a slip)" in result.stderr
    assert "Traceback" not in result.stderr


def test_many_faults_of_the_data_are_counted(monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(*_: object, **__: object) -> None:
        raise SpecFault(
            Fault(f"x/{n}.yaml", "", "", "shape", "is wrong", "mend") for n in range(99)
        )

    monkeypatch.setattr("upstand.edition.load", fail)
    result = run("need", *POST)
    assert result.exit_code == 1
    assert "and 59 more" in result.stderr
