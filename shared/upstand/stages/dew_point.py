"""Dew or frost point now, and how far a surface is above it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from upstand.edition import Edition, Value
from upstand.formulas import weather
from upstand.quantity.traced import Traced, constant, reckon
from upstand.query.model import Now

FREEZING_DEGF = 32.0
#: The limit that says how far a surface stays above the dew point.
MARGIN = "limits/dew-point-margin"


@dataclass(frozen=True, slots=True)
class Dew:
    """What the air's moisture means for a surface; None where a reading is missing.

    point : dew point in °F, or the frost point (over ice) where the dew point is at or below 32 °F.
    margin : surface less that point, in delta_degF.
    least : the coldest that a surface may be, by the widest margin that the edition asks for.
    """

    point: Traced | None = None
    kind: Literal["dew", "frost"] = "dew"
    margin: Traced | None = None
    least: Traced | None = None


def widest_margin(edition: Edition) -> Traced | None:
    """Return the widest margin over the dew point that the edition asks for."""
    if not edition.has(MARGIN):
        return None
    bounds: tuple[Value, ...] = edition.record(MARGIN).get("at_least")
    return max((v.traced("delta_degF") for v in bounds), key=lambda t: t.value)


def find_dew(now: Now, edition: Edition, told: Traced | None = None) -> Dew:
    """Compute the dew or frost point and the surface's margin over it.

    Humidity is taken over water, as weather services give it. A humidity of zero has no dew point.
    `told` is a dew point (over water) that came ready; then the humidity is not looked at.
    """
    kind: Literal["dew", "frost"] = "dew"
    if told is not None:
        air, humidity = told, constant(100.0, "percent", "air at its dew point")
        point = told
    elif now.air is None or now.humidity is None or now.humidity.value <= 0.0:
        return Dew()
    else:
        air, humidity = now.air, now.humidity
        point = reckon(weather.dew_point, air=air, humidity=humidity)
    if point.value <= FREEZING_DEGF:
        kind = "frost"
        point = reckon(weather.frost_point, air=air, humidity=humidity)
    kept, margin = widest_margin(edition), None
    if now.surface is not None:
        margin = reckon(weather.surface_margin, surface=now.surface, dew=point)
    least = None if kept is None else reckon(weather.least_surface, dew=point, margin=kept)
    return Dew(point, kind, margin, least)


def weather_numbers(now: Now, dew: Dew) -> dict[str, Traced]:
    """Name the readings that limits are compared with; what was not measured is left out."""
    numbers = {
        "air": now.air,
        "surface": now.surface,
        "surface_warmest": now.surface_warmest,
        "material": now.material,
        "humidity": now.humidity,
        "rain_chance": now.rain_chance,
        "wind": now.wind,
        "margin": dew.margin,
    }
    return {name: value for name, value in numbers.items() if value is not None}


def weather_flags(now: Now) -> dict[str, bool]:
    """Name what is either so or not; what was not said is left out."""
    return {} if now.wet is None else {"wet": now.wet}
