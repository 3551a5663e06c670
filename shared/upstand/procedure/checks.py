"""Checks: what a detail has inspected, and what its substances, tools and place call for."""

from __future__ import annotations

from upstand.edition import Edition, Record
from upstand.procedure.triggers import called_by
from upstand.query.defaults import Settled

__all__ = ["called_checks", "find_checks"]


def find_checks(settled: Settled, triggers: frozenset[str], edition: Edition) -> tuple[Record, ...]:
    """Return the checks that a detail lists, in its order, then those that the triggers call."""
    paths = dict.fromkeys(settled.detail.get("checks", ()))
    called = called_checks(triggers, edition)
    return (
        *(edition.record(path) for path in paths),
        *(check for check in called if check.path not in paths),
    )


def called_checks(triggers: frozenset[str], edition: Edition) -> tuple[Record, ...]:
    """Return the checks that the triggers call."""
    return tuple(c for c in edition.kind("checks").values() if any(called_by(c, triggers)))
