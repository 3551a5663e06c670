"""What a formula is: a function of plain floats, with its name and units read off once."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from inspect import Parameter, getdoc, signature
from typing import Any, get_type_hints


class FormulaFault(ValueError):
    """A function that is not a formula: outside the restricted language, or without units."""


@dataclass(frozen=True, slots=True)
class Formula:
    """A registered formula.

    `parameters` holds (name, unit) in the function's own order, `unit` the unit of the result.
    It can be called like the function, with plain floats in those units.
    """

    name: str
    function: Callable[..., float]
    parameters: tuple[tuple[str, str], ...]
    unit: str
    says: str
    names: tuple[str, ...] = field(init=False, repr=False, compare=False)
    units: tuple[str, ...] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        """Take names and units of the parameters apart once: each computed number asks for them."""
        object.__setattr__(self, "names", tuple(name for name, _ in self.parameters))
        object.__setattr__(self, "units", tuple(unit for _, unit in self.parameters))

    def __call__(self, *args: float, **named: float) -> float:
        """Compute with plain floats in the declared units."""
        return self.function(*args, **named)


def _unit(hint: object, where: str) -> str:
    found: tuple[Any, ...] = getattr(hint, "__metadata__", ())
    if len(found) != 1 or not isinstance(found[0], str):
        raise FormulaFault(
            f"{where} has no unit; annotate it with one of "
            "upstand.formulas.language.units_of, e.g. Inches"
        )
    return str(found[0])


def register(function: Callable[..., float]) -> Formula:
    """Read a function's name, parameters and units into a Formula.

    Raises FormulaFault for a parameter or result without a unit, and for a parameter that has a
    default or can't be given by position.
    """
    name = function.__name__
    hints: dict[str, Any] = get_type_hints(function, include_extras=True)
    parameters = []
    for each in signature(function).parameters.values():
        if each.kind is not Parameter.POSITIONAL_OR_KEYWORD or each.default is not Parameter.empty:
            raise FormulaFault(f"{name}: {each.name} must be a plain parameter without a default")
        parameters.append((each.name, _unit(hints.get(each.name), f"{name}: {each.name}")))
    says = (getdoc(function) or "").split("\n", 1)[0]
    unit = _unit(hints.get("return"), f"{name}: the result")
    return Formula(name, function, tuple(parameters), unit, says)
