"""Fields of what stops work or warns, and of the figures that stages read."""

from __future__ import annotations

from collections.abc import Mapping

from upstand.edition.schema.kinds.vocabulary import (
    BY,
    CONTACT,
    HAZARD,
    NAME,
    NAMES,
    PROSE,
    PROSES,
    STAGES,
    WHEN,
)
from upstand.edition.schema.shapes import (
    AnyOf,
    Choice,
    Field,
    Fields,
    ListOf,
    MapOf,
    Prose,
    Ref,
    Whole,
    Words,
    may,
    must,
)
from upstand.edition.schema.values import Statement, ValueOf

__all__ = ["BOUNDS", "CAUTIONS", "LIMITS", "PARAMETERS"]

TAKE = Fields(
    {"take": must(Words("a path such as resin.application.low", r"[a-z]+(\.[a-z_]+)+"), "read it")}
)
ANY_VALUE = ValueOf("any")
BOUND = AnyOf((TAKE, ListOf(AnyOf((TAKE, ANY_VALUE)), 1), ANY_VALUE))

BOUNDS = ("at_least", "at_most", "under", "is")
"""How a fact is compared. A list of values: all must hold."""

LIMITS: Mapping[str, Field] = {
    **NAME,
    "of": must(Words("a fact or the name of an input", NAMES), "what is looked at"),
    "order": must(Whole(0, 999), "its place among the others"),
    "details": may(ListOf(Ref(("details",), bare=True), 1), "it applies to these alone"),
    "except": may(ListOf(Ref(("details",), bare=True), 1), "it does not apply to these"),
    "takes": may(Ref(("inputs",), bare=True), "it applies where a detail takes this input"),
    "unless": may(MapOf(Words()), "it does not apply where an input is this"),
    "governs": may(ListOf(Choice(STAGES)), "stages of the work that it holds up, of the weather"),
    "at_least": may(BOUND, "the fact is this or more"),
    "at_most": may(BOUND, "the fact is this or less"),
    "under": may(BOUND, "the fact is less than this"),
    "is": may(BOUND, "the fact is this"),
    "else": may(Choice(("hold", "ask", "refuse", "confirm")), "the verdict where it does not hold"),
    "missing": may(Choice(("ask", "confirm", "skip")), "the verdict where the fact is not known"),
    "because": may(Prose(slots=True), "why, with what was found and the limit"),
    "clears": may(Prose(slots=True), "what would clear it"),
    "clears_over": may(Prose(slots=True), "the same where the fact is too much, if that differs"),
    "clears_unknown": may(Prose(slots=True), "the same where the fact is not known"),
    "unknown": may(Prose(slots=True), "why it is asked where the fact is not known"),
    "confirm": may(Prose(slots=True), "what is ticked on the roof where the fact is not known"),
    "by": may(Choice(BY), "by when it is ticked"),
    "whom": may(CONTACT, "whom to ask"),
    "facts": may(PROSES, "what to have at hand when asking"),
}

PARAMETERS: Mapping[str, Field] = {
    **NAME,
    "value": may(ANY_VALUE, "the figure that stages read"),
    "choice": may(Ref(("resins", "substrates")), "a record that is taken where none is named"),
    "stricter": may(Choice(("more", "less", "neither")), "which way is stricter, where not `more`"),
}

CAUTIONS: Mapping[str, Field] = {
    **NAME,
    "hazard": must(HAZARD, "what it warns of"),
    "when": must(WHEN, "any of, all of"),
    "severity": must(Choice(("danger", "warning", "care")), "how bad"),
    "short": may(PROSE, "hazard and measure in about five words"),
    "say": must(PROSE, "what happens"),
    "measure": must(PROSE, "what is done about it"),
    "rules": must(ListOf(Statement()), "published rules"),
    "defers": must(PROSE, "what governs: data sheet, code, licensed trade"),
}
