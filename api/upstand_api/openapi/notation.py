"""How quantities are written, for the description: the pattern, units and ceilings of each kind."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, NamedTuple

from upstand.quantity.spellings import EXAMPLES, LIMITS
from upstand.quantity.units import UNITS

__all__ = ["PATTERN", "Notation", "notations"]

PATTERN: Final = (
    r"^[\s\u00a0\u202f]*[-+\u2212]?[\s\u00a0\u202f]*\.?[0-9]"
    r"(?:[0-9\s\u00a0\u202f,./\-]*[A-Za-z\u00b5\u03bc%\u00b0\u00ba\"'\u2033\u201d\u2032\u2019]"
    r"[^\u0000-\u001f]*|[0-9\s\-]*/\s*[0-9]+\s*)$"
)
"""What every quantity that is read looks like: a number first, then a unit, or a bare fraction."""

#: What a question may hold, in the order in which it is told.
TOLD: Final = ("length", "film", "area", "volume", "temperature", "temperature_difference",
               "fraction", "speed", "angle", "time")  # fmt: skip


class Notation(NamedTuple):
    """One kind of quantity: what it is, how it is written, its bounds."""

    kind: str
    examples: tuple[str, ...]
    least: str
    most: str


def notations() -> Iterator[Notation]:
    """Yield the kinds of quantity that a question may hold."""
    for kind in TOLD:
        least, most, unit = LIMITS[kind]
        said = {"degF": "°F", "delta_degF": "°F", "percent": "%", "ft^2": "sq ft"}.get(unit, unit)
        if unit in UNITS:
            name = kind.replace("_", " ")
            yield Notation(name, EXAMPLES[kind], f"{least:,g} {said}", f"{most:,g} {said}")
