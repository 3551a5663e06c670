"""The closed grammar for quantities typed by people: `8 1/2 in`, `2'-6 1/2"`, `72 F`, `55 %`.

Text is bounded first (40 characters, 24 digits), then read by a few patterns without repetition
inside repetition, then looked up in closed tables. It never reaches pint, eval or float("...").

    quantity = [sign] number [space] unit
             | whole larger-unit [space] [-] [space] number smaller-unit     (ft and in, h and min)
    number   = whole (space | -) fraction | fraction | decimal | whole
    whole    = digits, also with thousands commas; fraction = digits / digits

>>> read("8 1/2 in", "length")
Reading(value=8.5, unit='in', text='8 1/2 in')
>>> read("8", "length")
Traceback (most recent call last):
...
upstand.quantity.typed.NotationFault: is 8 inches or millimeters? write "8 in" or "8 mm"
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import Final

from upstand.quantity.spellings import BARE, COMPOUNDS, EXAMPLES, LIMITS, SPELLINGS
from upstand.quantity.units import DIMENSIONS, UNITS, UnitFault, convert, quantity
from upstand.telling.said import Or, Said, say

LONGEST: Final = 40
MOST_DIGITS: Final = 24

_SIGNS: Final = str.maketrans(
    {
        "\u00a0": " ", "\u202f": " ", "\t": " ",  # no-break spaces and tab
        "\u00b0": "deg", "\u00ba": "deg",  # degree sign, and the ordinal keyboards offer for it
        "\u2033": '"', "\u201d": '"', "\u2032": "'", "\u2019": "'",  # primes and curly quotes
        "\u00b5": "u", "\u03bc": "u",  # micro sign and Greek mu
        "\u00b2": "^2", "\u00b3": "^3", "\u2212": "-",
    }
)  # fmt: skip

_WHOLE: Final = r"(?:\d{1,3}(?:,\d{3})+|\d+)"
_NUMBER: Final = re.compile(
    rf"(?P<whole>{_WHOLE})(?P<point>\.\d+)?(?![\d,.])(?:(?P<gap>[ -])(?P<top>\d+)/(?P<low>\d+))?"
    r"|(?P<dot>\.\d+)",
    re.ASCII,
)
_FRACTION: Final = re.compile(r"(?P<top>\d+)/(?P<low>\d+)(?![\d/,.])", re.ASCII)
_LARGER: Final = re.compile(r"(?P<unit>[a-z']+)\.? ?-? ?(?=[\d.])", re.ASCII)
_DOT: Final = re.compile(r"(?<=[a-z])\.")


class NotationFault(ValueError):
    """Text that the grammar refuses; `message` says what was wrong and what is accepted."""

    def __init__(self, message: Said) -> None:
        """Keep the message, in words of the trade."""
        super().__init__(message)
        self.message = message


@dataclass(frozen=True, slots=True)
class Reading:
    """A quantity as read: value in a closed unit, and the text as it was typed."""

    value: float
    unit: str
    text: str


def accepted(dimension: str) -> Said:
    """Say how a quantity of this dimension is written.

    >>> accepted("temperature")
    'write a temperature as "72 F" or "22 C"'
    """
    examples = EXAMPLES[dimension]
    return say("quantity-how", examples, name=_named(dimension), examples=_either(examples))


def read(text: str, dimension: str, *, signed: bool = False) -> Reading:
    """Read a typed quantity of a known dimension.

    Parameters: text as typed; dimension one of `units.DIMENSIONS`; `signed` lets a position or an
    offset be negative (temperatures, their differences and angles may always be).
    Raises NotationFault, whose message says what is accepted, and UnitFault for a dimension that
    does not exist.

    >>> read("1 qt", "volume").value
    0.25
    """
    if dimension not in DIMENSIONS:
        raise UnitFault(f"no dimension {dimension!r}: {', '.join(sorted(DIMENSIONS))}")
    if not isinstance(text, str) or len(text) > LONGEST:
        _plain(text, dimension)  # raises: it is no quantity, and too long to be kept
    return _read(text, dimension, signed)


@lru_cache(maxsize=4096)
def _read(text: str, dimension: str, signed: bool) -> Reading:
    """Read what is short enough to be one; kept, since questions repeat the same sizes."""
    plain = _plain(text, dimension)
    value, unit = _parse(plain, dimension)
    _bounded(value, unit, dimension, signed)
    return Reading(value, unit, text)


def _named(dimension: str) -> Said:
    return say(f"name-{dimension}")


def _either(examples: tuple[str, ...]) -> Or:
    return Or(f'"{example}"' for example in examples)


def _echo(text: str) -> str:
    """Quote what was typed, short and without control characters."""
    shown = "".join(c if c.isprintable() else "?" for c in text[:LONGEST])
    return f'"{shown}"' if len(text) <= LONGEST else f'"{shown[:20]}..."'


def _bare(number: str, dimension: str) -> NotationFault:
    if dimension not in BARE:
        return NotationFault(say("no-unit", number=number, how=accepted(dimension)))
    ways = tuple(f"{number} {unit}" for unit in BARE[dimension])
    meanings = say(f"bare-{dimension}")
    return NotationFault(
        say("bare-number", ways, number=number, meanings=meanings, ways=_either(ways))
    )


def _plain(text: object, dimension: str) -> str:
    """Bound the text, then bring it to lower-case ASCII with single spaces."""
    if not isinstance(text, str):
        if isinstance(text, int | float) and not isinstance(text, bool) and abs(text) < 1e12:
            raise _bare(f"{text}", dimension)
        raise NotationFault(say("quantity-not-text", how=accepted(dimension)))
    if len(text) > LONGEST:
        raise NotationFault(
            say(
                "quantity-too-long",
                length=str(len(text)),
                most=str(LONGEST),
                how=accepted(dimension),
            )
        )
    plain = " ".join(part for part in text.translate(_SIGNS).split(" ") if part)
    if not plain:
        raise NotationFault(say("quantity-empty", how=accepted(dimension)))
    for sign in plain:
        if not " " <= sign <= "~":
            how = say("fraction-how") if sign in "½¼¾⅛⅜⅝⅞" else accepted(dimension)
            raise NotationFault(say("quantity-sign", text=_echo(text), sign=_echo(sign), how=how))
    if sum(c.isdigit() for c in plain) > MOST_DIGITS + plain.count("^"):
        raise NotationFault(
            say("quantity-digits", text=_echo(text), most=str(MOST_DIGITS), how=accepted(dimension))
        )
    return plain.lower()


def _ratio(top: str, low: str, whole: str | None, dimension: str) -> Fraction:
    typed = f"{whole} {top}/{low}" if whole else f"{top}/{low}"
    if int(low) == 0:
        raise NotationFault(say("quantity-by-zero", text=typed, how=accepted(dimension)))
    if whole and int(top) >= int(low):
        raise NotationFault(say("quantity-fraction", text=typed))
    return Fraction(int(top), int(low))


def _no_number(plain: str, body: str, dimension: str) -> NotationFault:
    if re.match(r"\d+,\d", body, re.ASCII):
        return NotationFault(say("quantity-comma", text=_echo(plain)))
    return NotationFault(say("quantity-start", text=_echo(plain), how=accepted(dimension)))


def _number(plain: str, dimension: str) -> tuple[Fraction, str, str]:
    """Split off the leading number: (value, number as typed, what follows)."""
    body = plain
    negative = body[0] == "-"
    if body[0] in "+-":
        body = body[1:].lstrip(" ")
    found = _FRACTION.match(body)
    if found:
        value = _ratio(found["top"], found["low"], None, dimension)
    else:
        found = _NUMBER.match(body)
        if not found:
            raise _no_number(plain, body, dimension)
        if found["dot"]:
            value = Fraction(f"0{found['dot']}")
        else:
            value = Fraction(found["whole"].replace(",", "") + (found["point"] or ""))
        if found["top"]:
            if found["point"]:
                raise NotationFault(say("quantity-mixed", text=_echo(plain)))
            value += _ratio(found["top"], found["low"], found["whole"], dimension)
    rest = body[found.end() :]
    if rest[:1] in ("/", ",", ".") or rest[:1].isdigit():
        raise NotationFault(say("quantity-not-one", text=_echo(plain), how=accepted(dimension)))
    sign = "-" if negative else ""
    return -value if negative else value, sign + body[: found.end()], rest.strip()


def _spelling(rest: str) -> str:
    """Bring a unit to the form of the tables: no dots after letters, `/` for "per"."""
    return _DOT.sub("", rest).replace(" per ", "/").replace(" / ", "/").strip()


def _halves(rest: str, dimension: str) -> tuple[str, str] | None:
    """Split what follows a first number and its larger unit: second number, smaller unit."""
    larger, smaller, _ = COMPOUNDS[dimension]
    first = _LARGER.match(rest)
    if not first or first["unit"] not in larger:
        return None
    try:
        _, number, unit = _number(rest[first.end() :], dimension)
    except NotationFault:
        return None
    unit = _spelling(unit)
    return (number, unit) if unit in smaller else None


def _parse(plain: str, dimension: str) -> tuple[float, str]:
    value, typed, rest = _number(plain, dimension)
    name = _spelling(rest)
    known = SPELLINGS[dimension].get(name)
    if known:
        unit, factor = known
        return float(value * factor), unit
    halves = _halves(rest, dimension) if dimension in COMPOUNDS else None
    if halves:
        number, smaller = halves
        many = COMPOUNDS[dimension][2]
        second, _, _ = _number(number, dimension)
        if value.denominator != 1 or "/" in typed:
            raise NotationFault(say("quantity-first", text=_echo(plain)))
        if second >= many:
            raise NotationFault(say("quantity-second", text=_echo(plain), many=str(many)))
        total = abs(value) * many + second
        return float(-total if plain[0] == "-" else total), SPELLINGS[dimension][smaller][0]
    if not name or (name == "deg" and dimension.startswith("temperature")):
        raise _bare(typed, dimension)
    if name in ("oz", "ounce", "ounces") and dimension == "volume":
        raise NotationFault(say("bare-ounces", (f"{typed} fl oz",), number=typed))
    for other, spellings in SPELLINGS.items():
        if name in spellings:
            name, how = _named(other), accepted(dimension)
            raise NotationFault(say("quantity-other", text=_echo(plain), name=name, how=how))
    raise NotationFault(say("quantity-not-one", text=_echo(plain), how=accepted(dimension)))


def _bounded(value: float, unit: str, dim: str, signed: bool) -> None:
    least, most, limit_unit = LIMITS[dim]
    if signed:
        least = -most
    same = convert(value, unit, limit_unit)
    if same < least:
        if least == 0.0:
            raise NotationFault(say("quantity-negative", name=_named(dim), how=accepted(dim)))
        raise NotationFault(
            say("quantity-least", name=_named(dim), limit=_limit(least, limit_unit))
        )
    if same > most:
        raise NotationFault(say("quantity-most", name=_named(dim), limit=_limit(most, limit_unit)))


def _limit(value: float, unit: str) -> str:
    if unit == "ft":
        return f"{value:,.0f} ft"
    us = quantity(value, unit, "us")
    if UNITS[unit] == "time":
        return f"{value:,.0f} h"
    return us["text"].replace("\u00a0", " ")
