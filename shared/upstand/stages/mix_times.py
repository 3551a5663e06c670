"""How long a mix is worked with and how long a coat takes, by temperature: where hours differ."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from math import floor

from upstand.edition import Edition, Record
from upstand.formulas import times as formulas
from upstand.quantity.traced import measured, reckon
from upstand.stages.times import MARGINS, Temperatures, times_of

__all__ = ["MixTimes"]


class MixTimes:
    """Times of an edition's products as plain minutes, each worked out once for a temperature."""

    def __init__(self, edition: Edition) -> None:
        """Keep the edition; nothing is worked out before it is asked for."""
        self.edition = edition
        self.step = edition.record("parameters/halving-step").value("value").traced("delta_degF")
        self._usable: dict[tuple[str, float], float | None] = {}

    def usable(self, product: Record, material: float) -> float | None:
        """Return the whole minutes that a mix is worked with, from when its parts meet.

        material : its temperature, °F. None where no pot life is on file for it.
        """
        key = (product.path, material)
        if key not in self._usable:
            self._usable[key] = self._usable_at(product, material)
        return self._usable[key]

    def _usable_at(self, product: Record, material: float) -> float | None:
        kept = MARGINS[product.kind]
        if not product.has("pot_life") or not self.edition.has(kept):
            return None
        at = measured(material, "degF", "material")
        (time,) = times_of(product, ("pot_life",), Temperatures(at, None, False, at), self.step)
        if time.low is None:
            return None
        margin = self.edition.record(kept).value("value").traced("percent")
        left = reckon(formulas.pot_life_kept, pot_life=time.low, margin=margin)
        return float(floor(left.value + 1e-6))

    def longest(self, product: Record, names: tuple[str, ...]) -> Callable[[float], float | None]:
        """Return the longest of some of a product's waits (minutes) by the ground's temperature.

        It is None where one of them has no number at that temperature.
        """

        @cache
        def wait(ground: float) -> float | None:
            at = measured(ground, "degF", "ground")
            temperatures = Temperatures(at, at, False, at, at)
            times = list(times_of(product, names, temperatures, self.step))
            if not times or any(time.high is None for time in times):
                return None
            return max(time.high.value for time in times if time.high is not None)

        return wait
