"""Cases worked by hand: `cases/*.yaml`, each with the arithmetic that its figures come from.

A case is `name`, `input` (changes to the example's request; null leaves a field out), `expected`
and `expected_from`. A figure may be arithmetic as text, with steps named in `let`. `within` is the
tolerance in in² and in, a hair unless round outlines are drawn with straight sides.
"""

from __future__ import annotations

import ast
import copy
import math
import operator
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
import yaml

from upstand.answer import Answer
from upstand.layout import Fleece, Masking

FILES = sorted((Path(__file__).parent / "cases").glob("*.yaml"))
CASES = [case for file in FILES for case in yaml.safe_load(file.read_text(encoding="utf-8"))]

OPERATORS: dict[type, Callable[..., float]] = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
    ast.Pow: operator.pow,
    ast.USub: operator.neg,
}
FUNCTIONS: dict[str, Callable[..., float]] = {"sqrt": math.sqrt, "acos": math.acos}


def work_out(figure: object, named: dict[str, float]) -> float:
    """A figure of a case: a number, or arithmetic on numbers, pi and named steps."""

    def value(node: ast.expr) -> float:
        if isinstance(node, ast.Constant) and isinstance(node.value, int | float):
            return float(node.value)
        if isinstance(node, ast.Name):
            return named[node.id]
        if isinstance(node, ast.BinOp):
            return OPERATORS[type(node.op)](value(node.left), value(node.right))
        if isinstance(node, ast.UnaryOp):
            return OPERATORS[type(node.op)](value(node.operand))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
            return FUNCTIONS[node.func.id](*(value(arg) for arg in node.args))
        raise ValueError(f"not arithmetic: {ast.dump(node)}")

    return value(ast.parse(str(figure), mode="eval").body)


