"""Text of a quantity: how numbers in closed units are written for people.

Rounding is by floor alone (`nearest`, `down`, `up`), because Python's round() goes half to even
and JavaScript's half up: the same rules can be repeated in a browser to the last digit.
Number and unit are joined by a no-break space, so that they never part at a line's end.
"""

from __future__ import annotations

from collections.abc import Callable
from math import ceil, floor
from typing import Final

STYLES: Final = ("down", "up", "up-quarter", "run", "full-hour")

#: Styles that are for one dimension alone.
STYLES_OF: Final[dict[str, str]] = {"up-quarter": "length", "run": "length", "full-hour": "time"}

NBSP: Final = "\u00a0"

# A piece of 8 in that floats made 8.0000000001 in is not cut at 8 1/4 in.
_SLACK: Final = 1e-6

_QUART: Final = 0.25

Rounder = Callable[[float], int]


def nearest(steps: float) -> int:
    """Round a number of steps to a whole one, halves up: floor(steps + 0.5)."""
    return floor(steps + 0.5)


def down(steps: float) -> int:
    """Round a number of steps down, forgiving a float that fell just short of a whole step."""
    return floor(steps + _SLACK)


def up(steps: float) -> int:
    """Round a number of steps up, forgiving a float that is just over a whole step."""
    return ceil(steps - _SLACK)


_ROUNDERS: Final[dict[str | None, Rounder]] = {
    None: nearest,
    "down": down,
    "up": up,
    "up-quarter": up,
    "run": up,
    "full-hour": down,
}


def _decimal(steps: int, decimals: int) -> str:
    """Write steps of 10**-decimals, thousands by commas, no zeros left hanging at the end."""
    sign = "-" if steps < 0 else ""
    whole, rest = divmod(abs(steps), 10**decimals)
    tail = f"{rest:0{decimals}d}".rstrip("0") if decimals else ""
    return f"{sign}{whole:,}" + (f".{tail}" if tail else "")


def fixed(value: float, decimals: int, rounder: Rounder = nearest) -> str:
    """Write a number to at most so many decimals.

    >>> fixed(5.4, 1), fixed(72.0, 1), fixed(1016.0, 0)
    ('5.4', '72', '1,016')
    """
    return _decimal(rounder(value * 10**decimals), decimals)


def significant(value: float, digits: int, rounder: Rounder = nearest) -> str:
    """Write a number to so many significant digits.

    >>> significant(1.3194, 3), significant(1604.17, 3), significant(0.14799, 3)
    ('1.32', '1,600', '0.148')
    """
    size, decimals = abs(value), digits - 1
    if size < 1e-9:
        return "0"
    while size >= 10.0:
        size, decimals = size / 10.0, decimals - 1
    while size < 1.0:
        size, decimals = size * 10.0, decimals + 1
    if decimals >= 0:
        return _decimal(rounder(value * 10**decimals), decimals)
    return _decimal(rounder(value / 10**-decimals) * 10**-decimals, 0)


def _measure(value: float, rounder: Rounder) -> str:
    """Write fluid ounces or millilitres: whole from 10 up, two significant digits under."""
    return fixed(value, 0, rounder) if abs(value) >= 9.95 else significant(value, 2, rounder)


def _inches(value: float, style: str | None) -> str:
    parts = 8
    if style == "up-quarter":
        parts = 4
    elif style is None and abs(value) < 1.0 and value * 16.0 == floor(value * 16.0):
        parts = 16  # a stated 3/16 in of steel is not shown as 1/4 in
    steps = _ROUNDERS[style](value * parts)
    if style is None and steps == 0:
        return significant(value, 2)  # 0.036 in of fleece is not nothing
    sign = "-" if steps < 0 else ""
    whole, rest = divmod(abs(steps), parts)
    while rest and rest % 2 == 0:
        rest, parts = rest // 2, parts // 2
    if not rest:
        return f"{sign}{whole:,}"
    return f"{sign}{whole:,}{NBSP}{rest}/{parts}" if whole else f"{sign}{rest}/{parts}"


def _run(inches: float) -> str:
    """Write a length that comes off a roll: feet and whole inches, rounded up."""
    feet, rest = divmod(up(inches), 12)
    if not feet:
        return f"{rest}{NBSP}in"
    return f"{feet:,}{NBSP}ft" + (f"{NBSP}{rest}{NBSP}in" if rest else "")


