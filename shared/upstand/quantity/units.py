"""The closed list of units, conversion between them, and quantities as they leave the engine.

Every unit stands here with its exact size as a fraction, so that ``254 mm`` is ``10.0 in``, not
``9.999999999999998 in``; a conversion is one lookup and three operations on plain floats. pint has
the same units under its own names: tests prove by the one registry that every size and the
dimensions of every formula are right. Nothing else calls it.

>>> convert(231, "in^3", "gal")
1.0
>>> convert(72, "degF", "degC")
22.22222222222222
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from functools import cache
from math import isfinite, lcm
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, Final, Literal, TypedDict

from upstand.quantity import text as showing

if TYPE_CHECKING:
    import pint

System = Literal["us", "si"]


class UnitFault(ValueError):
    """A unit outside the closed list, units that measure different things, or no number."""


class Quantity(TypedDict):
    """A quantity as it stands in an answer: number unrounded, closed unit, text for people."""

    value: float
    unit: str
    text: str


@cache
def registry() -> pint.UnitRegistry[Any]:
    """Return the only pint registry. Text typed by a user never reaches it.

    For tests alone, which install pint: making it takes longer than an answer does.
    """
    import pint

    made: pint.UnitRegistry[Any] = pint.UnitRegistry(on_redefinition="raise", non_int_type=Fraction)
    # pint's own "mil" is an angle, so a mil of film is defined under a name of its own.
    made.define("film_mil = 0.001 * inch")
    return made


_INCH: Final = Fraction(254, 10_000)
_GALLON: Final = 231 * _INCH**3
_POUND: Final = Fraction(45_359_237, 100_000_000)

# closed unit: (dimension, how pint calls it, its size in m, kg, s, °C)
_LIST: Final[dict[str, tuple[str, str, Fraction]]] = {
    "in": ("length", "inch", _INCH),
    "ft": ("length", "foot", 12 * _INCH),
    "mm": ("length", "millimeter", Fraction(1, 1000)),
    "m": ("length", "meter", Fraction(1)),
    "mil": ("film", "film_mil", _INCH / 1000),
    "um": ("film", "micrometer", Fraction(1, 1_000_000)),
    "in^2": ("area", "inch ** 2", _INCH**2),
    "ft^2": ("area", "foot ** 2", (12 * _INCH) ** 2),
    "m^2": ("area", "meter ** 2", Fraction(1)),
    "in^3": ("volume", "inch ** 3", _INCH**3),
    "gal": ("volume", "US_liquid_gallon", _GALLON),
    "fl_oz": ("volume", "US_fluid_ounce", _GALLON / 128),
    "L": ("volume", "liter", Fraction(1, 1000)),
    "ml": ("volume", "milliliter", Fraction(1, 1_000_000)),
    "lb": ("mass", "avoirdupois_pound", _POUND),
    "kg": ("mass", "kilogram", Fraction(1)),
    "g": ("mass", "gram", Fraction(1, 1000)),
    "degF": ("temperature", "degree_Fahrenheit", Fraction(5, 9)),
    "degC": ("temperature", "degree_Celsius", Fraction(1)),
    "delta_degF": ("temperature_difference", "delta_degree_Fahrenheit", Fraction(5, 9)),
    "delta_degC": ("temperature_difference", "delta_degree_Celsius", Fraction(1)),
    "min": ("time", "minute", Fraction(60)),
    "h": ("time", "hour", Fraction(3600)),
    "percent": ("fraction", "percent", Fraction(1, 100)),
    "deg": ("angle", "degree", Fraction(1)),
    "mph": ("speed", "mile / hour", 63_360 * _INCH / 3600),
    "km/h": ("speed", "kilometer / hour", Fraction(1000, 3600)),
    "ft^2/gal": ("coverage", "foot ** 2 / US_liquid_gallon", (12 * _INCH) ** 2 / _GALLON),
    "m^2/L": ("coverage", "meter ** 2 / liter", Fraction(1000)),
    "g/m^2": ("areal_mass", "gram / meter ** 2", Fraction(1, 1000)),
    "kg/m^3": ("density", "kilogram / meter ** 3", Fraction(1)),
    "ft^2/min": ("work_rate", "foot ** 2 / minute", (12 * _INCH) ** 2 / 60),
    "m^2/min": ("work_rate", "meter ** 2 / minute", Fraction(1, 60)),
    "1": ("count", "dimensionless", Fraction(1)),
}

UNITS: Final[Mapping[str, str]] = MappingProxyType({u: kind for u, (kind, _, _) in _LIST.items()})
"""Closed unit -> dimension. No other unit is read, computed with or shown."""

DIMENSIONS: Final[frozenset[str]] = frozenset(UNITS.values())

# A film is a length one may convert, but it is asked for, read and shown as a dimension of its own.
_SAME_MEASURE: Final[dict[str, str]] = {"film": "length"}

# dimension: (shown to US readers, shown to SI readers); what is missing is shown as it comes
_SHOWN_IN: Final[dict[str, tuple[str, str]]] = {
    "length": ("in", "mm"),
    "film": ("mil", "um"),
    "area": ("ft^2", "m^2"),
    "volume": ("gal", "L"),
    "mass": ("lb", "kg"),
    "temperature": ("degF", "degC"),
    "temperature_difference": ("delta_degF", "delta_degC"),
    "speed": ("mph", "km/h"),
    "coverage": ("ft^2/gal", "m^2/L"),
    "work_rate": ("ft^2/min", "m^2/min"),
}

# Beyond this no roof has a quantity, and floats no longer hold the eighths of an inch.
_LARGEST: Final = 1e12


def dimension(unit: str) -> str:
    """Name the dimension of a closed unit.

    >>> dimension("mil"), dimension("in")
    ('film', 'length')

    Raises UnitFault for a unit outside the closed list.
    """
    try:
        return UNITS[unit]
    except (KeyError, TypeError):
        raise UnitFault(
            f"{str(unit)[:40]!r} is not a unit of the closed list: {' '.join(UNITS)}"
        ) from None


def pint_unit(unit: str) -> pint.Unit:
    """Give pint's unit for a closed unit; for proving dimensions.

    Raises UnitFault for a unit outside the closed list.
    """
    dimension(unit)
    return registry().Unit(_LIST[unit][1])


def _measure(unit: str) -> str:
    return _SAME_MEASURE.get(UNITS[unit], UNITS[unit])


# degF counts from 32 below the freezing point that degC counts from
_ZERO: Final[dict[str, Fraction]] = {"degF": Fraction(-160, 9)}


def _factors() -> dict[tuple[str, str], tuple[float, float, float]]:
    """Work out ``(unit, to) -> (num, off, den)`` with result = (value * num + off) / den."""
    table: dict[tuple[str, str], tuple[float, float, float]] = {}
    for unit in UNITS:
        for to in UNITS:
            if _measure(unit) != _measure(to):
                continue
            slope = _LIST[unit][2] / _LIST[to][2]
            zero = (_ZERO.get(unit, Fraction(0)) - _ZERO.get(to, Fraction(0))) / _LIST[to][2]
            den = lcm(slope.denominator, zero.denominator)
            table[unit, to] = (float(slope * den), float(zero * den), float(den))
    return table


_TABLE: Final = _factors()


def convert(value: float, unit: str, to: str) -> float:
    """Convert a plain float from one closed unit to another.

    Parameters: value in `unit`; `unit` and `to` closed units of one dimension (length and film
    convert into each other; a temperature and a temperature difference never do).
    Raises UnitFault for an unknown unit and for units of different dimensions.

    >>> convert(1, "in", "mil")
    1000.0
    >>> convert(3, "delta_degC", "delta_degF")
    5.4
    """
    found = _TABLE.get((unit, to))
    if found is None:
        raise UnitFault(f"{dimension(unit)} in {unit} can't be turned into {dimension(to)} in {to}")
    num, off, den = found
    return (value * num + off) / den


def system_unit(unit: str, system: str) -> str:
    """Name the unit in which a value held in `unit` is shown to readers of `system` (us or si).

    >>> system_unit("in^2", "us"), system_unit("in^3", "si")
    ('ft^2', 'L')

    Raises UnitFault for an unknown unit or system.
    """
    if system not in ("us", "si"):
        raise UnitFault(f'units are "us" or "si", not {str(system)[:20]!r}')
    us, si = _SHOWN_IN.get(dimension(unit), (unit, unit))
    return us if system == "us" else si


def quantity(value: float, unit: str, system: str, style: str | None = None) -> Quantity:
    """Turn an inner number into what an answer carries.

    Parameters: value in the closed unit `unit`; `system` is "us" or "si"; `style` rounds the text:
    None to the nearest, "down" and "up" to the safe side of a limit, "up-quarter" up to the next
    1/4 in (5 mm) for pieces that will be cut, "run" up to feet and inches (10 mm) for what comes
    off a roll, "full-hour" down to a full hour. The value itself is never rounded.
    Raises UnitFault for an unknown unit, system or style, and for what is not a finite number.

    >>> quantity(8.5, "in", "us")["text"].replace(chr(0xA0), " ")
    '8 1/2 in'
    >>> quantity(190.08, "in^2", "si")["text"].replace(chr(0xA0), " ")
    '0.123 m²'
    """
    to = system_unit(unit, system)
    if style is not None and style not in showing.STYLES:
        raise UnitFault(f"no rounding style {style!r}: {', '.join(showing.STYLES)}")
    meant = showing.STYLES_OF.get(str(style))
    if meant is not None and UNITS[to] != meant:
        raise UnitFault(f'"{style}" is for {meant}, not for {UNITS[to]}')
    shown = convert(value, unit, to)
    if not isfinite(shown) or abs(shown) > _LARGEST:
        raise UnitFault(f"{value!r} {unit} is not a quantity that can be shown")
    return {"value": shown, "unit": to, "text": showing.text(shown, to, style)}
