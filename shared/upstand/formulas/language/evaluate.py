"""Evaluate an exported tree in Python: the model for the browser's evaluator, and its proof."""

from __future__ import annotations

import math
import operator
from collections.abc import Callable, Mapping
from typing import Any, Final

from upstand.formulas.language.export import Exported, Tree
from upstand.formulas.language.register import FormulaFault

_DO: Final[dict[str, Callable[..., Any]]] = {
    "+": operator.add,
    "-": operator.sub,
    "*": operator.mul,
    "/": operator.truediv,
    "neg": operator.neg,
    "<": operator.lt,
    "<=": operator.le,
    ">": operator.gt,
    ">=": operator.ge,
    "==": operator.eq,
    "!=": operator.ne,
    "min": min,
    "max": max,
    "floor": math.floor,
    "ceil": math.ceil,
    "exp": math.exp,
    "log": math.log,
    "sqrt": math.sqrt,
    "asin": math.asin,
}


def value_of(tree: Tree, names: Mapping[str, float]) -> Any:
    """Evaluate one tree with the given names.

    >>> value_of(["if", ["<", "a", 3], ["neg", "a"], "a"], {"a": 2.0})
    -2.0

    Raises FormulaFault for a name or an operation it doesn't know.
    """
    if isinstance(tree, int | float):
        return tree
    if isinstance(tree, str):
        if tree not in names:
            raise FormulaFault(f"no value was given for {tree!r}")
        return names[tree]
    sign, *rest = tree
    if sign == "if":
        test, then, otherwise = rest
        return value_of(then if value_of(test, names) else otherwise, names)
    if not isinstance(sign, str) or sign not in _DO:
        raise FormulaFault(f"{sign!r} is not an operation of the formula language")
    return _DO[sign](*(value_of(each, names) for each in rest))


def evaluate(exported: Exported, inputs: Mapping[str, float]) -> float:
    """Evaluate an exported formula; inputs are plain floats in its parameters' units.

    >>> from upstand.formulas import REGISTER
    >>> from upstand.formulas.language.export import export
    >>> evaluate(export(REGISTER["wrap_length"]), {"girth": 12.0, "joints": 1.0, "lap": 2.0})
    14.0

    Raises FormulaFault for inputs that are missing or not the formula's.
    """
    wanted = {each["name"] for each in exported["parameters"]}
    if wanted != set(inputs):
        raise FormulaFault(
            f"{exported['name']} takes {', '.join(sorted(wanted))}; "
            f"it was given {', '.join(sorted(inputs)) or 'nothing'}"
        )
    names: dict[str, float] = {name: each["value"] for name, each in exported["constants"].items()}
    names.update(inputs)
    for name, tree in exported["let"]:
        names[str(name)] = value_of(tree, names)
    return float(value_of(exported["result"], names))
