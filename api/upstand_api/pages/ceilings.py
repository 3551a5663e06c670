"""What is taken at most, for the page that says how to ask."""

from __future__ import annotations

from typing import Final

from upstand.query.cutlist import MAX_PIECES, MAX_ROLLS
from upstand.query.film import MAX_READINGS
from upstand.query.readings import MAX_HOURS
from upstand.query.requirements import MOST
from upstand.query.sizes import MAX_POINTS
from upstand.query.takeoff import MAX_COUNT, MAX_DETAILS
from upstand_api.http.strict_json import MAX_DEPTH, MAX_FIELDS, MAX_VALUES
from upstand_api.settings import MAX_BODY_BYTES

__all__ = ["CEILINGS"]

CEILINGS: Final = (
    (f"{MAX_BODY_BYTES // 1024} KB", "a body"),
    (f"{MAX_DEPTH}", "levels of objects and lists in one another"),
    (f"{MAX_FIELDS}", "fields of one object"),
    (f"{MAX_VALUES:,}", "values in one body"),
    (f"{MOST['members']}", "members of a detail"),
    (f"{MOST['plates']}", "plates of a detail"),
    (f"{MAX_POINTS}", "corners of polygons of a detail, together"),
    (f"{MAX_PIECES:,}", "pieces of fleece of a detail or a cut list, counts included"),
    (f"{MAX_ROLLS}", "kinds of roll in a cut list"),
    (f"{MAX_READINGS}", "readings of a film"),
    (f"{MAX_DETAILS}", "details in a take-off"),
    (f"{MAX_COUNT}", "count of one detail"),
    (f"{MAX_HOURS}", "hours of a forecast"),
    ("40", "characters of a quantity"),
    ("64", "characters of an id"),
)
"""The ceilings, each with what it bounds."""
