"""The door for the weather hour by hour: what each hour allows, and when work can start.

    hours -> dew points, margins -> the edition's limits -> verdicts by hour -> windows

Nothing is filled in: what a forecast does not tell stays unknown. A surface nobody measured is not
the air; only for how fast something dries is the air taken for it, and that is said.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Literal

from upstand import __version__
from upstand.edition import Edition, Record
from upstand.quantity.traced import Traced
from upstand.query.hours import DAY, HoursQuery
from upstand.stages.daylight import sunset
from upstand.stages.mix_times import MixTimes
from upstand.stages.times import WAITS
from upstand.stages.windows import Place, Window, runs, whole_windows, work_windows
from upstand.verdict.hourly import LAYING, PRIMING, HourFound, HourReader

__all__ = ["ConditionsByHour", "WindowFound", "conditions_by_hour"]

NoSequence = Literal["no-pot-life", "no-watertight"]
MINUTE = timedelta(minutes=1)


@dataclass(frozen=True, slots=True)
class WindowFound:
    """A window: from when, when work starts in it at the latest, and when that run ends.

    activity : an activity, `sequence/resin` (lay it and it lasts until watertight) or
    `sequence/whole` (prime, and lay the resin the same day). needs_surface : the narrowest of its
    hours where a surface was not measured in one of them; then it is not `sure`.
    """

    activity: str
    start: datetime
    end: datetime
    last_start: datetime | None = None
    sure: bool = True
    needs_surface: tuple[Traced, Traced] | None = None


@dataclass(frozen=True, slots=True)
class ConditionsByHour:
    """What the weather allows hour by hour, and the windows in it.

    no_sequence : why windows of a sequence could not be looked for. sunsets : those before the end
    of work.
    """

    edition: Edition
    software: str
    query: HoursQuery
    resin: Record
    hours: tuple[HourFound, ...]
    windows: tuple[WindowFound, ...]
    no_sequence: NoSequence | None
    sunsets: tuple[datetime, ...]


def conditions_by_hour(query: HoursQuery, edition: Edition) -> ConditionsByHour:
    """Judge each hour by the limits of one edition, and find the windows."""
    path = str(edition.record("parameters/default-resin").get("choice"))
    resin = edition.record(path if query.resin is None else f"resins/{query.resin}")
    reader = HourReader(resin, edition, query.material, query.above)
    hours = tuple(reader.read(hour) for hour in query.hours.hours)
    sunsets = _sunsets(query)
    calendar = _Calendar(hours, query, sunsets)
    no_sequence: NoSequence | None = None
    if not resin.has("pot_life"):
        no_sequence = "no-pot-life"
    elif not resin.has("watertight"):
        no_sequence = "no-watertight"
    windows = [] if no_sequence else list(_sequences(calendar, resin, edition))
    return ConditionsByHour(
        edition=edition,
        software=__version__,
        query=query,
        resin=resin,
        hours=hours,
        windows=(*windows, *_by_activity(calendar, reader)),
        no_sequence=no_sequence,
        sunsets=tuple(
            at for at in sunsets.values() if at.hour * 60 + at.minute < (query.work or DAY)[1]
        ),
    )


def _sunsets(query: HoursQuery) -> dict[date, datetime]:
    if query.place is None:
        return {}
    days = {hour.start.date(): hour.start for hour in query.hours.hours}
    found = {day: sunset(query.place, start) for day, start in days.items()}
    return {day: at for day, at in found.items() if at is not None}


class _Calendar:
    """Hours in minutes from the first: when each starts and ends, and when work goes on in it."""

    def __init__(
        self, hours: Sequence[HourFound], query: HoursQuery, sunsets: dict[date, datetime]
    ) -> None:
        self.hours = hours
        self.first = hours[0].hour.start
        begins, ends = query.work or DAY
        days: dict[date, int] = {}
        #: start, end, day, opens, closes
        self.laid: list[tuple[float, float, int, float, float]] = []
        for found in hours:
            start = self.minute(found.hour.start)
            end = start + found.hour.minutes
            clock = found.hour.start.hour * 60 + found.hour.start.minute
            closes = min(end, start + ends - clock)
            dark = sunsets.get(found.hour.start.date())
            if dark is not None:
                closes = min(closes, self.minute(dark))
            day = days.setdefault(found.hour.start.date(), len(days))
            self.laid.append((start, end, day, start + max(0, begins - clock), closes))

    def minute(self, at: datetime) -> float:
        return (at - self.first) / MINUTE

    def at(self, minute: float) -> datetime:
        """Return a minute as an instant, with the offset of the hour it lies in or ends."""
        for found, (start, end, *_) in zip(self.hours, self.laid, strict=True):
            if start <= minute <= end:
                return found.hour.start + (minute - start) * MINUTE
        return self.first + minute * MINUTE

    def places(self, activity: str, product: Record, times: MixTimes) -> list[Place]:
        """Lay out the hours as one activity with one product sees them."""
        return [
            Place(
                *laid,
                ground=found.ground,
                laying=found.workable(activity),
                lasting=activity in found.lasts,
                usable=None
                if found.now.material is None
                else times.usable(product, found.now.material.value),
            )
            for found, laid in zip(self.hours, self.laid, strict=True)
        ]


def _sequences(calendar: _Calendar, resin: Record, edition: Edition) -> Iterator[WindowFound]:
    times = MixTimes(edition)
    laid = work_windows(
        calendar.places(LAYING, resin, times), times.longest(resin, ("watertight",))
    )
    primers = edition.kind("primers").values()
    primer = next((p for p in primers if p.get("activity") == f"activities/{PRIMING}"), None)
    if primer is not None:
        places = calendar.places(PRIMING, primer, times)
        for window in whole_windows(places, times.longest(primer, WAITS), laid):
            yield _told("sequence/whole", window, calendar)
    for window in laid:
        yield _told("sequence/resin", window, calendar)


def _told(name: str, window: Window, calendar: _Calendar) -> WindowFound:
    needs = [
        found.surface_needed
        for found, (start, end, *_) in zip(calendar.hours, calendar.laid, strict=True)
        if end > window.first and start < window.end and found.surface_needed is not None
    ]
    narrow = None
    if needs:
        lows, highs = zip(*needs, strict=True)
        narrow = (max(lows, key=lambda t: t.value), min(highs, key=lambda t: t.value))
    return WindowFound(
        name,
        calendar.at(window.first),
        calendar.at(window.end),
        calendar.at(window.last),
        not needs,
        narrow,
    )


def _by_activity(calendar: _Calendar, reader: HourReader) -> Iterator[WindowFound]:
    """Give each activity's longest rows of hours that go."""
    for activity in reader.judge.of_activity:
        fits = [found.activities[activity] == "go" for found in calendar.hours]
        for first, last in runs(calendar.laid, fits):
            begun, ended = calendar.hours[first].hour, calendar.hours[last].hour
            yield WindowFound(activity, begun.start, ended.start + ended.minutes * MINUTE)
