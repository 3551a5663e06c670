"""What the closed grammar of `notation` knows: spellings of units, examples and ceilings.

Every spelling is lower case and ASCII; `notation` brings the typed text to that form first.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction
from types import MappingProxyType
from typing import Final

Spellings = Mapping[str, tuple[str, Fraction]]
"""Spelling -> (closed unit, factor by which the typed number is multiplied)."""


def _table(*rows: tuple[Iterable[str], str, Fraction | int]) -> dict[str, tuple[str, Fraction]]:
    return {name: (unit, Fraction(factor)) for names, unit, factor in rows for name in names}


def _split(words: str) -> list[str]:
    return [word.strip() for word in words.split(",")]


_FEET = _split("', ft, foot, feet, pie, pies")
_INCHES = _split('", in, inch, inches, pulg, pulgada, pulgadas')
_SQ_FEET = _split("ft^2, ft2, sq ft, sqft, sf, square foot, square feet")
_SQ_INCHES = _split("in^2, in2, sq in, sqin, square inch, square inches")
_SQ_METRES = _split("m^2, m2, sq m, sqm, square metre, square metres, square meter, square meters")
_GALLONS = _split("gal, gals, gallon, gallons, galon, galones")
_LITRES = _split("l, litre, litres, liter, liters, litro, litros")
_MINUTES = _split("min, mins, minute, minutes, minuto, minutos")
_HOURS = _split("h, hr, hrs, hour, hours, hora, horas")
_FAHRENHEIT = _split("f, degf, deg f, degree f, degrees f, fahrenheit, degrees fahrenheit")
_CELSIUS = _split("c, degc, deg c, degree c, degrees c, celsius, degrees celsius")


def _per(above: Iterable[str], below: Iterable[str]) -> list[str]:
    under = list(below)
    return [f"{a}/{b}" for a in above for b in under]


SPELLINGS: Final[Mapping[str, Spellings]] = MappingProxyType(
    {
        "length": _table(
            (_INCHES, "in", 1),
            (_FEET, "ft", 1),
            (_split("yd, yds, yard, yards"), "ft", 3),
            (_split("mm, millimetre, millimetres, millimeter, millimeters"), "mm", 1),
            (_split("cm, centimetre, centimetres, centimeter, centimeters"), "mm", 10),
            (_split("m, metre, metres, meter, meters"), "m", 1),
        ),
        "film": _table(
            (_split("mil, mils, thou"), "mil", 1),
            (
                _split("um, micron, microns, micrometre, micrometres, micrometer, micrometers"),
                "um",
                1,
            ),
            (_split("mm, millimetre, millimetres, millimeter, millimeters"), "um", 1000),
        ),
        "area": _table((_SQ_INCHES, "in^2", 1), (_SQ_FEET, "ft^2", 1), (_SQ_METRES, "m^2", 1)),
        "volume": _table(
            (_GALLONS, "gal", 1),
            (_split("qt, qts, quart, quarts"), "gal", Fraction(1, 4)),
            (_split("pt, pts, pint, pints"), "gal", Fraction(1, 8)),
            (_split("fl_oz, fl oz, floz, fluid ounce, fluid ounces"), "fl_oz", 1),
            (_split("in^3, in3, cu in, cubic inch, cubic inches"), "in^3", 1),
            (_LITRES, "L", 1),
            (_split("ml, millilitre, millilitres, milliliter, milliliters"), "ml", 1),
        ),
        "mass": _table(
            (_split("lb, lbs, pound, pounds, libra, libras"), "lb", 1),
            (_split("oz, ounce, ounces"), "lb", Fraction(1, 16)),
            (_split("kg, kilo, kilos, kilogram, kilograms"), "kg", 1),
            (_split("g, gram, grams"), "g", 1),
        ),
        "temperature": _table((_FAHRENHEIT, "degF", 1), (_CELSIUS, "degC", 1)),
        "temperature_difference": _table(
            (["delta_degf", *_FAHRENHEIT], "delta_degF", 1),
            (["delta_degc", *_CELSIUS], "delta_degC", 1),
        ),
        "time": _table(
            (_MINUTES, "min", 1), (_HOURS, "h", 1), (_split("day, days, dia, dias"), "h", 24)
        ),
        "fraction": _table((_split("%, percent, per cent, pct, por ciento"), "percent", 1)),
        "angle": _table((_split("deg, degree, degrees, grado, grados"), "deg", 1)),
        "speed": _table(
            (_split("mph, mi/h, mile/hour, miles/hour"), "mph", 1),
            (_split("km/h, kmh, kph"), "km/h", 1),
            (_split("m/s"), "km/h", Fraction(18, 5)),
        ),
        "coverage": _table(
            (_per(_SQ_FEET, _GALLONS), "ft^2/gal", 1),
            (_per(_SQ_METRES, _LITRES), "m^2/L", 1),
        ),
        "areal_mass": _table((_per(_split("g, gram, grams"), _SQ_METRES), "g/m^2", 1)),
        "density": _table((_split("kg/m^3, kg/m3"), "kg/m^3", 1)),
        "work_rate": _table(
            (_per(_SQ_FEET, _MINUTES), "ft^2/min", 1), (_per(_SQ_METRES, _MINUTES), "m^2/min", 1)
        ),
        "count": _table(([""], "1", 1)),
    }
)

EXAMPLES: Final[Mapping[str, tuple[str, ...]]] = MappingProxyType(
    {
        "length": ("8 1/2 in", "2'-6 1/2\"", "1.5 ft", "216 mm"),
        "film": ("40 mil", "1000 um"),
        "area": ("12.5 sq ft", "1.2 m^2"),
        "volume": ("1 gal", "19 fl oz", "3.8 L", "560 ml"),
        "mass": ("2 lb", "0.9 kg"),
        "temperature": ("72 F", "22 C"),
        "temperature_difference": ("5 F", "3 C"),
        "time": ("30 min", "2 h", "2 h 30 min"),
        "fraction": ("55 %",),
        "angle": ("90 deg",),
        "speed": ("12 mph", "20 km/h"),
        "coverage": ("200 sq ft/gal", "5 m^2/L"),
        "areal_mass": ("165 g/m^2",),
        "density": ("1380 kg/m^3",),
        "work_rate": ("10 sq ft/min",),
        "count": ("3",),
    }
)

BARE: Final[Mapping[str, tuple[str, ...]]] = MappingProxyType(
    {
        "length": ("in", "mm"),
        "film": ("mil", "um"),
        "area": ("sq ft", "m^2"),
        "volume": ("gal", "L"),
        "mass": ("lb", "kg"),
        "temperature": ("F", "C"),
        "temperature_difference": ("F", "C"),
        "time": ("min", "h"),
        "fraction": ("%",),
        "angle": ("deg",),
        "speed": ("mph", "km/h"),
        "coverage": ("sq ft/gal", "m^2/L"),
        "areal_mass": ("g/m^2",),
        "density": ("kg/m^3",),
        "work_rate": ("sq ft/min", "m^2/min"),
    }
)
"""The units in which a bare number might be meant."""

LIMITS: Final[Mapping[str, tuple[float, float, str]]] = MappingProxyType(
    {
        "length": (0.0, 1000.0, "ft"),
        "film": (0.0, 1000.0, "mil"),
        "area": (0.0, 1_000_000.0, "ft^2"),
        "volume": (0.0, 10_000.0, "gal"),
        "mass": (0.0, 100_000.0, "lb"),
        "temperature": (-150.0, 1000.0, "degF"),
        "temperature_difference": (-1000.0, 1000.0, "delta_degF"),
        "time": (0.0, 10_000.0, "h"),
        "fraction": (0.0, 1000.0, "percent"),
        "angle": (-360.0, 360.0, "deg"),
        "speed": (0.0, 200.0, "mph"),
        "coverage": (0.0, 10_000.0, "ft^2/gal"),
        "areal_mass": (0.0, 10_000.0, "g/m^2"),
        "density": (0.0, 25_000.0, "kg/m^3"),
        "work_rate": (0.0, 10_000.0, "ft^2/min"),
        "count": (0.0, 1_000_000.0, "1"),
    }
)
"""Floor and ceiling of each dimension, in the unit named: what no roof reaches is a slip."""

COMPOUNDS: Final[Mapping[str, tuple[frozenset[str], frozenset[str], int]]] = MappingProxyType(
    {
        "length": (frozenset(_FEET), frozenset(_INCHES), 12),
        "time": (frozenset(_HOURS), frozenset(_MINUTES), 60),
    }
)
"""Two parts read as one: spellings of the larger unit, of the smaller, how many make one."""
