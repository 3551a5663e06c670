"""Is the wet film thick enough: readings of a notch gage, or packs used, against a layer's least.

A reading says that its tooth was wetted and the next one was not: the film lies between the two.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil
from typing import Literal

from upstand.formulas import film as formulas
from upstand.formulas import resin as resin_formulas
from upstand.formulas import supply
from upstand.quantity.traced import Traced, reckon, total

__all__ = ["ByGage", "ByPacks", "Gage", "judge_packs", "judge_readings", "readings_needed"]

Layer = Literal["base", "top", "total"]
#: Readings that differ by less than this are the same [mil].
NOISE = 1e-9


@dataclass(frozen=True, slots=True)
class Gage:
    """A notch gage: its teeth [mil], or the step from each tooth to the next."""

    teeth: tuple[float, ...] = ()
    step: float = 5.0

    def next_after(self, reading: float) -> float:
        """Return the first tooth that a reading says was not wetted [mil].

        >>> Gage(step=5.0).next_after(40.0), Gage((20.0, 30.0, 50.0)).next_after(30.0)
        (45.0, 50.0)
        """
        if not self.teeth:
            return reading + self.step
        higher = [tooth for tooth in self.teeth if tooth > reading + NOISE]
        return min(higher) if higher else float("inf")


@dataclass(frozen=True, slots=True)
class ByGage:
    """What readings tell: thicknesses in mil, volume in gal."""

    state: Literal["go", "ask", "hold"]
    short: tuple[float, ...]
    unsure: tuple[float, ...]
    needed: int
    mean: Traced
    lowest: Traced
    least: Traced
    short_by: Traced
    top_up: Traced


@dataclass(frozen=True, slots=True)
class ByPacks:
    """What the packs used tell: `mean` and `short_by` in mil are None where a detail is given."""

    state: Literal["go", "hold"]
    net: Traced
    short: Traced
    mean: Traced | None
    least_film: Traced | None
    short_by: Traced | None
    least_volume: Traced | None
    thick: bool


def readings_needed(area_ft2: float, planes: int, per_plane: int) -> int:
    """Count the readings that an area wants.

    Up to 25 ft² so many a plane. Above, five for each counted area of the published rule for dry
    film on metal: each 100 ft² up to 300, three to 1,000, one more for each further 1,000 or part.

    >>> readings_needed(2.0, 2, 3), readings_needed(12_500.0, 2, 3)
    (6, 75)
    """
    if area_ft2 <= 25.0:
        return planes * per_plane
    if area_ft2 <= 300.0:
        areas = ceil(area_ft2 / 100.0)
    else:
        areas = 3 + max(0, ceil((area_ft2 - 1_000.0) / 1_000.0))
    return 5 * areas


def judge_readings(
    readings: Sequence[Traced], least: Traced, area: Traced, gage: Gage, needed: int
) -> ByGage:
    """Judge readings [mil] against the least wet film [mil] over an area [in²].

    Hold if any is short; else ask if any is unsure or there are too few; else go.
    """
    floor = least.value
    short = tuple(r.value for r in readings if gage.next_after(r.value) <= floor + NOISE)
    sure = [r for r in readings if r.value >= floor - NOISE]
    unsure = tuple(r.value for r in readings if r not in sure and r.value not in short)
    mean = reckon(
        formulas.mean_film,
        total=total("sum of the readings", readings),
        count=Traced(float(len(readings)), "1", least.origin),
    )
    lowest = min(readings, key=lambda r: r.value)
    missing = [reckon(supply.short_of, wanted=least, found=r) for r in readings]
    lack = reckon(
        formulas.mean_film,
        total=total("what the readings lack", missing),
        count=Traced(float(len(readings)), "1", least.origin),
    )
    return ByGage(
        state="hold" if short else "ask" if unsure or len(readings) < needed else "go",
        short=short,
        unsure=unsure,
        needed=needed,
        mean=mean,
        lowest=lowest,
        least=least,
        short_by=reckon(supply.short_of, wanted=least, found=lowest),
        top_up=reckon(resin_formulas.film_volume, area=area, thickness=lack),
    )


def judge_packs(
    used: Traced,
    allowance: Traced,
    *,
    area: Traced | None = None,
    least_film: Traced | None = None,
    most_film: Traced | None = None,
    least_volume: Traced | None = None,
) -> ByPacks:
    """Judge what was used [gal] less the allowance [percent].

    Against a detail's own least need [gal] where that is given, else against the least film over
    the area; above `most_film` it is thick, which is no fault.
    """
    net = reckon(supply.without_allowance, amount=used, allowance=allowance)
    if least_volume is not None:
        short = reckon(supply.short_of, wanted=least_volume, found=net)
        state: Literal["go", "hold"] = "hold" if short.value > NOISE else "go"
        return ByPacks(state, net, short, None, None, None, least_volume, False)
    assert area is not None and least_film is not None
    mean = reckon(formulas.film_from_volume, volume=net, area=area)
    short_by = reckon(supply.short_of, wanted=least_film, found=mean)
    short = reckon(resin_formulas.film_volume, area=area, thickness=short_by)
    return ByPacks(
        state="hold" if short_by.value > NOISE else "go",
        net=net,
        short=short,
        mean=mean,
        least_film=least_film,
        short_by=short_by,
        least_volume=None,
        thick=most_film is not None and mean.value > most_film.value + NOISE,
    )
