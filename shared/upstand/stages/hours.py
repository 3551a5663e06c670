"""Waits and windows over hours that differ: when is it dry, until when may it be covered.

Times are whole minutes from one beginning. With one reading every hour is like it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import ceil, floor, inf

from upstand.formulas.times import warmth_rate

#: Minutes that a float may miss a whole minute by.
_SLACK = 1e-6


@dataclass(frozen=True, slots=True)
class Stretch:
    """An hour, or as long as one reading holds: minutes from start to end, the ground in °F."""

    start: float
    end: float
    ground: float | None


def always(ground: float | None) -> tuple[Stretch, ...]:
    """Return the hours of one reading alone: "if it stays like this".

    >>> always(70.0)[0].end
    inf
    """
    return (Stretch(-inf, inf, ground),)


def done_at(
    since: float, hours: Sequence[Stretch], longest: Callable[[float], float | None]
) -> int | None:
    """Find the first minute at which a wait is over.

    The wait is `longest` (minutes, by the ground's temperature) at the coldest ground of the hours
    from `since` on. None where an hour on the way has no ground, the wait no number there, or the
    hours end before it is over.

    >>> done_at(0, [Stretch(0, 60, 70.0), Stretch(60, 600, 52.0)], lambda t: 2 * (142 - t))
    180
    """
    coldest = inf
    for hour in hours:
        if hour.end <= since:
            continue
        if hour.ground is None:
            return None
        coldest = min(coldest, hour.ground)
        wait = longest(coldest)
        if wait is None:
            return None
        over = ceil(since + wait - _SLACK)
        if over <= hour.end:
            return over
    return None


def last_minute(
    since: float, hours: Sequence[Stretch], window: float, at: float, step: float
) -> int:
    """Find the last minute that lies within a window: a warm hour uses up more than one of it.

    `window` minutes were stated at `at` °F and halve with each `step` °F; cold lengthens nothing.
    An hour without ground, and what lies beyond the hours, counts as stated.

    >>> last_minute(0, always(88.0), 24 * 60, 70.0, 18.0)
    720
    >>> last_minute(0, [Stretch(0, 600, 40.0), Stretch(600, 2000, 88.0)], 24 * 60, 70.0, 18.0)
    1020
    """
    here, left = since, window
    for hour in hours:
        if hour.end <= here:
            continue
        if hour.start > here:
            gap = hour.start - here
            if gap >= left:
                break
            here, left = hour.start, left - gap
        rate = 1.0 if hour.ground is None else warmth_rate(hour.ground, at, step)
        if (hour.end - here) * rate >= left:
            return floor(here + left / rate + _SLACK)
        here, left = hour.end, left - (hour.end - here) * rate
    return floor(here + left + _SLACK)
