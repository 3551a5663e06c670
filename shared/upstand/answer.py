"""The door: one question about one detail, one whole answer.

    Query -> Layout -> Needs -> Times -> Materials -> Verdict -> Procedure -> Answer

Each stage is a pure function of the earlier ones and the edition.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeVar

from upstand import __version__
from upstand.edition import Edition, Record
from upstand.layout import Layout, LayoutRefusal, lay_out, touches_hazard
from upstand.layout.no_geometry import list_surfaces
from upstand.procedure.cautions import Caution, find_cautions
from upstand.procedure.checks import called_checks, find_checks
from upstand.procedure.steps import Procedure, order_steps
from upstand.procedure.tools import find_tools
from upstand.procedure.triggers import find_triggers, stop_triggers
from upstand.query.defaults import Settled, settle
from upstand.query.faults import Fault, QueryFaults
from upstand.query.model import Query
from upstand.stages.dew_point import Dew, find_dew
from upstand.stages.materials import NO_TAKEOFF, Takeoff, take_off
from upstand.stages.needs import NO_NEEDS, find_needs
from upstand.stages.since import Standing, find_standing
from upstand.stages.times import Timing, find_times, no_times
from upstand.verdict.detail import Judge
from upstand.verdict.lacking import LACKING
from upstand.verdict.model import Verdict

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Answer:
    """A whole answer: a function of edition (overlay included), software and query."""

    edition: Edition
    software: str
    settled: Settled
    layout: Layout
    takeoff: Takeoff
    timing: Timing
    dew: Dew
    verdict: Verdict
    procedure: Procedure
    cautions: tuple[Caution, ...]
    checks: tuple[Record, ...]
    tools: tuple[Record, ...]
    standing: tuple[Standing, ...] = ()


def answer(query: Query, edition: Edition) -> Answer:
    """Answer one question from one edition.

    Raises
    ------
    QueryFaults : the description can't be laid out; every reason, with its JSON pointer.

    A stage for which the edition lacks something gives nothing, and the verdict asks about it.
    """
    try:
        settled = settle(query, edition)
    except LACKING as lack:
        told = f"{edition.id} does not hold {lack.wanted}, which this software reads: name another"
        raise QueryFaults([Fault("/edition", told)]) from None
    if touches_hazard(settled, edition):
        return _stop(settled, edition)
    lacks: dict[str, None] = {}

    def or_else(stage: Callable[[], T], instead: T) -> T:
        """Run a stage; what an older edition lacks for it is asked about, never an error."""
        try:
            return stage()
        except LACKING as lack:
            lacks[lack.wanted] = None
            return instead

    unlaid = list_surfaces(settled, edition, "no-quantity-edition")
    try:
        layout = or_else(lambda: lay_out(settled, edition), unlaid)
    except LayoutRefusal as refusal:
        raise QueryFaults(Fault(where, what) for where, what in refusal.reasons) from None
    needs = or_else(lambda: find_needs(settled, layout, edition), NO_NEEDS)
    primers = [edition.record(path) for path in dict.fromkeys(needs.primer_of.values())]
    timing = or_else(lambda: find_times(settled, primers, edition), no_times(query.now))
    takeoff = or_else(lambda: take_off(settled, layout, needs, timing, edition), NO_TAKEOFF)
    dew = find_dew(query.now, edition)
    procedure = or_else(
        lambda: order_steps(settled, layout, takeoff, timing, edition), Procedure(())
    )
    triggers: frozenset[str] = or_else(
        lambda: find_triggers(settled, layout, takeoff, procedure.activities(), edition),
        frozenset(),
    )
    cautions: tuple[Caution, ...] = or_else(lambda: find_cautions(triggers, edition), ())
    checks: tuple[Record, ...] = or_else(lambda: find_checks(settled, triggers, edition), ())
    tools: tuple[Record, ...] = or_else(lambda: find_tools(settled, procedure, checks, edition), ())
    standing: tuple[Standing, ...] = or_else(
        lambda: find_standing(settled, primers, timing, edition), ()
    )
    verdict = Judge(settled, layout, takeoff, timing, dew, standing, checks, edition).judge(lacks)
    return Answer(
        edition=edition,
        software=__version__,
        settled=settled,
        layout=layout,
        takeoff=takeoff,
        timing=timing,
        dew=dew,
        verdict=verdict,
        procedure=procedure,
        cautions=cautions,
        checks=checks,
        tools=tools,
        standing=standing,
    )


def _stop(settled: Settled, edition: Edition) -> Answer:
    """Answer where nobody may touch a surface: the stop, its danger, edge and openings alone."""
    layout = lay_out(settled, edition)
    timing, dew = no_times(settled.query.now), find_dew(settled.query.now, edition)
    triggers = stop_triggers(layout, edition)
    checks = called_checks(triggers, edition)
    verdict = Judge(settled, layout, NO_TAKEOFF, timing, dew, (), checks, edition).judge_stop()
    return Answer(
        edition=edition,
        software=__version__,
        settled=settled,
        layout=layout,
        takeoff=NO_TAKEOFF,
        timing=timing,
        dew=dew,
        verdict=verdict,
        procedure=Procedure(()),
        cautions=find_cautions(triggers, edition),
        checks=checks,
        tools=(),
    )
