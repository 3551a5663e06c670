"""From a formula's source to a JSON tree, refusing all that is outside the restricted language.

A tree is a number, a name (a string: parameter, earlier name, constant or ``pi``) or a list that
starts with an operation of `OPERATIONS`: ``["/", ["*", "area", "thickness"], "MIL_PER_INCH"]``.
Division, comparison and the rest mean what they mean for IEEE doubles, so that a browser computes
the same number; only exp, log, sqrt and asin may differ in the last bit (`exact` is then false).
"""

from __future__ import annotations

import ast
import builtins
import math
from collections.abc import Callable, Iterable, Mapping
from functools import cache
from inspect import getsource
from textwrap import dedent
from typing import Any, Final, NoReturn, TypeAlias, TypedDict

from upstand.formulas.language import constants
from upstand.formulas.language.constants import CONSTANT_UNITS
from upstand.formulas.language.register import Formula, FormulaFault

Tree: TypeAlias = "float | int | str | list[Tree]"


class Slot(TypedDict):
    """A parameter: its name and the unit of the plain float it takes."""

    name: str
    unit: str


class ConstantSlot(TypedDict):
    """A constant the tree names: value and unit."""

    value: float
    unit: str


class Exported(TypedDict):
    """A formula as the browser gets it. `let` holds [name, tree] in the order to compute them."""

    name: str
    says: str
    parameters: list[Slot]
    constants: dict[str, ConstantSlot]
    let: list[list[Tree]]
    result: Tree
    unit: str
    exact: bool


_ARITHMETIC: Final[dict[type[ast.operator], str]] = {
    ast.Add: "+",
    ast.Sub: "-",
    ast.Mult: "*",
    ast.Div: "/",
}
_COMPARISONS: Final[dict[type[ast.cmpop], str]] = {
    ast.Lt: "<",
    ast.LtE: "<=",
    ast.Gt: ">",
    ast.GtE: ">=",
    ast.Eq: "==",
    ast.NotEq: "!=",
}
_ONE_ARGUMENT: Final = ("floor", "ceil", "exp", "log", "sqrt", "asin")
_TRANSCENDENTAL: Final = frozenset({"exp", "log", "sqrt", "asin"})
_FUNCTIONS: Final[dict[str, Callable[..., Any]]] = {
    "min": builtins.min,
    "max": builtins.max,
    **{name: getattr(math, name) for name in _ONE_ARGUMENT},
}
OPERATIONS: Final = frozenset(
    {*_ARITHMETIC.values(), *_COMPARISONS.values(), *_FUNCTIONS, "neg", "if"}
)
"""All a tree's evaluator has to know."""

_ACCEPTED: Final = (
    "a formula may use parameters, assignment to a new name, + - * /, one comparison in an "
    "if-expression, min, max, floor, ceil, exp, log, sqrt, asin, pi and the constants of "
    "upstand.formulas.language.constants"
)
# An integer beyond this is not the same number as a double.
_LARGEST_WHOLE: Final = 2**53


class _Reader:
    """Reads one function definition; keeps what it has met for the export."""

    def __init__(self, name: str, parameters: Iterable[str]) -> None:
        self.name = name
        self.known = list(parameters)
        self.constants: set[str] = set()
        self.functions: set[str] = set()

    def refuse(self, node: ast.AST, what: str) -> NoReturn:
        line = getattr(node, "lineno", 1)
        raise FormulaFault(f"{self.name}, line {line}: {what}; {_ACCEPTED}")

    def expression(self, node: ast.expr) -> Tree:
        match node:
            case ast.Constant(value=value):
                return self.number(node, value)
            case ast.Name(id=name):
                return self.named(node, name)
            case ast.BinOp(left=left, op=op, right=right):
                sign = _ARITHMETIC.get(type(op))
                if sign is None:
                    self.refuse(node, f"{ast.unparse(node)!r} uses {type(op).__name__}")
                return [sign, self.expression(left), self.expression(right)]
            case ast.UnaryOp(op=ast.USub(), operand=operand):
                return ["neg", self.expression(operand)]
            case ast.IfExp(test=test, body=body, orelse=orelse):
                return ["if", self.test(test), self.expression(body), self.expression(orelse)]
            case ast.Call():
                return self.call(node)
        self.refuse(node, f"{ast.unparse(node)!r} ({type(node).__name__}) is not arithmetic")

    def number(self, node: ast.expr, value: object) -> Tree:
        if isinstance(value, bool) or not isinstance(value, int | float):
            self.refuse(node, f"{value!r} is not a number")
        if abs(value) > _LARGEST_WHOLE:
            self.refuse(node, f"{value!r} is too large to be the same number everywhere")
        return value

    def named(self, node: ast.expr, name: str) -> Tree:
        if name in self.known:
            return name
        if name == "pi" or name in CONSTANT_UNITS:
            self.constants.add(name)
            return name
        self.refuse(node, f"{name!r} is not a parameter, an earlier name or a listed constant")

    def test(self, node: ast.expr) -> Tree:
        match node:
            case ast.Compare(left=left, ops=[op], comparators=[right]):
                sign = _COMPARISONS.get(type(op))
                if sign is not None:
                    return [sign, self.expression(left), self.expression(right)]
        self.refuse(node, f"{ast.unparse(node)!r} is not one comparison")

    def call(self, node: ast.Call) -> Tree:
        name = node.func.id if isinstance(node.func, ast.Name) else ast.unparse(node.func)
        if name not in _FUNCTIONS or name in self.known:
            self.refuse(node, f"{name!r} is not a function of the formula language")
        if node.keywords or any(isinstance(each, ast.Starred) for each in node.args):
            self.refuse(node, f"{name} takes plain arguments only")
        wanted = len(node.args) == 1 if name in _ONE_ARGUMENT else len(node.args) >= 2
        if not wanted:
            self.refuse(node, f"{name} has {len(node.args)} arguments")
        self.functions.add(name)
        return [name, *(self.expression(each) for each in node.args)]

    def body(self, function: ast.FunctionDef) -> tuple[list[list[Tree]], Tree]:
        if ast.get_docstring(function) is None:
            self.refuse(function, "there is no docstring")
        let: list[list[Tree]] = []
        *steps, last = function.body[1:] or [function.body[0]]
        for step in steps:
            match step:
                case ast.Assign(targets=[ast.Name(id=name)], value=value):
                    tree = self.expression(value)
                    if name in self.known or name in CONSTANT_UNITS or name in {*_FUNCTIONS, "pi"}:
                        self.refuse(step, f"{name!r} already has a meaning")
                    self.known.append(name)
                    let.append([name, tree])
                case _:
                    self.refuse(step, f"{ast.unparse(step)!r} is not an assignment to a new name")
        if not isinstance(last, ast.Return) or last.value is None:
            self.refuse(last, "the last line doesn't return a value")
        return let, self.expression(last.value)


