"""Hours of weather, one reading each: as a list of our own, or read from a forecast.

A reading that is absent or null is unknown: never zero, and a surface is never taken for the air.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from upstand.quantity.traced import Traced
from upstand.query.faults import Fault, QueryFaults, pointer
from upstand.telling.said import say

__all__ = ["LENGTH", "MAX_HOURS", "READ", "Hour", "Hours", "put_in_order"]

MAX_HOURS = 200
#: An hour's own length.
LENGTH = timedelta(hours=1)
#: What an hour may hold, and the unit it is kept in.
READ: Mapping[str, str] = {
    "air": "degF",
    "surface": "degF",
    "dew_point": "degF",
    "humidity": "percent",
    "rain_chance": "percent",
    "wind": "mph",
}


@dataclass(frozen=True, slots=True)
class Hour:
    """The weather from `start` on, for `minutes`; None is unknown. start has its offset."""

    start: datetime
    minutes: float = 60.0
    air: Traced | None = None
    surface: Traced | None = None
    dew_point: Traced | None = None
    humidity: Traced | None = None
    rain_chance: Traced | None = None
    wind: Traced | None = None


@dataclass(frozen=True, slots=True)
class Hours:
    """Hours in order, none over another, with the holes between them.

    notes : ids of what was done to the readings, each with how many it concerned.
    place : latitude and longitude, where the forecast says for where it is.
    """

    hours: tuple[Hour, ...]
    holes: tuple[tuple[datetime, datetime], ...] = ()
    notes: tuple[tuple[str, int], ...] = ()
    place: tuple[float, float] | None = None


def put_in_order(
    read: Sequence[tuple[int, Hour]], where: Sequence[str], notes: Mapping[str, int]
) -> Hours:
    """Order readings by their instant, each with its number in the list that they came in.

    Raises QueryFaults where two readings of one instant differ.
    """
    ordered = sorted(read, key=lambda one: one[1].start)
    counted = dict(notes)
    if [number for number, _ in ordered] != [number for number, _ in read]:
        counted["sorted"] = len(ordered)
    kept: list[tuple[int, Hour]] = []
    faults = []
    for number, hour in ordered:
        if kept and kept[-1][1].start == hour.start:
            if _values(kept[-1][1]) != _values(hour):
                told = say("hour-twice", start=hour.start.isoformat(), other=str(kept[-1][0]))
                faults.append(Fault(pointer(*where, number), told))
            else:
                counted["twice"] = counted.get("twice", 0) + 1
            continue
        kept.append((number, hour))
    if faults:
        raise QueryFaults(faults)
    return Hours(*_laid_out([hour for _, hour in kept]), tuple(counted.items()))


def _values(hour: Hour) -> tuple[float | None, ...]:
    held = (getattr(hour, name) for name in READ)
    return tuple(None if value is None else value.value for value in held)


def _laid_out(
    ordered: Sequence[Hour],
) -> tuple[tuple[Hour, ...], tuple[tuple[datetime, datetime], ...]]:
    """End each hour where the next begins, and find the holes."""
    hours, holes = [], []
    for hour, after in zip(ordered, [*ordered[1:], None], strict=True):
        minutes = 60.0
        if after is not None:
            until = (after.start - hour.start) / timedelta(minutes=1)
            minutes = min(minutes, until)
            if until > minutes:
                holes.append((hour.start + LENGTH, after.start))
        hours.append(hour if minutes == 60.0 else _shorter(hour, minutes))
    return tuple(hours), tuple(holes)


def _shorter(hour: Hour, minutes: float) -> Hour:
    return Hour(hour.start, minutes, *(getattr(hour, name) for name in READ))


def read_start(text: Any) -> datetime | None:
    """Read an instant with its offset; None where it is none."""
    if not isinstance(text, str) or len(text) > 40 or "T" not in text:
        return None
    try:
        found = datetime.fromisoformat(text)
    except ValueError:
        return None
    return found if found.tzinfo is not None else None


def too_many(count: int, where: Iterable[str]) -> None:
    """Raise QueryFaults for more hours than are looked at, before they are."""
    if count > MAX_HOURS:
        told = say("hours-most", many=f"{count:,}", most=f"{MAX_HOURS}")
        raise QueryFaults([Fault(pointer(*where), told)])
