"""The public weather service's hourly forecast, a GeoJSON feature as downloaded, read into hours.

Its traps: numbers come bare beside a letter for their unit, or as objects with a unit code; dew
points in °C beside air in °F; wind as words; null for what is not known; and a file of half days
that looks the same.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from datetime import timedelta
from typing import Any

from upstand.quantity.traced import Traced, asked
from upstand.quantity.units import convert
from upstand.query.faults import Fault, QueryFaults, pointer
from upstand.query.readings import LENGTH, Hour, Hours, put_in_order, read_start, too_many
from upstand.telling.said import Said, say

__all__ = ["read_forecast"]

WHERE = ("forecast", "properties", "periods")
PLACE = pointer(*WHERE)
#: Unit codes by the dimension that is wanted: our unit, and how many of it one is.
UNITS: Mapping[str, Mapping[str, tuple[str, float]]] = {
    "temperature": {"degF": ("degF", 1), "degC": ("degC", 1), "F": ("degF", 1), "C": ("degC", 1)},
    "fraction": {"percent": ("percent", 1)},
    "speed": {"km_h-1": ("km/h", 1), "m_s-1": ("km/h", 3.6), "mi_h-1": ("mph", 1)},
}
KEPT_IN = {"temperature": "degF", "fraction": "percent", "speed": "mph"}
BOUNDS = {"temperature": (-60.0, 200.0), "fraction": (0.0, 100.0), "speed": (0.0, 250.0)}
_SPEED = re.compile(r"(?:(\d{1,3}) to )?(\d{1,3}) (mph|km/h)", re.ASCII)
_WRITTEN = {"mph": "mi_h-1", "km/h": "km_h-1"}
#: A forecast made longer than this before its first hour is old.
OLD = timedelta(hours=6)
#: A dew point may lie this far over the air by rounding alone [°F].
ROUNDED = 1.0


class _Unread(ValueError):
    """A reading that can't be used, and why."""

    def __init__(self, why: Said) -> None:
        super().__init__(why)
        self.why = why


def read_forecast(forecast: object) -> Hours:
    """Read a forecast's hours in their order.

    Raises QueryFaults: everything wrong with it, with JSON pointers from the request on.
    """
    properties = forecast.get("properties") if isinstance(forecast, Mapping) else None
    periods = properties.get("periods") if isinstance(properties, Mapping) else None
    if not isinstance(properties, Mapping) or not isinstance(periods, list) or not periods:
        raise QueryFaults([Fault("/forecast", say("forecast-form"))])
    too_many(len(periods), WHERE)
    reader = _Reader()
    read = [(n, hour) for n, one in enumerate(periods) if (hour := reader.hour(n, one)) is not None]
    if reader.faults:
        raise QueryFaults(reader.faults)
    if _made_before(properties, read):
        reader.note("old")
    found = put_in_order(read, WHERE, reader.notes)
    return Hours(found.hours, found.holes, found.notes, _middle(forecast))


class _Reader:
    """Reads periods; keeps what was wrong, and what was done to readings."""

    def __init__(self) -> None:
        self.faults: list[Fault] = []
        self.notes: dict[str, int] = {}

    def note(self, id: str) -> None:
        self.notes[id] = self.notes.get(id, 0) + 1

    def hour(self, number: int, period: object) -> Hour | None:
        if not isinstance(period, Mapping):
            self.faults.append(Fault(pointer(*WHERE, number), say("forecast-period")))
            return None
        start, end = read_start(period.get("startTime")), read_start(period.get("endTime"))
        if start is None:
            self.faults.append(Fault(pointer(*WHERE, number, "startTime"), say("hour-start")))
            return None
        if end is not None and end - start != LENGTH:
            half_day = end - start > timedelta(hours=3)
            told = say("forecast-half-days" if half_day else "forecast-not-hours")
            place = "/forecast" if half_day else pointer(*WHERE, number, "endTime")
            self.faults.append(Fault(place, told))
            return None
        air = self.value(number, period, "temperature", _temperature)
        dew = self.value(number, period, "dewpoint", _temperature)
        if air is not None and dew is not None and dew.value > air.value + ROUNDED:
            dew = None
            self.note("dew-point-above-air")
        humidity = self.value(number, period, "relativeHumidity", _share)
        if dew is None and humidity is not None and air is not None:
            self.note("dew-point-computed")
        return Hour(
            start,
            air=air,
            dew_point=dew,
            humidity=humidity,
            rain_chance=self.value(number, period, "probabilityOfPrecipitation", _share),
            wind=self.value(number, period, "windSpeed", _wind),
        )

    def value(
        self,
        number: int,
        period: Mapping[str, Any],
        name: str,
        read: Callable[[Any, Mapping[str, Any]], tuple[float, str, bool] | None],
    ) -> Traced | None:
        try:
            found = read(period.get(name), period)
        except _Unread as error:
            self.faults.append(Fault(pointer(*WHERE, number, name), error.why))
            return None
        if found is None:
            return None
        amount, unit, converted = found
        if converted:
            self.note("converted")
        return asked(amount, unit, f"{PLACE}/{number}/{name}")