def _definition(source: str) -> ast.FunctionDef:
    try:
        found = ast.parse(dedent(source)).body
    except SyntaxError as fault:
        raise FormulaFault(f"not Python: {fault}") from None
    if len(found) != 1 or not isinstance(found[0], ast.FunctionDef):
        raise FormulaFault("a formula is one plain function, with def")
    return found[0]


def _check_signature(reader: _Reader, function: ast.FunctionDef) -> None:
    taken = function.args
    if function.decorator_list:
        reader.refuse(function, "a decorator may change what the function does")
    if taken.vararg or taken.kwarg or taken.kwonlyargs or taken.posonlyargs or taken.defaults:
        reader.refuse(function, "parameters must be plain, without defaults or stars")
    for name in reader.known:
        if name in CONSTANT_UNITS or name in {*_FUNCTIONS, "pi"}:
            reader.refuse(function, f"parameter {name!r} already has a meaning")


def read_source(source: str) -> tuple[list[list[Tree]], Tree, _Reader]:
    """Read one function's source: its let list, its result tree and what it uses.

    Raises FormulaFault, naming function, line and what is accepted, for all that is outside the
    restricted language.
    """
    function = _definition(source)
    reader = _Reader(function.name, [each.arg for each in function.args.args])
    _check_signature(reader, function)
    let, result = reader.body(function)
    return let, result, reader


def _check_globals(reader: _Reader, known: Mapping[str, Any]) -> None:
    """Make sure that a name means in the module what the tree takes it to mean."""
    for name in reader.functions:
        if known.get(name, getattr(builtins, name, None)) is not _FUNCTIONS[name]:
            raise FormulaFault(f"{reader.name}: {name} is not Python's own {name}; {_ACCEPTED}")
    for name in reader.constants:
        meant = math.pi if name == "pi" else getattr(constants, name)
        if known.get(name) != meant:
            raise FormulaFault(f"{reader.name}: {name} is not the listed constant; {_ACCEPTED}")


@cache
def export(formula: Formula) -> Exported:
    """Export a formula as a JSON-ready tree. Do not change what it returns: it is kept.

    Raises FormulaFault for a function outside the restricted language.

    >>> from upstand.formulas import REGISTER
    >>> export(REGISTER["film_volume"])["result"]
    ['/', ['/', ['*', 'area', 'thickness'], 'MIL_PER_INCH'], 'CUBIC_INCHES_PER_GALLON']
    """
    let, result, reader = read_source(getsource(formula.function))
    _check_globals(reader, getattr(formula.function, "__globals__", {}))
    used: dict[str, ConstantSlot] = {}
    for name in sorted(reader.constants):
        if name == "pi":
            used[name] = {"value": math.pi, "unit": "1"}
        else:
            used[name] = {"value": getattr(constants, name), "unit": CONSTANT_UNITS[name]}
    return {
        "name": formula.name,
        "says": formula.says,
        "parameters": [{"name": name, "unit": unit} for name, unit in formula.parameters],
        "constants": used,
        "let": let,
        "result": result,
        "unit": formula.unit,
        "exact": not reader.functions & _TRANSCENDENTAL,
    }


def export_all(formulas: Iterable[Formula]) -> dict[str, Exported]:
    """Export several formulas by name, ready for json.dumps."""
    return {each.name: export(each) for each in formulas}
