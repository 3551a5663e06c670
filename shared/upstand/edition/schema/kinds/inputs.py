"""Fields of what a question may hold: one record for each thing that is asked about a job."""

from __future__ import annotations

from collections.abc import Mapping

from upstand.edition.schema.kinds.vocabulary import IDS, NAME, NAMES, PROSE
from upstand.edition.schema.shapes import (
    AnyOf,
    Choice,
    Field,
    Fields,
    Flag,
    ListOf,
    MapOf,
    Prose,
    Ref,
    Whole,
    Words,
    may,
    must,
)
from upstand.edition.schema.values import ValueOf

__all__ = ["INPUTS", "READS"]

READS = (
    "length",
    "angle",
    "temperature",
    "fraction",
    "speed",
    "whole",
    "flag",
    "choice",
    "moment",
    "record",
    "members",
    "plates",
)
"""How an input is written: as a quantity, a number, yes or no, a word, a time, an id, or a list."""

TAKEN = Fields(
    {
        "details": may(ListOf(Ref(("details",), bare=True), 1), "these; else all others"),
        "when": may(MapOf(AnyOf((Flag(), Words()))), "only where other inputs are this"),
        "name": may(PROSE, "what a crew calls it there"),
        "how": may(PROSE, "how it is measured there"),
        "measured": may(Flag(), "there is no default: it has to be measured"),
        "default": may(ValueOf("any"), "what is taken where nothing is said"),
        "parameter": may(Ref(("parameters",)), "the figure or record taken where nothing is said"),
        "choice": may(Words("a word of its choices", IDS), "the word taken where nothing is said"),
        "same": may(Words("the name of an input", NAMES), "the input it takes its default from"),
        "worked_out": may(Prose(figures=True), "how the layout finds its default"),
    }
)
"""Which details take it, and what is taken where nothing is said; else nothing is."""

INPUTS: Mapping[str, Field] = {
    **NAME,
    "reads": must(Choice(READS), "how it is written"),
    "order": must(Whole(0, 999), "its place among the others"),
    "at": may(Words("a path such as now.air", rf"{NAMES}(\.{NAMES})?"), "its place; else its id"),
    "option": may(Words("an option's name", IDS), "the terminal's option; else its id"),
    "opposite": may(Words("an option's name", IDS), "of yes or no: the option that says no"),
    "how": must(PROSE, "how it is measured, or what it means"),
    "example": must(Words(), "an accepted way of writing it"),
    "kind": may(Choice(("substrates", "resins", "fleeces")), "of a record: its kind"),
    "used_as": may(Words("a use of a substrate", NAMES), "of a record: only those used so"),
    "part": may(Words("the id of a part", IDS), "of a substrate: the part of the detail it is"),
    "named": may(Flag(), "of a part: only a surface that names it serves it"),
    "choices": may(MapOf(PROSE), "the words accepted, by id"),
    "limit": may(Ref(("limits",)), "the limit that bounds it"),
    "least": may(AnyOf((Whole(0, 999), ValueOf("any"))), "the least accepted; else more than zero"),
    "most": may(Whole(0, 999), "of a whole number: the most accepted"),
    "taken": must(ListOf(TAKEN, 1), "which details take it, and its default"),
}