def _temperature(given: Any, period: Mapping[str, Any]) -> tuple[float, str, bool] | None:
    if given is None or isinstance(given, Mapping):
        return _object(given, "temperature")
    return _bounded(_number(given), period.get("temperatureUnit"), "temperature")


def _share(given: Any, period: Mapping[str, Any]) -> tuple[float, str, bool] | None:
    return _object(given, "fraction")


def _wind(given: Any, period: Mapping[str, Any]) -> tuple[float, str, bool] | None:
    """Read wind: the greater of two numbers."""
    if isinstance(given, Mapping):
        known = [given[k] for k in ("value", "maxValue") if given.get(k) is not None]
        greatest = max((_number(value) for value in known), default=None)
        return _object({**given, "value": greatest}, "speed")
    if given is None or given == "":
        return None
    found = _SPEED.fullmatch(given) if isinstance(given, str) and len(given) <= 40 else None
    if found is None:
        raise _Unread(say("forecast-wind"))
    greatest = max(float(n) for n in found.groups()[:2] if n is not None)
    return _bounded(greatest, _WRITTEN[found[3]], "speed")


def _object(given: Any, dimension: str) -> tuple[float, str, bool] | None:
    """Read an object with a unit code; without a value it is unknown."""
    if given is None:
        return None
    if not isinstance(given, Mapping):
        raise _Unread(say("forecast-object"))
    if given.get("value") is None:
        return None
    code = str(given.get("unitCode", "")).rpartition(":")[2]
    return _bounded(_number(given["value"]), code, dimension)


def _number(given: Any) -> float:
    if isinstance(given, bool) or not isinstance(given, int | float) or abs(given) > 1e6:
        raise _Unread(say("forecast-number"))
    return float(given)


def _bounded(amount: float, code: Any, dimension: str) -> tuple[float, str, bool]:
    read_as = UNITS[dimension].get(code) if isinstance(code, str) else None
    if read_as is None:
        known = tuple(UNITS[dimension])
        raise _Unread(say("forecast-unit", known, unit=str(code)[:20], known=known))
    (unit, factor), kept = read_as, KEPT_IN[dimension]
    found = convert(amount * factor, unit, kept)
    low, high = BOUNDS[dimension]
    if not low <= found <= high:
        raise _Unread(say("forecast-bounds", low=f"{low:g}", high=f"{high:g}", unit=kept))
    return found, kept, unit != kept


def _made_before(properties: Mapping[str, Any], read: Sequence[tuple[int, Hour]]) -> bool:
    made = read_start(properties.get("updateTime")) or read_start(properties.get("generatedAt"))
    return made is not None and min(hour.start for _, hour in read) - made > OLD


def _middle(forecast: object) -> tuple[float, float] | None:
    """Find the middle of the forecast's own polygon: latitude, longitude."""
    geometry = forecast.get("geometry") if isinstance(forecast, Mapping) else None
    try:
        ring = geometry["coordinates"][0]  # type: ignore[index]
        points = [(float(lat), float(lon)) for lon, lat, *_ in ring[:-1] or ring]
        lat, lon = (sum(part) / len(points) for part in zip(*points, strict=True))
    except (TypeError, KeyError, IndexError, ValueError):
        return None
    return (lat, lon) if abs(lat) <= 90 and abs(lon) <= 180 else None
