"""Quantities as text in the reader's units, for sentences."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from upstand.quantity.traced import Traced
from upstand.quantity.units import Quantity, System, quantity, system_unit

NO_BREAK = "\u00a0"


@dataclass(frozen=True, slots=True)
class Speech:
    """Shows quantities in one system of units.

    no_break joins numbers and units by no-break spaces, for what will be wrapped on a page or a
    screen; programs get plain spaces.
    """

    system: System
    no_break: bool = False

    def json(self, traced: Traced | None, style: str | None = None) -> dict[str, Any] | None:
        """Return `{"value", "unit", "text"}`, or None for None."""
        if traced is None:
            return None
        return {**self._shown(traced, style)}

    def text(self, traced: Traced, style: str | None = None) -> str:
        """Return the text of a quantity; `style` "up" or "down" rounds to the safe side."""
        return self._shown(traced, style)["text"]

    def _shown(self, traced: Traced, style: str | None) -> Quantity:
        value, unit = traced.value, traced.unit
        if traced.also is not None and system_unit(unit, self.system) == traced.also[1]:
            value, unit = traced.also  # as its source says it, not converted
        return _written(value + 0.0, unit, self.system, style, self.no_break)

    def span(
        self,
        low: Traced | None,
        high: Traced | None,
        styles: tuple[str | None, str | None] = (None, None),
    ) -> str:
        """Return a range as text, the unit said once: `25–30 min`."""
        if low is None or high is None:
            one, style = (high, styles[1]) if low is None else (low, styles[0])
            return "" if one is None else self.text(one, style)
        a, b = self.text(low, styles[0]), self.text(high, styles[1])
        if a == b:
            return a
        gap = NO_BREAK if self.no_break else " "
        number_a, _, unit_a = a.rpartition(gap)
        _, _, unit_b = b.rpartition(gap)
        plain = unit_a == unit_b and gap not in number_a
        return f"{number_a}–{b}" if plain else f"{a} – {b}"


@lru_cache(maxsize=4096)
def _written(
    value: float, unit: str, system: System, style: str | None, no_break: bool
) -> Quantity:
    """Write a quantity; kept, since answers show the same numbers in many places. Never changed.

    No value is -0.0, which would be found under 0.0.
    """
    found = quantity(value, unit, system, style)
    if not no_break:
        found["text"] = found["text"].replace(NO_BREAK, " ")
    return found
