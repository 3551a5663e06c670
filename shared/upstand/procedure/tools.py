"""Tools: what the steps of an answer call for, each once, in the order it is first needed."""

from __future__ import annotations

from collections.abc import Iterable

from upstand.edition import Edition, Record
from upstand.procedure.steps import Procedure
from upstand.query.defaults import Settled

__all__ = ["find_tools"]


def find_tools(
    settled: Settled, procedure: Procedure, checks: Iterable[Record], edition: Edition
) -> tuple[Record, ...]:
    """Return the tools of preparations, activities, the detail's own work, resin and checks."""
    paths: dict[str, None] = {}
    for step in procedure.steps:
        for part in step.preparations:
            paths |= dict.fromkeys(part.record.get("steps")[part.step].get("tools", ()))
        paths |= dict.fromkeys(step.activity.get("tools", ()))
        for work in settled.detail.get("work", ()):
            if work["activity"] == step.activity.path:
                paths |= dict.fromkeys(work.get("tools", ()))
    if procedure.steps:
        for record in (settled.resin, *checks):
            paths |= dict.fromkeys(record.get("tools", ()))
    return tuple(edition.record(path) for path in paths)