# millimetres that a tape or a pair of scissors can be set to, by style
_STEPS: Final[dict[str | None, int]] = {"up-quarter": 5, "run": 10}


def _length(value: float, unit: str, style: str | None) -> str:
    if unit == "in":
        return _run(value) if style == "run" else f"{_inches(value, style)}{NBSP}in"
    step = _STEPS.get(style, 1)
    number = _decimal(_ROUNDERS[style](value / step) * step, 0)
    if style is None and number == "0":
        number = significant(value, 2)
    return f"{number}{NBSP}mm"


def _volume(value: float, unit: str, rounder: Rounder) -> str:
    number = significant(value, 3, rounder)
    if unit == "gal":
        if number == "0" or not abs(value) < 1.0 or number in ("1", "-1"):
            return f"{number}{NBSP}gal"
        ounces = f"{_measure(value * 128.0, rounder)}{NBSP}fl{NBSP}oz"
        if abs(value) < _QUART:  # a cup has ounces on it
            return f"{ounces} ({number}{NBSP}gal)"
        return f"{number}{NBSP}gal ({ounces})"
    small = _measure(value * 1000.0, rounder)
    if number == "0" or not abs(value) < 1.0 or small in ("1,000", "-1,000"):
        return f"{number}{NBSP}L"
    return f"{small}{NBSP}ml"


def _time(minutes: float, style: str | None) -> str:
    """Write a time: rounded to the safe side it is whole minutes, beyond an hour half hours."""
    rounder = _ROUNDERS[style]
    if style is None and abs(minutes) < 20.0:
        return f"{fixed(minutes, 1)}{NBSP}min"
    step = 1 if style is None or abs(minutes) <= 60.0 else 60 if style == "full-hour" else 30
    whole = rounder(minutes / step) * step
    if abs(whole) < 120:
        return f"{whole}{NBSP}min"
    sign = "-" if whole < 0 else ""
    hours, rest = divmod(abs(whole), 60)
    text = f"{sign}{hours:,}{NBSP}h"
    return f"{text}{NBSP}{rest}{NBSP}min" if rest else text


def _film(value: float, unit: str, rounder: Rounder) -> str:
    if unit == "um":
        step = 10 if abs(value) >= 100.0 else 1  # no gauge has a finer tooth
        return f"{_decimal(rounder(value / step) * step, 0)}{NBSP}µm"
    return f"{fixed(value, 1 if abs(value) < 10.0 else 0, rounder)}{NBSP}mil"


# closed unit: (sign written, None for so many significant digits or the decimals kept)
_PLAIN: Final[dict[str, tuple[str, int | None]]] = {
    "ft^2": ("sq ft", None),
    "m^2": ("m²", None),
    "lb": ("lb", None),
    "kg": ("kg", None),
    "degF": ("°F", 1),
    "degC": ("°C", 1),
    "delta_degF": ("°F", 1),
    "delta_degC": ("°C", 1),
    "percent": ("%", 1),
    "mph": ("mph", 1),
    "km/h": ("km/h", 1),
    "ft^2/gal": ("sq ft/gal", None),
    "m^2/L": ("m²/L", None),
    "g/m^2": ("g/m²", None),
    "kg/m^3": ("kg/m³", None),
    "ft^2/min": ("sq ft/min", None),
    "m^2/min": ("m²/min", None),
}


def text(value: float, unit: str, style: str | None = None) -> str:
    """Write a finite value held in one of the units that answers are shown in.

    Parameters: value in `unit`, a unit that `units.system_unit` gives; style as in
    `units.quantity`. Raises KeyError for another unit or style.
    """
    rounder = _ROUNDERS[style]
    if unit in ("in", "mm"):
        return _length(value, unit, style)
    if unit in ("mil", "um"):
        return _film(value, unit, rounder)
    if unit in ("gal", "L"):
        return _volume(value, unit, rounder)
    if unit in ("min", "h"):
        return _time(value * 60.0 if unit == "h" else value, style)
    if unit == "deg":
        return f"{fixed(value, 1, rounder)}°"
    if unit == "1":
        whole = abs(value) >= 100.0
        return fixed(value, 0, rounder) if whole else significant(value, 3, rounder)
    sign, decimals = _PLAIN[unit]
    sign = NBSP + sign.replace(" ", NBSP)
    if decimals is None:
        return significant(value, 3, rounder) + sign
    return fixed(value, decimals, rounder) + sign
