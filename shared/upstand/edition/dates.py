"""Dates as data writes them: text, YYYY-MM-DD."""

from __future__ import annotations

import datetime
import re

__all__ = ["is_date"]

_FORM = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", re.ASCII)


def is_date(text: object) -> bool:
    """Tell whether a text is a day of the calendar.

    >>> is_date("2026-11-24"), is_date("2026-02-30"), is_date("24.11.2026")
    (True, False, False)
    """
    if not isinstance(text, str) or not _FORM.fullmatch(text):
        return False
    try:
        datetime.date.fromisoformat(text)
    except ValueError:
        return False
    return True
