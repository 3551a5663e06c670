"""Every date is one of the calendar, and none lies after the day of the check."""

from __future__ import annotations

from collections.abc import Iterator

from upstand.edition.dates import is_date
from upstand.edition.faults import Fault
from upstand.edition.schema.shapes import step
from upstand.edition.schema.values import Sourced
from upstand.edition.source import Source


def check(source: Source) -> Iterator[Fault]:
    """Yield dates that are none, and those after ``source.date`` where it is given."""
    for thing in source.things:
        for path, _, node in thing.of(Sourced):
            date = node.get("checked_on") if isinstance(node, dict) else None
            if date is None:
                continue
            place = step(path, "checked_on")
            if not is_date(date):
                why, cure = "is not a day of the calendar", 'write "YYYY-MM-DD"'
                yield thing.fault(place, date, "dates", why, cure)
            elif source.date is not None and date > source.date:
                why = f"lies after {source.date}, the day of this check"
                cure = "write the day it was checked on"
                yield thing.fault(place, date, "dates", why, cure)
