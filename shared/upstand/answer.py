"""The door: one question about one detail, one whole answer.

    Query -> Layout -> Needs -> Times -> Materials -> Verdict -> Procedure -> Answer

Each stage is a pure function of the earlier ones and the edition.
"""

from __future__ import annotations

from dataclasses import dataclass

from upstand import __version__
from upstand.edition import Edition, Record
from upstand.layout import Layout, LayoutRefusal, lay_out
from upstand.procedure.cautions import Caution, find_cautions, find_triggers
from upstand.procedure.checks import find_checks
from upstand.procedure.steps import Procedure, order_steps
from upstand.procedure.tools import find_tools
from upstand.query.defaults import Settled, settle
from upstand.query.faults import Fault, QueryFaults
from upstand.query.model import Query
from upstand.stages.dew_point import Dew, find_dew
from upstand.stages.materials import Takeoff, take_off
from upstand.stages.needs import find_needs
from upstand.stages.times import Timing, find_times
from upstand.verdict.detail import Judge
from upstand.verdict.model import Verdict


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


def answer(query: Query, edition: Edition) -> Answer:
    """Answer one question from one edition.

    Raises
    ------
    QueryFaults : the description can't be laid out; every reason, with its JSON pointer.
    """
    settled = settle(query, edition)
    try:
        layout = lay_out(settled, edition)
    except LayoutRefusal as refusal:
        raise QueryFaults(Fault(where, what) for where, what in refusal.reasons) from None
    needs = find_needs(settled, layout, edition)
    primers = [edition.record(path) for path in dict.fromkeys(needs.primer_of.values())]
    timing = find_times(settled, primers, edition)
    takeoff = take_off(settled, layout, needs, timing, edition)
    dew = find_dew(query.now)
    verdict = Judge(settled, layout, takeoff, timing, dew, edition).judge()
    procedure = order_steps(settled, layout, takeoff, timing, edition)
    triggers = find_triggers(settled, layout, takeoff, procedure.activities(), edition)
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
        cautions=find_cautions(triggers, edition),
        checks=find_checks(settled, edition),
        tools=find_tools(settled, procedure, edition),
    )
