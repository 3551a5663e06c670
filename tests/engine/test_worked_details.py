"""Each detail's example, worked by hand from the definitions: `worked/*.yaml`."""

from __future__ import annotations

import ast
import math
import operator
from pathlib import Path
from typing import Any

import pytest
import yaml

from upstand.edition import Edition
from upstand.layout import Layout, lay_out
from upstand.query import read_requirements
from upstand.query.defaults import settle

FILE = Path(__file__).parent / "worked" / "details.yaml"
CASES = yaml.safe_load(FILE.read_text(encoding="utf-8"))
OPERATORS: dict[type, Any] = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
    ast.Pow: operator.pow,
}


def work_out(figure: object) -> float:
    """A figure: a number, or arithmetic with pi, sqrt and asin."""

    def value(node: ast.expr) -> float:
        match node:
            case ast.Constant(value=int() | float() as number):
                return float(number)
            case ast.Name(id="pi"):
                return math.pi
            case ast.BinOp(left=left, op=op, right=right):
                return float(OPERATORS[type(op)](value(left), value(right)))
            case ast.Call(func=ast.Name(id="sqrt" | "asin" as name), args=[one]):
                return float(getattr(math, name)(value(one)))
        raise ValueError(f"not arithmetic: {ast.dump(node)}")

    return value(ast.parse(str(figure), mode="eval").body)


def laid_out(body: dict[str, Any], edition: Edition) -> Layout:
    query = read_requirements(body, edition)
    return lay_out(settle(query, edition), edition)


@pytest.mark.parametrize("case", CASES, ids=[case["name"] for case in CASES])
def test_worked_example(case: dict[str, Any], edition: Edition) -> None:
    layout = laid_out(case["body"], edition)
    assert layout.built, layout.asks
    assert layout.fleece is not None and layout.masking is not None
    assert layout.unproved == (), [str(fault) for fault in layout.unproved]

    def near(figure: object) -> Any:
        return pytest.approx(work_out(figure), rel=1e-9, abs=1e-9)

    found = {s.id: s.area.value for s in layout.surfaces if s.area is not None}
    assert found == {id: near(figure) for id, figure in case["surfaces"].items()}
    for name in ("zone", "net", "cut", "lap_area"):
        assert getattr(layout.fleece, name).value == near(case[name]), name
    extra = work_out(case["net"]) - work_out(case["zone"])
    assert layout.fleece.extra.value == pytest.approx(extra, abs=1e-9)
    assert layout.masking.tape.value == near(case["tape"])
    assert layout.masking.corners.value == case["corners"]
    flat = [[w.value, h.value] for w, h in layout.masking.flat]
    assert flat == [pytest.approx(row) for row in case["flat"]]
    line = layout.masking.line_height
    assert (None if line is None else line.value) == case["line_height"]
    bond = layout.bond_breaker
    assert (0.0 if bond is None else bond.value) == near(case.get("bond_breaker", 0))
    # what the top coat covers: every surface, and the bond breaker
    coated = sum(map(work_out, case["surfaces"].values())) + work_out(case.get("bond_breaker", 0))
    assert layout.coated is not None and layout.coated.value == pytest.approx(coated)
    rows = [[p.kind, p.width.value, p.length.value, p.count] for p in layout.fleece.pieces]
    merged: list[list[Any]] = []
    for row in rows:
        if merged and merged[-1][:3] == row[:3]:
            merged[-1][3] += row[3]
        else:
            merged.append(list(row))
    wanted = [[kind, near(w), near(n), count] for kind, w, n, count in case["pieces"]]
    assert merged == wanted
    assert [p.order for p in layout.fleece.pieces] == list(range(1, len(rows) + 1))
    letters = [p.letter for p in layout.fleece.pieces]
    assert len(set(letters)) == len(letters), "every piece has its own letter"
