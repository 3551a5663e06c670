"""Checks: what a detail has inspected, and what its substances, tools and place call for."""

from __future__ import annotations

from upstand.edition import Edition, Record
from upstand.layout import touches_hazard
from upstand.procedure.triggers import called_by
from upstand.query.defaults import Settled

__all__ = ["find_checks"]


def find_checks(settled: Settled, triggers: frozenset[str], edition: Edition) -> tuple[Record, ...]:
    """Return the checks that a detail lists, in its order, then those that the triggers call.

    Where nobody may work there is nothing to check but what bears on standing there.
    """
    paths = dict.fromkeys(settled.detail.get("checks", ()))
    called = [c for c in edition.kind("checks").values() if any(called_by(c, triggers))]
    if touches_hazard(settled, edition):
        return tuple(c for c in called if ["always"] in [list(t) for t in c.get("when")])
    return (
        *(edition.record(path) for path in paths),
        *(check for check in called if check.path not in paths),
    )
