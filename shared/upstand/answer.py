"""The door: one question about one detail, one whole answer.

    Query -> Layout -> Needs -> Times -> Materials -> Verdict -> Procedure -> Answer

Each stage is a pure function of the earlier ones and the edition.
"""

from __future__ import annotations

from dataclasses import dataclass

from upstand import __version__
from upstand.edition import Edition, Record
from upstand.edition.lacking import LACKING, Lacks
from upstand.layout import Layout, LayoutRefusal, lay_out, touches_hazard
from upstand.procedure.cautions import Caution, find_cautions
from upstand.procedure.checks import called_checks
from upstand.procedure.steps import Procedure
from upstand.procedure.triggers import stop_triggers
from upstand.procedure.work import Work, find_work
from upstand.query.defaults import Settled, settle
from upstand.query.faults import Fault, QueryFaults
from upstand.query.model import Query
from upstand.stages.dew_point import Dew, find_dew
from upstand.stages.ground import Ground, find_ground
from upstand.stages.materials import NO_TAKEOFF, Takeoff, take_off
from upstand.stages.needs import NO_NEEDS
from upstand.stages.packs import TooWide
from upstand.stages.since import Standing, find_standing
from upstand.stages.times import Timing, find_times, no_times
from upstand.telling.said import say
from upstand.verdict.detail import Judge
from upstand.verdict.model import Verdict


@dataclass(frozen=True, slots=True)
class Answer:
    """A whole answer: a function of edition (overlay included), software and query."""

    edition: Edition
    software: str
    settled: Settled
    ground: Ground
    takeoff: Takeoff
    timing: Timing
    dew: Dew
    verdict: Verdict
    work: Work
    standing: tuple[Standing, ...] = ()

    @property
    def layout(self) -> Layout:
        """Where surfaces, tape and fleece lie."""
        return self.ground.layout

    @property
    def procedure(self) -> Procedure:
        """The steps in order."""
        return self.work.procedure

    @property
    def cautions(self) -> tuple[Caution, ...]:
        """What the work calls for, the gravest first."""
        return self.work.cautions

    @property
    def checks(self) -> tuple[Record, ...]:
        """What is inspected."""
        return self.work.checks

    @property
    def tools(self) -> tuple[Record, ...]:
        """What is needed at hand, in the order it is first needed."""
        return self.work.tools


def answer(query: Query, edition: Edition, *, listed: bool = False) -> Answer:
    """Answer one question from one edition.

    listed : whether it is one of many details, for which packs are chosen, and what is to be
    confirmed is told, once for all of them or not at all: here neither is.

    Raises
    ------
    QueryFaults : the description can't be laid out; every reason, with its JSON pointer.

    A stage for which the edition lacks something gives nothing, and the verdict asks about it.
    """
    try:
        settled = settle(query, edition)
    except LACKING as lack:
        told = say("edition-lacks", edition=edition.id, wanted=lack.wanted)
        raise QueryFaults([Fault("/edition", told)]) from None
    if touches_hazard(settled, edition):
        return _stop(settled, edition)
    try:
        ground = find_ground(settled, edition)
    except LayoutRefusal as refusal:
        raise QueryFaults(Fault(where, what) for where, what in refusal.reasons) from None
    lacks = Lacks(ground.lacks)
    primers, layout = ground.primers, ground.layout
    timing = lacks.or_else(
        lambda: find_times(settled, primers, edition), lambda: no_times(query.now)
    )
    try:
        takeoff = lacks.or_else(
            lambda: take_off(settled, ground, timing, edition, packs=not listed), lambda: NO_TAKEOFF
        )
    except TooWide as wide:
        told = say("piece-too-wide", piece=f"{wide.piece_in:.1f}", roll=f"{wide.roll_in:g}")
        raise QueryFaults([Fault("", told)]) from None
    dew = find_dew(query.now, edition)
    work = find_work(settled, layout, takeoff, edition)
    lacks.add(work.lacks)
    standing: tuple[Standing, ...] = lacks.or_else(
        lambda: find_standing(settled, primers, timing, edition), tuple
    )
    judge = Judge(settled, layout, takeoff, timing, dew, standing, work.checks, edition)
    return Answer(
        edition=edition,
        software=__version__,
        settled=settled,
        ground=ground,
        takeoff=takeoff,
        timing=timing,
        dew=dew,
        verdict=judge.judge(lacks.wanted, checks=not listed),
        work=work,
        standing=standing,
    )


def _stop(settled: Settled, edition: Edition) -> Answer:
    """Answer where nobody may touch a surface: the stop, its danger, edge and openings alone."""
    layout = lay_out(settled, edition)
    timing, dew = no_times(settled.query.now), find_dew(settled.query.now, edition)
    triggers = stop_triggers(layout, edition)
    checks = called_checks(triggers, edition)
    judge = Judge(settled, layout, NO_TAKEOFF, timing, dew, (), checks, edition)
    return Answer(
        edition=edition,
        software=__version__,
        settled=settled,
        ground=Ground(layout, NO_NEEDS, ()),
        takeoff=NO_TAKEOFF,
        timing=timing,
        dew=dew,
        verdict=judge.judge_stop(),
        work=Work(Procedure(()), find_cautions(triggers, edition), checks),
    )
