"""The columns of a table of details, and an example of it for each kind of detail."""

from __future__ import annotations

from typing import Final

from upstand.edition import Edition
from upstand.query.table import LISTS, Input, inputs

__all__ = ["OWN", "SHAPES", "STANDARD", "columns_of", "template"]

OWN: Final = ("id", "count", "detail")
SHAPES: Final = ("member", "plate")
STANDARD: Final = ("designation", "substrate")
#: A member for the details that take none of the one that the table of inputs names.
ROUND: Final = "pipe od 4 1/2 in carbon-steel"


def columns_of(edition: Edition) -> dict[str, Input]:
    """Return the inputs by the names of their columns; members and plates have their own."""
    found = {
        item.record.id: item
        for item in inputs(edition)
        if item.reads not in LISTS and item.name != "count"
    }
    for item in inputs(edition):
        if item.part is not None:
            found.setdefault(item.part, item)
    return found


def template(detail: str, edition: Edition) -> tuple[list[str], list[str]]:
    """Return the heading and one example of a table for one kind of detail.

    What has to be measured is filled in. Raises KeyError for a detail that is not in the edition.
    """
    record = edition.kind("details")[detail]
    names, cells = ["id", "count", "detail"], [f"{detail}-1", "1", detail]
    for item in inputs(edition):
        if item.name == "count" or item.place[0] == "now":
            continue
        taken = [t for t in item.record.get("taken") if detail in t.get("details", (detail,))]
        if not taken:
            continue
        example = str(item.record.get("example"))
        if item.name == "members" and not example.startswith(tuple(record.get("sections", ("",)))):
            example = ROUND
        names.append(item.reads[:-1] if item.reads in LISTS else item.record.id)
        cells.append(example if any(t.get("measured") for t in taken) else "")
    return names, cells
