"""`upstand check` and `upstand publish`: faults, grades counted, editions frozen and withdrawn."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
import yaml
from click.testing import CliRunner, Result

from upstand.edition import load
from upstand_api.cli.group import root

TOOL = """\
name: {en: "Trowel", es: "Llana"}
sort: tool
use: {en: "Spreads resin.", es: "Extiende resina."}
"""

FLEECE = """\
name: {en: "A fleece", es: "Una tela"}
thickness: {value: "36 mil", basis: {grade: memory}, checked_on: "2026-11-24"}
areal_mass: {value: "165 g/m^2", basis: {grade: memory}, checked_on: "2026-11-24"}
fibre_density: {value: "1380 kg/m^3", basis: {grade: practice}, checked_on: "2026-11-24"}
"""

PACK = """\
name: {en: "A roll", es: "Un rollo"}
of: fleeces/thin
width: {value: "20 in", basis: {grade: assumed}, checked_on: "2026-11-24"}
length: {value: "50 ft", basis: {grade: assumed}, checked_on: "2026-11-24"}
"""


def run(*words: str) -> Result:
    return CliRunner().invoke(root, list(words), env={"COLUMNS": "88"})


@pytest.fixture
def tree(tmp_path: Path) -> Path:
    (tmp_path / "next" / "tools").mkdir(parents=True)
    (tmp_path / "next" / "tools" / "trowel.yaml").write_text(TOOL, "utf-8")
    (tmp_path / "next" / "fleeces").mkdir()
    (tmp_path / "next" / "fleeces" / "thin.yaml").write_text(FLEECE, "utf-8")
    (tmp_path / "next" / "packs").mkdir()
    (tmp_path / "next" / "packs" / "roll.yaml").write_text(PACK, "utf-8")
    # what a pack holds is called by it
    trowels = PACK.replace("fleeces/thin", "tools/trowel")
    (tmp_path / "next" / "packs" / "trowels.yaml").write_text(trowels, "utf-8")
    return tmp_path


def test_sound_data_is_counted_by_grade(tree: Path) -> None:
    result = run("check", "--spec", str(tree))
    assert result.exit_code == 0, result.output
    lines = result.stdout.splitlines()
    assert lines[0] == "no faults"
    grades = lines[2].split()
    # two values from memory and one of common practice in the fleece, two assumed in each pack
    fleeces = {"memory": "2", "practice": "1"}
    for kind, expected in (("fleeces", fleeces), ("total", {**fleeces, "assumed": "4"})):
        row = next(line.split() for line in lines if line.startswith(kind))
        counts = dict(zip(grades, row[1:], strict=True))
        assert {grade: n for grade, n in counts.items() if n != "0"} == expected


def test_a_fault_has_file_path_value_rule_and_cure(tree: Path) -> None:
    file = tree / "next" / "tools" / "trowel.yaml"
    file.write_text(TOOL.replace("sort: tool", "sort: toy"), "utf-8")
    result = run("check", "--spec", str(tree))
    assert result.exit_code == 1
    lines = result.stdout.splitlines()
    assert lines[0] == "1 fault"
    at = lines.index("tools/trowel.yaml")
    assert lines[at + 1].startswith("  sort: is not ")
    assert "tool" in lines[at + 1] and lines[at + 1].endswith("(found toy) [shape]")
    assert lines[at + 2].startswith("      -> write ")
    assert "fleeces" in result.stdout


def test_a_day_that_is_still_to_come_is_a_fault(tree: Path) -> None:
    assert run("check", "--spec", str(tree), "--date", "2026-11-24").exit_code == 0
    result = run("check", "--spec", str(tree), "--date", "2026-11-23")
    assert result.exit_code == 1
    assert "[dates]" in result.stdout


def overlay(value: str) -> str:
    return (
        'extends: next\nset:\n  - path: "fleeces/thin: thickness"\n'
        f'    expects: "{value}"\n    value: "40 mil"\n'
        '    basis: {grade: product, source: "An invented sheet", locator: "page 1"}\n'
        '    reason: {en: "Invented.", es: "Inventado."}\n'
    )


def test_a_record_is_shown_as_it_was_written(tree: Path) -> None:
    words = ("publish", "2026.1", "--date", "2026-11-24", "--spec", str(tree))
    assert run(*words).exit_code == 0
    file = tree / "next" / "fleeces" / "thin.yaml"
    file.write_text(FLEECE.replace("36 mil", "40 mil"), "utf-8")
    for edition, draft in (((), "36 mil"), (("2026.1",), "36 mil"), (("next",), "40 mil")):
        shown = run("show", *edition, "fleeces/thin", "--spec", str(tree))
        assert shown.exit_code == 0, shown.output
        assert yaml.safe_load(shown.stdout) == yaml.safe_load(FLEECE.replace("36 mil", draft))
    assert shown.stdout.startswith("# fleeces/thin, edition next (draft)\n")
    mine = tree / "mine.yaml"
    mine.write_text(overlay("40 mil").replace('value: "40 mil"', 'value: "44 mil"'), "utf-8")
    laid = run("show", "fleeces/thin", "--overlay", str(mine), "--spec", str(tree))
    assert "overlay mine" in laid.stdout and "44 mil" in laid.stdout


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((), "KIND/ID: write one record, after the edition if you name one"),
        (("fleeces",), "KIND/ID: write one record"),
        (("2026.1", "next", "fleeces/thin"), "KIND/ID: write one record"),
        (("2031.1", "fleeces/thin"), "EDITION: no edition '2031.1'"),
        (("fleeces/thick",), "KIND/ID: no record 'fleeces/thick'; nearest: fleeces/thin; kinds:"),
        (("fleeces/thin", "--overlay", "gone.yaml"), "--overlay: gone.yaml is not there"),
        (("fleeces/thin", "--overlay", "gone"), "--overlay: no overlay 'gone'"),
    ],
)
def test_what_cannot_be_shown_is_told(tree: Path, words: tuple[str, ...], said: str) -> None:
    result = run("show", *words, "--spec", str(tree))
    assert result.exit_code == 2, result.output
    assert said in " ".join(result.stderr.split())


def test_an_overlay_is_laid(tree: Path) -> None:
    file = tree / "mine.yaml"
    file.write_text(overlay("36 mil"), "utf-8")
    result = run("check", "--spec", str(tree), "--overlay", str(file))
    assert result.exit_code == 0, result.output
    assert result.stdout.startswith("overlay mine fits edition next: 1 places set\n")


def test_an_overlay_that_does_not_fit_is_a_fault(tree: Path) -> None:
    file = tree / "mine.yaml"
    file.write_text(overlay("30 mil"), "utf-8")
    result = run("check", "--spec", str(tree), "--overlay", str(file))
    assert result.exit_code == 1
    assert "overlays/mine.yaml" in result.stdout and "36 mil" in result.stdout


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("check", "--date", "today"), "--date: today is not a day: write it as 2026-11-24"),
        (("check", "--overlay", "gone.yaml"), "--overlay: gone.yaml is not there"),
        (("check", "--spec", "nowhere"), "--spec: nowhere holds no spec data"),
        (("publish", "26", "--date", "2026-11-24"), "EDITION: 26 is not <year>.<number>"),
        (("publish", "2026.1"), "--date: is missing: write it as --date 2026-11-24"),
        (("publish", "2026.1", "--date", "24/11"), "--date: 24/11 is not a day"),
        (("publish", "2026.1", "--date", "2026-11-24", "--note-en", "x"), "go together"),
        (("publish", "2026.1", "--date", "2026-11-24", "--withdraw"), "say why it is withdrawn"),
    ],
)
def test_bad_arguments(words: tuple[str, ...], said: str) -> None:
    result = run(*words)
    assert result.exit_code == 2, result.output
    assert said in " ".join(result.stderr.split())
    assert result.stdout == ""


def test_an_edition_is_published_once_and_withdrawn(tree: Path) -> None:
    words = ("publish", "2026.1", "--date", "2026-11-24", "--spec", str(tree))
    result = run(*words)
    assert result.exit_code == 0, result.output
    assert result.stdout == f"2026.1 is published: {tree / 'editions' / '2026.1.json'}\n"
    assert load(root=tree).id == "2026.1"
    assert load(root=tree).note == {"en": "Edition 2026.1.", "es": "Edición 2026.1."}
    again = run(*words)
    assert again.exit_code == 2
    assert "is published already, and frozen" in " ".join(again.stderr.split())
    back = ("--withdraw", "--note-en", "A slip in it.", "--note-es", "Tiene un error.")
    assert run(*words, *back).exit_code == 0
    assert load(id="2026.1", root=tree).status == "withdrawn"
    unknown = run("publish", "2026.2", "--date", "2026-11-24", "--spec", str(tree), *back)
    assert unknown.exit_code == 2
    assert "no edition '2026.2'" in unknown.stderr


def test_an_installed_package_s_own_data_is_not_published(
    tree: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("UPSTAND_SPECDATA", raising=False)
    monkeypatch.setattr(sys.modules["upstand.edition.load"], "packaged", lambda: tree)
    result = run("publish", "2026.1", "--date", "2026-11-24")
    assert result.exit_code == 2
    assert "work in a checkout, or give --spec FOLDER" in " ".join(result.stderr.split())
    assert not (tree / "editions").exists()


def test_faulty_data_is_not_published(tree: Path) -> None:
    (tree / "next" / "tools" / "trowel.yaml").write_text("name: {en: x}\n", "utf-8")
    result = run("publish", "2026.1", "--date", "2026-11-24", "--spec", str(tree))
    assert result.exit_code == 1
    assert "tools/trowel.yaml" in result.stderr
    assert not (tree / "editions" / "2026.1.json").exists()
