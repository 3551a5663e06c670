"""Fields of what is done: details, activities, checks, and the tools for them."""

from __future__ import annotations

from collections.abc import Mapping

from upstand.edition.schema.kinds.vocabulary import (
    BY,
    CONTACT,
    HAZARD_LIST,
    IDS,
    NAME,
    PROSE,
    PROSES,
    STAGES,
    STOP,
    WHEN,
    refs,
)
from upstand.edition.schema.shapes import (
    AnyOf,
    Choice,
    Field,
    Fields,
    Flag,
    ListOf,
    Prose,
    Ref,
    Whole,
    Words,
    may,
    must,
)
from upstand.edition.schema.values import Statement, ValueOf

__all__ = ["ACTIVITIES", "CHECKS", "DETAILS", "TOOLS"]

FAILURE = Fields(
    {
        "sign": must(PROSE, "what is seen"),
        "repair": must(Prose(figures=True), "what is done about it"),
    }
)

WORK = Fields(
    {
        "activity": must(Ref(("activities",)), "the step that it belongs to"),
        "say": must(PROSE, "what this detail adds at that step"),
        "tools": may(refs("tools"), "brought for it"),
    }
)

FAMILIES = ("upright", "cluster", "wall", "opening", "strip")

DIFFERS = Fields(
    {
        "besides": may(refs("activities"), "done here besides the common ones"),
        "without": may(refs("activities"), "common ones that are not done here"),
    }
)

DETAILS: Mapping[str, Field] = {
    **NAME,
    "what": must(PROSE, "what it is"),
    "right_when": must(PROSES, "when to build it"),
    "wrong_when": must(ListOf(Prose(figures=True)), "when not to"),
    "family": must(Choice(FAMILIES), "how it is laid out"),
    "in_lengths": may(Flag(), "laid in lengths, so in less time for its area"),
    "sections": may(ListOf(Ref(("sections",), bare=True)), "sections its members may have"),
    "activities": may(
        AnyOf((refs("activities"), DIFFERS)),
        "what differs from the common ones; a list: these alone",
    ),
    "checks": must(refs("checks"), "looked at and recorded"),
    "confirm": must(refs("checks"), "what a query cannot tell, ticked on the roof"),
    "limits": may(refs("limits"), "these alone; else all that apply to it"),
    "hazards": must(HAZARD_LIST, "what harm the place itself can do"),
    "failures": must(ListOf(FAILURE), "signs of bad work, and the cure"),
    "stops": may(ListOf(STOP), "where work stops whatever the figures"),
    "dimensions": may(ListOf(Statement()), "least measures of this detail, in words"),
    "work": may(ListOf(WORK), "what this detail adds to its activities"),
}

NEEDS = (
    "always",
    "preparation",
    "grinding",
    "primer",
    "resin",
    "rusting-metal",
    "night",
    "thin",
)
SCOPE = Choice(("detail", "primer", "resin"))

HOLD = Fields(
    {
        "id": must(Words("an id of a-z, 0-9 and -", IDS), "names the hold point"),
        "say": must(Prose(slots=True), "what has to be so before work goes on"),
        "per": must(SCOPE, "asked once, or for each primer or resin"),
        "after": may(
            ListOf(Choice(("cure", "flash-off", "watertight"))), "waits that must be over"
        ),
        "within": may(Choice(("cover-within", "recoat")), "the window that runs from here"),
        "until": may(Ref(("activities",)), "the step that it holds back"),
    }
)

ACTIVITIES: Mapping[str, Field] = {
    **NAME,
    "say": must(Prose(slots=True), "the step in words"),
    "say_open": may(Prose(slots=True), "in words where quantities are not computed"),
    "say_flat": may(Prose(slots=True), "in words where nothing stands up"),
    "needs": must(Choice(NEEDS), "what calls for it"),
    "stage": must(Choice(STAGES), "what it is part of"),
    "order": must(Whole(0, 999), "its place among the others"),
    "common": may(Flag(), "done at every detail that does not leave it out"),
    "per": may(SCOPE, "done once, or for each primer or resin"),
    "minutes": may(ValueOf("time"), "of one worker, on a post"),
    "holds": may(ListOf(HOLD), "hold points before the next step"),
    "tools": may(refs("tools"), "with what"),
    "hazards": may(HAZARD_LIST, "what harm it can do"),
}

CHECKS: Mapping[str, Field] = {
    **NAME,
    "stage": must(Choice(("confirm", "hold", "inspect")), "before, at a hold point, or after"),
    "method": must(PROSE, "how it is looked at"),
    "acceptance": must(PROSE, "what is good enough"),
    "whom": may(CONTACT, "who has to say so"),
    "tools": may(refs("tools"), "with what"),
    "by": may(Choice(BY), "by when it is confirmed"),
    "when": may(WHEN, "what calls it, besides the records that list it: any of, all of"),
    "standard": may(Statement(), "a published measure"),
}

SORTS = ("tool", "abrasive", "cleaner", "consumable", "gauge", "protective")

TOOLS: Mapping[str, Field] = {
    **NAME,
    "sort": must(Choice(SORTS), "what sort of thing"),
    "use": must(PROSE, "what for"),
    "hazards": may(HAZARD_LIST, "what harm it can do"),
    "keeps": may(Flag(), "what is left keeps"),
}
