"""The check as a whole: a good tree, counts by grade, a twin for each rule."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from upstand.edition.check import check
from upstand.edition.rules import RULES

HERE = Path(__file__).resolve().parent
BROKEN = HERE.parent / "broken"
PACKAGE = HERE.parents[1] / "shared/upstand/edition/rules"


def test_the_small_tree_has_no_fault(whole: Path, checked: Callable[..., list[str]]) -> None:
    assert checked(whole, date="2026-11-24") == []


def test_counts_by_kind_and_grade(whole: Path) -> None:
    counts = check(whole).counts
    # two packs with a size, one with width and length
    assert counts["packs"]["practice"] == 4
    # thickness, areal mass, fibre density
    assert counts["fleeces"] == {
        "standard": 0,
        "secondary": 0,
        "computed": 0,
        "practice": 3,
        "memory": 0,
        "assumed": 0,
        "product": 0,
    }
    # the table of standard shapes
    assert counts["sections"]["secondary"] == 1
    # wind and height; the height that is taken; the lap
    assert counts["limits"]["practice"] == 2
    assert counts["inputs"]["practice"] == counts["parameters"]["practice"] == 1


@pytest.mark.parametrize("rule", RULES)
def test_each_rule_has_a_twin_test_and_a_broken_folder(rule: str) -> None:
    name = rule.replace("-", "_")
    assert (PACKAGE / f"{name}.py").is_file()
    assert (HERE / "rules" / f"test_rule_{name}.py").is_file()
    assert any((BROKEN / rule).rglob("*.yaml"))


def test_each_rule_file_is_run() -> None:
    files = {path.stem for path in PACKAGE.glob("*.py")} - {"__init__"}
    assert files == {rule.replace("-", "_") for rule in RULES}


@pytest.mark.parametrize("rule", sorted(set(RULES) - {"files", "shape", "frozen", "overlays"}))
def test_a_broken_folder_breaks_its_own_rule_alone(rule: str, broken: Callable[..., Path]) -> None:
    faults = check(broken(rule), date="2026-11-24").faults
    assert {fault.rule for fault in faults} == {rule}


def test_a_check_without_a_day_does_not_judge_the_future(broken: Callable[..., Path]) -> None:
    faults = check(broken("dates")).faults
    assert [fault.why for fault in faults] == ["is not a day of the calendar"]


def test_a_folder_without_data_is_told_as_a_fault(tmp_path: Path) -> None:
    faults = check(tmp_path).faults
    assert [fault.why for fault in faults] == ["holds no folder next"]
