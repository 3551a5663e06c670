"""Dimension proof: the same functions, run with quantities in place of floats.

Every constant becomes a quantity in its own unit, every input one in its declared unit. The result
must have the declared dimension, and in the declared unit the very number the plain function
gives: a lost factor, a wrong unit and a sum of unlike things all show.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable
from fractions import Fraction
from types import FunctionType
from typing import Any

import pint
import pytest

from upstand.formulas import REGISTER
from upstand.formulas.language import constants
from upstand.formulas.language.constants import CONSTANT_UNITS, MIL_PER_INCH
from upstand.formulas.language.register import Formula, register
from upstand.formulas.language.units_of import ANY, Gallons, Inches, Mils, Minutes, SquareInches
from upstand.quantity.units import pint_unit, registry
from upstand.words.formulas import CONVERSIONS

RANGES = {
    "degF": (-40.0, 140.0),
    "degC": (-40.0, 60.0),
    "percent": (1.0, 100.0),
    "g/m^2": (80.0, 400.0),
    "kg/m^3": (900.0, 2600.0),
}


def unit_of(text: str) -> Any:
    """Pint's unit of a formula's or a constant's unit, compound ones by their closed parts."""
    if text == "hPa":
        return registry().Unit("hectopascal")
    try:
        return pint_unit(text)
    except ValueError:
        above, below = text.split("/")
        return unit_of(above) / unit_of(below)


def of_pure_number(function: Callable[[float], float]) -> Callable[[Any], float]:
    """Let exp, log and the like take a quantity only where it has no dimension."""

    def run(value: Any) -> float:
        if isinstance(value, registry().Quantity):
            value = value.to(registry().Unit("dimensionless")).magnitude
        return function(float(value))

    return run


def with_quantities(formula: Formula) -> Callable[..., Any]:
    function = formula.function
    assert isinstance(function, FunctionType)
    names = dict(function.__globals__)
    for name in ("exp", "log"):
        if name in names:
            names[name] = of_pure_number(getattr(math, name))
    if "sqrt" in names:
        names["sqrt"] = lambda value: value**0.5
    for name, unit in CONSTANT_UNITS.items():
        if name in names:
            names[name] = registry().Quantity(getattr(constants, name), unit_of(unit))
    return FunctionType(function.__code__, names)


def prove(formula: Formula, rounds: int = 5) -> None:
    for unit in ("in", "in^2", "gal") if formula.unit == ANY else (formula.unit,):
        prove_in(formula, unit, rounds)


def prove_in(formula: Formula, amount: str, rounds: int) -> None:
    """Run one formula; `amount` is the unit that stands for any."""
    run = with_quantities(formula)
    parameters = [(name, amount if unit == ANY else unit) for name, unit in formula.parameters]
    dice = random.Random(f"dimensions {formula.name}")
    for _ in range(rounds):
        plain = [dice.uniform(*RANGES.get(unit, (0.5, 500.0))) for _, unit in parameters]
        given = [
            registry().Quantity(value, unit_of(unit))
            for value, (_, unit) in zip(plain, parameters, strict=True)
        ]
        result = run(*given)
        if not isinstance(result, registry().Quantity) and result == 0:
            # nothing at all has every dimension
            assert formula(*plain) == 0
            continue
        if not isinstance(result, registry().Quantity):
            result = registry().Quantity(result, unit_of("1"))
        shown = float(result.to(unit_of(amount)).magnitude)
        assert shown == pytest.approx(formula(*plain), rel=1e-9, abs=1e-9)


@pytest.mark.parametrize("formula", REGISTER.values(), ids=list(REGISTER))
def test_dimensions(formula: Formula) -> None:
    prove(formula)


@pytest.mark.parametrize("name", sorted(CONVERSIONS))
def test_conversion_constants_are_one(name: str) -> None:
    value = Fraction(getattr(constants, name)).limit_denominator(1000)
    quantity = registry().Quantity(value, unit_of(CONSTANT_UNITS[name]))
    assert quantity.to(registry().Unit("dimensionless")).magnitude == 1


def test_other_constants_are_not() -> None:
    assert set(CONSTANT_UNITS) - CONVERSIONS == {
        "ICE_POINT_F",
        "ICE_POINT_C",
        "SATURATION_AT_ICE_POINT",
        "MAGNUS_WATER",
        "MAGNUS_WATER_OFFSET",
        "MAGNUS_ICE",
        "MAGNUS_ICE_OFFSET",
        "DRIEST",
        "ONE_MINUTE",
        "HAIR",
    }
    ice = registry().Quantity(Fraction(32), unit_of("degF"))
    assert ice.to(unit_of("degC")).magnitude == 0


def lost_factor(area: SquareInches, thickness: Mils) -> Gallons:
    """Forget the cubic inches in a gallon."""
    return area * thickness / MIL_PER_INCH


def unlike_sum(area: SquareInches, side: Inches) -> SquareInches:
    """Add a length to an area."""
    return area + side


def wrong_result(side: Inches, other: Inches) -> Inches:
    """Call an area a length."""
    return side * other


def bare_logarithm(stated: Minutes) -> Minutes:
    """Take the logarithm of a time."""
    return stated * log(stated)


def log(value: float) -> float:
    return math.log(value)


def test_the_proof_finds_a_lost_factor() -> None:
    with pytest.raises(AssertionError):
        prove(register(lost_factor))


@pytest.mark.parametrize("function", [unlike_sum, wrong_result, bare_logarithm])
def test_the_proof_finds_a_wrong_dimension(function: Callable[..., float]) -> None:
    with pytest.raises(pint.DimensionalityError):
        prove(register(function))
