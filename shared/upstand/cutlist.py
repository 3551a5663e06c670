"""The door for cutting: pieces and rolls in, a plan out that is cut from edge to edge."""

from __future__ import annotations

from dataclasses import dataclass

from upstand import __version__
from upstand.cutting.model import CutPlan
from upstand.cutting.nest import nest
from upstand.edition import Edition
from upstand.query.cutlist import CutListQuery

__all__ = ["CutList", "cut_list"]


@dataclass(frozen=True, slots=True)
class CutList:
    """A cutting plan: a function of edition (for the rolls where none are named) and query."""

    edition: Edition
    software: str
    query: CutListQuery
    plan: CutPlan


def cut_list(query: CutListQuery, edition: Edition) -> CutList:
    """Nest the pieces on the rolls."""
    return CutList(edition, __version__, query, nest(query.pieces, query.rolls))
