"""When the sun sets: by a general library, for a day and a place."""

from __future__ import annotations

from datetime import datetime, timedelta

__all__ = ["sunset"]


def sunset(place: tuple[float, float], at: datetime) -> datetime | None:
    """Return when the sun sets on the day of `at` there, in its offset.

    place : latitude and longitude, degrees. None where the sun does not set on that day.

    >>> from datetime import timezone
    >>> sunset((0.0, 0.0), datetime(2031, 3, 20, 9, tzinfo=timezone.utc)).strftime("%H")
    '18'
    """
    from astral import Observer  # read only where a place is known
    from astral.sun import sunset as sets

    zone = at.tzinfo
    try:
        found = sets(Observer(*place), date=at.date(), tzinfo=zone)  # type: ignore[arg-type]
    except ValueError:
        return None
    return found - timedelta(seconds=found.second, microseconds=found.microsecond)
