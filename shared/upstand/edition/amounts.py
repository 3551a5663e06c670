"""Amounts as spec data writes them: a number, one space, a unit of the closed list.

Narrower than what a caller may type (``notation``): data has one way to write a thing.
"""

from __future__ import annotations

import functools
import re

from upstand.quantity.units import UNITS, convert

__all__ = ["AmountFault", "amount", "amount_in", "write"]

_TEXT = re.compile(
    r"(?P<sign>-?)(?:(?P<number>[0-9]{1,12}(?:\.[0-9]{1,12})?)"
    r"|(?:(?P<whole>[0-9]{1,6}) )?(?P<top>[0-9]{1,6})/(?P<bottom>[0-9]{1,6}))"
    r" (?P<unit>[A-Za-z0-9_/^]{1,12})",
    re.ASCII,
)


class AmountFault(ValueError):
    """An amount that cannot be read; the message says how to write it."""


@functools.lru_cache(maxsize=8192)
def _read(text: str) -> tuple[float, str]:
    match = _TEXT.fullmatch(text)
    if match is None:
        raise AmountFault(
            f'{text!r} is not an amount; write number, space, unit: "8 1/2 in", "25 min"'
        )
    unit = match["unit"]
    if unit not in UNITS:
        raise AmountFault(f"{unit!r} is not a unit of the list")
    if match["number"]:
        number = float(match["number"])
    else:
        bottom = int(match["bottom"])
        if bottom == 0:
            raise AmountFault(f"{text!r} divides by zero")
        number = int(match["whole"] or 0) + int(match["top"]) / bottom
    return (-number if match["sign"] else number), unit


def amount(node: object) -> tuple[float, str]:
    """Return (number, unit) of an amount as written; a plain number is a count, unit ``1``.

    >>> amount("8 1/2 in"), amount("5.4 delta_degF"), amount(24)
    ((8.5, 'in'), (5.4, 'delta_degF'), (24.0, '1'))
    """
    if isinstance(node, bool):
        raise AmountFault("is true or false where an amount is meant")
    if isinstance(node, (int, float)):
        return float(node), "1"
    if isinstance(node, str):
        return _read(node)
    raise AmountFault('is not an amount; write number, space, unit: "8 in", "25 min"')


def amount_in(node: object, unit: str) -> float:
    """Return the amount as a number of ``unit``; raises if the units do not convert.

    >>> amount_in("1/2 in", "in")
    0.5
    """
    number, written = amount(node)
    return number if written == unit else convert(number, written, unit)


def write(number: float, unit: str) -> str:
    """Return an amount as data writes it.

    >>> write(40.0, "mil"), write(0.25, "in")
    ('40 mil', '0.25 in')
    """
    shown = f"{number:.12g}"
    return shown if unit == "1" else f"{shown} {unit}"
