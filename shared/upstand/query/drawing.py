"""The question `drawing`: one detail, and the view of it that is wanted."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from upstand.edition import Edition
from upstand.query.faults import Fault, QueryFaults, nearest
from upstand.query.model import Query
from upstand.query.requirements import read_requirements
from upstand.telling.said import say

__all__ = ["VIEWS", "DrawingQuery", "read_drawing"]

VIEWS = ("plan", "section", "cut-sheet")


@dataclass(frozen=True, slots=True)
class DrawingQuery:
    """One detail as described, and which view of it."""

    view: str
    detail: Query


def read_drawing(body: object, edition: Edition) -> DrawingQuery:
    """Read a detail's description and the view; raises QueryFaults with all that is wrong."""
    if not isinstance(body, Mapping):
        raise QueryFaults([Fault("", say("not-a-detail-object"))])
    faults: list[Fault] = []
    view = body.get("view")
    if view is None:
        faults.append(Fault("/view", say("missing-choice", VIEWS, known=VIEWS)))
    elif not isinstance(view, str):
        faults.append(Fault("/view", say("not-text-choice", VIEWS, known=VIEWS)))
    elif view not in VIEWS:
        told = say("unknown-view", word=view[:64], nearest=nearest(view, VIEWS))
        faults.append(Fault("/view", told))
    rest = {name: value for name, value in body.items() if name != "view"}
    try:
        detail = read_requirements(rest, edition)
    except QueryFaults as error:
        raise QueryFaults([*faults, *error.faults]) from None
    if faults or not isinstance(view, str):
        raise QueryFaults(faults)
    return DrawingQuery(view, detail)
