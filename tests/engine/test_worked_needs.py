"""The need of one example a detail, against sums worked by hand."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml

from upstand.answer import answer
from upstand.edition import Edition
from upstand.query import read_requirements
from upstand.query.faults import QueryFaults

CASES: list[dict[str, Any]] = yaml.safe_load(
    Path(__file__).with_name("worked_needs.yaml").read_text(encoding="utf-8")
)
DRINK = 0.036 * (1 - 0.165 / (1380 * 0.036 * 0.0254))
NAMES = {"__builtins__": {}, "drink": DRINK, "extra": DRINK + 0.020}


def test_the_drink_by_hand() -> None:
    assert pytest.approx(0.0312927, abs=5e-8) == DRINK


def number(sum_: Any) -> float:
    return float(eval(str(sum_), NAMES))


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["name"])
def test_the_need(case: dict[str, Any], edition: Edition) -> None:
    try:
        found = answer(read_requirements(case["request"], edition), edition)
    except QueryFaults as faults:
        pytest.skip(f"not read yet: {faults}")
    if not found.layout.built:
        pytest.skip("not laid out yet")
    resin, *others = found.takeoff.materials
    lines = {line.id: line.amount.value for line in resin.lines}
    for name, sum_ in case["coats"].items():
        coat = next(coat for coat in found.takeoff.coats if coat.id == name)
        assert coat.volume.value * 231 == pytest.approx(number(sum_), rel=2e-5), name
        assert lines[name] == coat.volume.value
    rough = {id.partition("/")[2]: v * 231 for id, v in lines.items() if id.startswith("rough")}
    if "roughness" in case:
        wanted = {name: number(sum_) for name, sum_ in case["roughness"].items()}
        assert rough == pytest.approx(wanted, rel=2e-5)
    assert resin.one.need is not None
    assert resin.one.need.value == pytest.approx(case["need_gal"], abs=6e-6)
    assert sum(lines.values()) == pytest.approx(resin.one.need.value, rel=1e-12)
    assert resin.one.with_allowance is not None
    assert resin.one.with_allowance.value == pytest.approx(1.1 * case["need_gal"], abs=7e-6)
    primed = {
        f"{material.record.id}/{line.surface}": line.amount.value
        for material in others
        if material.kind == "primer"
        for line in material.lines
    }
    for name, sum_ in case.get("primers", {}).items():
        assert primed[name] == pytest.approx(number(sum_), rel=2e-5), name


@pytest.mark.parametrize("resin", ["pu-1k", "stpe-1k"])
def test_one_part_coats_are_wet_and_sum_to_the_need(resin: str, edition: Edition) -> None:
    """At 80 % solids 40 and 25 mil cured are laid 50 and 31.25 mil."""
    request = {**CASES[0]["request"], "resin": resin}
    found = answer(read_requirements(request, edition), edition).takeoff
    by_id = {coat.id: coat for coat in found.coats}
    for id, dry, wet in (("base", 40, 50), ("top", 25, 31.25)):
        assert by_id[id].thickness.value == wet == found.gauge[id].value
        cured = by_id[id].dry
        assert cured is not None and cured.value == dry
    need = found.materials[0].one.need
    assert need is not None
    assert need.value == pytest.approx(sum(coat.volume.value for coat in found.coats), rel=1e-12)
    assert need.value == pytest.approx(0.12454 / 0.8, abs=8e-6)
    assert found.film.value == 101
