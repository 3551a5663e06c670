"""Each rule says what it has to of a broken tree, and nothing of its nearest accepted neighbor.

A file a rule in `tests/broken/`: what is patched in the small tree, and what is said of it.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
import yaml

from upstand.edition.check import check
from upstand.edition.rules import RULES
from upstand.edition.source import Source

FILES = {p.stem: p for p in sorted(Path(__file__).parents[2].joinpath("broken").glob("*.yaml"))}
#: Rules about files, not about what stands in them: each has tests of its own.
OF_FILES = {"files", "frozen", "overlays"}
DAY = "2026-11-24"

Broken = Callable[[dict[str, Any]], Path]


def read(rule: str) -> dict[str, Any]:
    held: dict[str, Any] = yaml.safe_load(FILES[rule].read_text(encoding="utf-8"))
    return held


def test_every_rule_has_its_file() -> None:
    assert set(FILES) | OF_FILES == set(RULES)


@pytest.mark.parametrize("rule", FILES)
def test_a_rule_says_what_is_wrong(rule: str, broken: Broken) -> None:
    held = read(rule)
    root = broken(held["broken"])
    assert [str(fault) for fault in RULES[rule](Source.read(root, date=DAY))] == held["says"]
    # what is not of its kind's shape, shape alone is asked about
    if rule != "shape":
        assert {fault.rule for fault in check(root, date=DAY).faults} == {rule}


@pytest.mark.parametrize("rule", FILES)
def test_the_nearest_neighbor_is_accepted(rule: str, broken: Broken) -> None:
    accepted = read(rule)["accepted"]
    assert accepted
    assert [str(fault) for fault in check(broken(accepted), date=DAY).faults] == []
