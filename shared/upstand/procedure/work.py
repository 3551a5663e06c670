"""The work an answer takes: it hangs on what the surfaces are made of, not on their sizes."""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import dataclass, field
from typing import Any, Final

from upstand.edition import Edition, Record
from upstand.edition.lacking import Lacks
from upstand.layout import Layout
from upstand.procedure.cautions import Caution, find_cautions
from upstand.procedure.checks import find_checks
from upstand.procedure.steps import Procedure, order_steps
from upstand.procedure.tools import find_tools
from upstand.procedure.triggers import find_triggers
from upstand.query.defaults import Settled
from upstand.recall import Recall
from upstand.stages.materials import Takeoff

__all__ = ["Work", "find_work"]


@dataclass(frozen=True, slots=True, eq=False)
class Work:
    """The steps in order and what they call; `lacks` is what the edition lacks for them.

    written : what documents wrote down of it, by who reads it; it goes when this goes.
    """

    procedure: Procedure
    cautions: tuple[Caution, ...] = ()
    checks: tuple[Record, ...] = ()
    tools: tuple[Record, ...] = ()
    lacks: tuple[str, ...] = ()
    written: dict[Hashable, Any] = field(default_factory=dict, repr=False)


_KEPT: Final[Recall[Work]] = Recall(64)


def find_work(settled: Settled, layout: Layout, takeoff: Takeoff, edition: Edition) -> Work:
    """Put the work in order, and find what it calls; the last kinds of work are remembered."""
    key = (
        edition.digest,
        settled.detail.id,
        settled.resin.id,
        tuple([(s.id, s.substrate, s.role) for s in layout.surfaces]),
        tuple(dict.fromkeys(m.section for m in settled.members)),
        bool(settled.plates),
        tuple(takeoff.primer_of.items()),
        tuple([m.record.path for m in takeoff.materials]),
    )
    return _KEPT.get(key, lambda: _work(settled, layout, takeoff, edition))


def _work(settled: Settled, layout: Layout, takeoff: Takeoff, edition: Edition) -> Work:
    lacks = Lacks()
    procedure = lacks.or_else(
        lambda: order_steps(settled, layout, takeoff, edition), lambda: Procedure(())
    )
    triggers: frozenset[str] = lacks.or_else(
        lambda: find_triggers(settled, layout, takeoff, procedure.activities(), edition), frozenset
    )
    cautions: tuple[Caution, ...] = lacks.or_else(lambda: find_cautions(triggers, edition), tuple)
    checks: tuple[Record, ...] = lacks.or_else(
        lambda: find_checks(settled, triggers, edition), tuple
    )
    tools: tuple[Record, ...] = lacks.or_else(
        lambda: find_tools(settled, procedure, checks, edition), tuple
    )
    return Work(procedure, cautions, checks, tools, tuple(lacks.wanted))
