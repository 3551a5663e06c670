"""Quantities as text in the reader's units, for sentences."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from upstand.quantity.traced import Traced
from upstand.quantity.units import quantity
from upstand.query.model import System

NO_BREAK = "\u00a0"


@dataclass(frozen=True, slots=True)
class Speech:
    """Shows quantities in one system of units."""

    system: System

    def json(self, traced: Traced | None, style: str | None = None) -> dict[str, Any] | None:
        """Return `{"value", "unit", "text"}`, or None for None."""
        if traced is None:
            return None
        return dict(quantity(traced.value, traced.unit, self.system, style))

    def text(self, traced: Traced, style: str | None = None) -> str:
        """Return the text of a quantity; `style` "up" or "down" rounds to the safe side."""
        return str(quantity(traced.value, traced.unit, self.system, style)["text"])

    def span(
        self,
        low: Traced | None,
        high: Traced | None,
        styles: tuple[str | None, str | None] = (None, None),
    ) -> str:
        """Return a range as text, the unit said once: `25–30 min`."""
        if low is None or high is None:
            one = low if high is None else high
            return "" if one is None else self.text(one)
        a, b = self.text(low, styles[0]), self.text(high, styles[1])
        if a == b:
            return a
        number_a, _, unit_a = a.rpartition(NO_BREAK)
        _, _, unit_b = b.rpartition(NO_BREAK)
        plain = unit_a == unit_b and NO_BREAK not in number_a
        return f"{number_a}–{b}" if plain else f"{a} – {b}"
