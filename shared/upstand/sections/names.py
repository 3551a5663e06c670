"""What a designation says: the family of a shape and its numbers, however it is typed.

Case, spaces, ``x`` and ``×``, fractions and decimals, inch marks and the trade's other words for a
family don't matter: ``L2-1/2x2x1/4``, ``l 2.5 x 2 × 0.25`` and ``angle 2 1/2 x 2 x 1/4`` are one.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from types import MappingProxyType
from typing import NamedTuple

LONGEST = 40

#: The family of what is called by two bare numbers, such as 2x4.
LUMBER = "LUMBER"
PIPE = "PIPE"

#: Words before or after the numbers -> the family they mean.
CALLED: Mapping[str, str] = MappingProxyType(
    {
        **{name: name for name in ("L", "W", "S", "M", "HP", "C", "MC", "WT", "MT", "ST", "HSS")},
        **{name: name for name in ("EMT", "IMC", "RMC", PIPE, LUMBER)},
        "": LUMBER,
        "ANGLE": "L",
        "TS": "HSS",
        "TUBE": "HSS",
        "GRC": "RMC",
        "RIGID": "RMC",
        "NOM": LUMBER,
        "NOMINAL": LUMBER,
        "NPS": PIPE,
    }
)
WALLS: Mapping[str, str] = MappingProxyType(
    {
        **{name: name for name in ("STD", "XS", "XXS", "SCH40", "SCH80")},
        "STANDARD": "STD",
        "SCHEDULE40": "SCH40",
        "SCHEDULE80": "SCH80",
    }
)

_NUMBER = re.compile(
    r"(?:(?P<whole>[0-9]{1,4})[- ])?(?P<top>[0-9]{1,4})/(?P<bottom>[0-9]{1,4})"
    r"|(?P<plain>[0-9]{0,4}\.[0-9]{1,4}|[0-9]{1,4}\.?)",
    re.ASCII,
)
_SHAPE = re.compile(
    r"(?P<before>[A-Z]*(?: [A-Z]+)?) ?(?P<size>[0-9.][0-9./ X-]*?)"
    r" ?(?P<after>(?:XX?S|[A-WYZ])[A-Z0-9 ]*|)",
    re.ASCII,
)
_SIZE = re.compile(r"(?:NPS ?)?(?P<size>[0-9./ -]{1,12}?) ?(?:IN|\")?", re.ASCII)
_INCHES = re.compile(r"\"| ?\bINCH(?:ES)?\b| ?\bIN\b", re.ASCII)
_WALL = re.compile(r"\b(SCH|SCHEDULE) (?=[0-9])", re.ASCII)


class Key(NamedTuple):
    """What a designation stands for; ``wall`` is of a pipe alone."""

    family: str
    numbers: tuple[Fraction, ...]
    wall: str = ""


def read_designation(text: str) -> Key | None:
    """Return what a designation stands for; None where it can't be one.

    >>> read_designation("L3x3x1/4") == read_designation("angle 3 X 3 × .25")
    True
    >>> read_designation('4" sch 40 pipe') == read_designation("Pipe 4 SCH40")
    True
    """
    plain = plainly(text)
    match = _SHAPE.fullmatch(_WALL.sub(r"\1", _INCHES.sub("", plain)).strip())
    if match is None:
        return None
    words = [word for word in f"{match['before']} {match['after']}".split() if word != "CONDUIT"]
    wall = "".join(WALLS[word] for word in words if word in WALLS)
    words = [word for word in words if word not in WALLS]
    if len(words) > 1:
        return None
    family = PIPE if wall and not words else CALLED.get(words[0] if words else "", "")
    numbers = tuple(read_number(part.strip()) for part in match["size"].split("X"))
    if family == LUMBER and ('"' in plain or len(numbers) != 2):
        return None  # inch marks say a measured size, and the list is of nominal ones
    if not family or (wall and family != PIPE) or (family == PIPE and len(numbers) > 1):
        return None
    known = tuple(number for number in numbers if number is not None)
    return Key(family, known, wall) if len(known) == len(numbers) else None


def read_size(text: str) -> Fraction | None:
    """Return a nominal size such as ``4``, ``NPS 4``, ``4 in`` or ``1-1/2``.

    >>> read_size('1-1/2"')
    Fraction(3, 2)
    """
    match = _SIZE.fullmatch(plainly(text))
    return read_number(match["size"]) if match else None


def read_number(text: str) -> Fraction | None:
    """Return a whole number, a decimal, a fraction, or a whole number and a fraction."""
    match = _NUMBER.fullmatch(text)
    if match is None:
        return None
    if match["plain"]:
        return Fraction(match["plain"].rstrip("."))
    if int(match["bottom"]) == 0:
        return None
    return Fraction(int(match["whole"] or 0)) + Fraction(int(match["top"]), int(match["bottom"]))


def plainly(text: str) -> str:
    """Return capitals with single spaces; text over the ceiling comes back empty."""
    if len(text) > LONGEST:
        return ""
    upper = text.upper().replace("×", "X").replace("″", '"').replace("”", '"')
    return " ".join(upper.split())
