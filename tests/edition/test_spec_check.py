"""The check as a whole: a good tree, counts by grade, every rule run."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from upstand.edition.check import check
from upstand.edition.rules import RULES

HERE = Path(__file__).resolve().parent
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


def test_each_rule_file_is_run() -> None:
    files = {path.stem for path in PACKAGE.glob("*.py")} - {"__init__"}
    assert files == {rule.replace("-", "_") for rule in RULES}


def test_a_check_without_a_day_does_not_judge_the_future(broken: Callable[..., Path]) -> None:
    days = {"thickness.checked_on": "2026-02-30", "areal_mass.checked_on": "2999-01-01"}
    faults = check(broken({"fleeces/polyester": days})).faults
    assert [fault.why for fault in faults] == ["is not a day of the calendar"]


def test_a_folder_without_data_is_told_as_a_fault(tmp_path: Path) -> None:
    faults = check(tmp_path).faults
    assert [fault.why for fault in faults] == ["holds no folder next"]
