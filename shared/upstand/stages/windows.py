"""When work can start so that it ends well: minutes in working hours with weather that lasts.

Hours have their places in minutes from the first one's start. Every wait is the longest on file,
at the coldest ground of the hours it runs through.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import ceil, floor

__all__ = ["Place", "Window", "runs", "whole_windows", "work_windows"]

Wait = Callable[[float], float | None]
_SLACK = 1e-6


@dataclass(frozen=True, slots=True)
class Place:
    """An hour as windows see it; minutes from the first hour's start.

    day : which day it is there. clock : its start as a minute of that day. opens, closes : the
    minutes between which work goes on in it; none where opens reaches closes. laying : whether work
    may be done but for a surface that nobody measured. lasting : whether what is drying in it
    comes to no harm. usable : minutes that a mix begun in it is worked with; None: not known.
    """

    start: float
    end: float
    day: int
    opens: float
    closes: float
    ground: float | None
    laying: bool
    lasting: bool
    usable: float | None


@dataclass(frozen=True, slots=True)
class Window:
    """Whole minutes from which work can start, first to last, and when that run of hours ends."""

    first: int
    last: int
    end: int
    day: int


def runs(spans: Sequence[tuple[float, ...]], fits: Sequence[bool]) -> Iterator[tuple[int, int]]:
    """Find the longest rows of hours that fit and follow one another: first and last of each.

    spans : start and end of each hour, in minutes.

    >>> list(runs([(0, 60), (60, 120), (180, 240)], [True, True, True]))
    [(0, 1), (2, 2)]
    """
    begun: int | None = None
    for n, fit in enumerate(fits):
        if begun is not None and (not fit or spans[n - 1][1] < spans[n][0] - _SLACK):
            yield begun, n - 1
            begun = None
        if fit and begun is None:
            begun = n
    if begun is not None:
        yield begun, len(fits) - 1


def work_windows(places: Sequence[Place], wait: Wait) -> list[Window]:
    """Find from when to when work can start that is laid, then lasts until its wait is over."""
    return _windows(places, wait, None)


def whole_windows(places: Sequence[Place], wait: Wait, after: Sequence[Window]) -> list[Window]:
    """Find when a primer can start so that what follows it can start the same day, once it is dry.

    A window ends with the last of the windows `after` that it reaches.
    """
    last = {window.day: window.last for window in after}
    ends = {window.day: window.end for window in after}
    found = _windows(places, wait, last)
    return [Window(each.first, each.last, ends[each.day], each.day) for each in found]


def _windows(places: Sequence[Place], wait: Wait, by: Mapping[int, int] | None) -> list[Window]:
    """Find the starts; the wait is over by a minute of its day where `by` is given."""
    closing: dict[int, float] = {}
    for place in places:
        closing[place.day] = max(place.closes, closing.get(place.day, place.closes))
    lasts = [list(_over(places, n, wait)) for n in range(len(places))]
    found: list[Window] = []
    spans = [(place.start, place.end) for place in places]
    for first, last in runs(spans, [place.laying for place in places]):
        starts: dict[int, list[tuple[int, int]]] = {}
        for n in range(first, last + 1):
            place = places[n]
            if place.usable is None or (by is not None and place.day not in by):
                continue
            latest = min(places[last].end, closing[place.day]) - place.usable
            over_by = None if by is None else by[place.day]
            low, high = place.opens, min(latest, ceil(place.closes - _SLACK) - 1)
            ranges = _in_hour(places, n, low, high, lasts, over_by)
            starts.setdefault(place.day, []).extend(ranges)
        for day, all_of_it in starts.items():
            end = floor(min(places[last].end, closing[day]) + _SLACK)
            found += [Window(a, b, end, day) for a, b in _merged(all_of_it)]
    return found


def _in_hour(
    places: Sequence[Place],
    n: int,
    low: float,
    high: float,
    lasts: Sequence[Sequence[tuple[float, float]]],
    over_by: int | None,
) -> Iterator[tuple[int, int]]:
    """Give the starts in one hour from `low` to `high` whose wait is over while weather lasts."""
    used = places[n].usable or 0.0
    for m in range(n, len(places)):
        place = places[m]
        if place.start - used > high + _SLACK:
            return
        if m > n and places[m - 1].end < place.start - _SLACK:
            return
        # the wait begins in hour m: what is laid by its very end begins to dry in the next
        here, there = max(low, place.start - used), min(high, ceil(place.end - used - _SLACK) - 1)
        before = float("-inf")
        for end, waited in lasts[m]:
            until = end - waited - used
            if until <= before:
                continue
            most = until if over_by is None else min(until, over_by - waited - used)
            a = ceil(max(here, before + 2 * _SLACK) - _SLACK)
            b = floor(min(there, most) + _SLACK)
            if a <= b:
                yield a, b
            before = until


def _merged(ranges: Sequence[tuple[int, int]]) -> list[tuple[int, int]]:
    """Join ranges of whole minutes that touch."""
    found: list[tuple[int, int]] = []
    for a, b in sorted(ranges):
        if found and a <= found[-1][1] + 1:
            found[-1] = (found[-1][0], max(b, found[-1][1]))
        else:
            found.append((a, b))
    return found


def _over(places: Sequence[Place], n: int, wait: Wait) -> Iterator[tuple[float, float]]:
    """Give the end of each hour from one on that still lasts, and the wait if it ends in it."""
    coldest, end = float("inf"), places[n].start
    for m in range(n, len(places)):
        place = places[m]
        if not place.lasting or place.ground is None or place.start > end + _SLACK:
            return
        coldest = min(coldest, place.ground)
        waited = wait(coldest)
        if waited is None:
            return
        end = place.end
        yield end, waited
        if waited <= end - places[n].end:  # over by now wherever in the first hour it began
            return