class Worked:
    """One case beside its answer."""

    def __init__(self, case: dict[str, Any], answer: Answer) -> None:
        self.answer = answer
        self.within = float(case.get("within", 1e-9))
        self.named = {"pi": math.pi}
        for name, figure in case.get("let", {}).items():
            self.named[name] = self.number(figure)

    def number(self, figure: object) -> float:
        return work_out(figure, self.named)

    def near(self, figure: object) -> Any:
        return pytest.approx(self.number(figure), abs=self.within, rel=1e-9)

    def size(self, figures: list[object]) -> list[float]:
        return sorted(self.number(figure) for figure in figures)

    @property
    def masking(self) -> Masking:
        assert self.answer.layout.masking is not None
        return self.answer.layout.masking

    @property
    def fleece(self) -> Fleece:
        assert self.answer.layout.fleece is not None
        return self.answer.layout.fleece

    def check_mask(self, wanted: list[list[object]]) -> None:
        found = sorted((w.value, h.value) for w, h in self.masking.flat)
        rows = sorted((self.number(w), self.number(h)) for w, h in wanted)
        assert len(found) == len(rows)
        for one, row in zip(found, rows, strict=True):
            assert one == pytest.approx(row, abs=self.within)

    def check_flat(self, wanted: object) -> None:
        assert self._area("flat") == self.near(wanted)

    def check_upright(self, wanted: object) -> None:
        assert self._area("upright") == self.near(wanted)

    def _area(self, orientation: str) -> float:
        surfaces = [s for s in self.answer.layout.surfaces if s.orientation == orientation]
        return math.fsum(s.area.value for s in surfaces if s.area is not None)

    def check_surfaces(self, wanted: dict[str, object]) -> None:
        found = {s.id: s.area.value for s in self.answer.layout.surfaces if s.area is not None}
        assert set(found) == set(wanted)
        for id, figure in wanted.items():
            assert found[id] == self.near(figure), id

    def check_tape(self, wanted: object) -> None:
        assert self.masking.tape.value == self.near(wanted)

    def check_corners(self, wanted: object) -> None:
        assert self.masking.corners.value == self.near(wanted)

    def check_line_height(self, wanted: object) -> None:
        assert self.masking.line_height.value == self.near(wanted)

    def check_wraps(self, wanted: object) -> None:
        wraps = [p for p in self.fleece.pieces if p.kind == "wrap"]
        assert math.fsum(p.net.value * p.count for p in wraps) == self.near(wanted)

    def check_patches(self, wanted: int) -> None:
        assert sum(p.count for p in self.fleece.pieces if p.kind == "patch") == wanted

    def check_pieces(self, wanted: list[dict[str, Any]]) -> None:
        order = ["cover", "base", "wrap", "patch"]
        kinds = [p.kind for p in self.fleece.pieces]
        assert kinds == sorted(kinds, key=order.index), "pieces stand from the bottom up"
        assert [p.order for p in self.fleece.pieces] == list(range(1, len(kinds) + 1))
        found = sorted(
            self.fleece.pieces,
            key=lambda p: (
                order.index(p.kind),
                *sorted((p.width.value, p.length.value)),
                p.net.value,
            ),
        )
        rows = sorted(
            wanted,
            key=lambda row: (
                order.index(row["kind"]),
                *self.size(row["size"]),
                self.number(row["net"]),
            ),
        )
        assert [p.kind for p in found] == [row["kind"] for row in rows]
        for piece, row in zip(found, rows, strict=True):
            size = sorted((piece.width.value, piece.length.value))
            assert size == pytest.approx(self.size(row["size"]), abs=self.within), piece.id
            assert piece.count == row["count"], piece.id
            assert piece.net.value == self.near(row["net"]), piece.id
            if "slit" in row:
                assert piece.slit is row["slit"], piece.id
            if "joint" in row:
                assert piece.joint == row["joint"]

    def check_coats(self, wanted: dict[str, object]) -> None:
        found = {coat.id: coat.volume.value * 231 for coat in self.answer.takeoff.coats}
        assert list(found) == ["base", "drink", "top", "extra"]
        for id, figure in wanted.items():
            assert found[id] == self.near(figure), id

    def _material(self, id: str) -> Any:
        return next(m for m in self.answer.takeoff.materials if m.record.id == id)

    def check_need(self, wanted: dict[str, object]) -> None:
        for id, figure in wanted.items():
            material = self._material(id)
            assert material.one.need.value == self.near(figure), id
            lines = math.fsum(line.amount.value for line in material.lines)
            assert lines == self.near(figure), "lines add up to the need"
            assert material.one.with_allowance.value == pytest.approx(1.1 * self.number(figure))

    def check_packs(self, wanted: dict[str, dict[str, int]]) -> None:
        for id, packs in wanted.items():
            assert dict(self._material(id).one.packs) == packs, id

    def check_totals(self, wanted: dict[str, object]) -> None:
        for name, figure in wanted.items():
            assert self.answer.takeoff.totals[name].value == self.near(figure), name

    def check_total_need(self, wanted: dict[str, object]) -> None:
        for id, figure in wanted.items():
            assert self._material(id).all.need.value == self.near(figure), id

    def check_total_packs(self, wanted: dict[str, dict[str, int]]) -> None:
        for id, packs in wanted.items():
            assert dict(self._material(id).all.packs) == packs, id

    def check_verdict(self, wanted: str) -> None:
        assert self.answer.verdict.state == wanted, self.answer.verdict.reasons

    def check_reasons(self, wanted: list[str]) -> None:
        assert [r.id for r in self.answer.verdict.reasons] == wanted

    def check(self, name: str, wanted: Any) -> None:
        if name in ("zone", "net", "cut", "lap_area", "extra"):
            assert getattr(self.fleece, name).value == self.near(wanted)
        else:
            getattr(self, f"check_{name}")(wanted)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["name"])
def test_case(case: dict[str, Any], ask: Callable[..., Answer]) -> None:
    answer = ask(**copy.deepcopy(case["input"]))
    assert answer.layout.unproved == ()
    worked = Worked(case, answer)
    wrong = []
    for name, wanted in case["expected"].items():
        try:
            worked.check(name, wanted)
        except AssertionError as error:
            wrong.append(f"{name}: {error}")
    assert not wrong, "\n\n".join([case["name"], case["expected_from"], *wrong])


def test_every_case_says_where_its_figures_come_from() -> None:
    assert CASES
    names = [case["name"] for case in CASES]
    assert len(set(names)) == len(names)
    for case in CASES:
        assert set(case) <= {"name", "input", "expected", "expected_from", "let", "within"}
        assert case["expected"] and len(case["expected_from"]) > 10, case["name"]
