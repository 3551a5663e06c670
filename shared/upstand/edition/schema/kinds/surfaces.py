"""Fields of what the work is done to: substrates and how each is prepared."""

from __future__ import annotations

from collections.abc import Mapping

from upstand.edition.schema.kinds.vocabulary import HAZARD_LIST, NAME, PROSE, PROSES, STOP, refs
from upstand.edition.schema.shapes import AnyOf, Choice, Field, Fields, Flag, ListOf, Ref, may, must
from upstand.edition.schema.values import RangeOf, Statement, ValueOf

__all__ = ["PREPARATIONS", "SUBSTRATES"]

FAMILIES = (
    "metal",
    "thermoplastic",
    "epdm",
    "bituminous",
    "masonry",
    "wood",
    "plastic",
    "resin",
    "hazardous",
)
USES = ("member", "plate", "roof", "wall", "deck", "edge")

SUBSTRATES: Mapping[str, Field] = {
    **NAME,
    "family": must(Choice(FAMILIES), "what it is kin to"),
    "used_as": must(ListOf(Choice(USES), 1), "where in a detail it is met"),
    "primer": must(Ref(("primers",), ("none", "ask")), "the primer it takes"),
    "primer_why": may(PROSE, "why it takes none, or whom and what to ask"),
    "primer_coats": may(ValueOf("count"), "coats of primer, where not one"),
    "preparation": must(Ref(("preparations",), ("none",)), "how it is made ready"),
    "roughness": must(ValueOf("film"), "resin that fills its face, added to the first coat"),
    "sound": must(PROSE, "how a sound surface is told"),
    "tests": must(PROSES, "what to try before the job"),
    "traps": must(PROSES, "what goes wrong on it"),
    "dry_before_primer": must(PROSE, "how dry it has to be"),
    "hazards": must(HAZARD_LIST, "what harm working it can do"),
    "confirm": must(refs("checks"), "what is ticked on the roof"),
    "rusts": may(Flag(), "bare above the line it gets paint"),
    "stops": may(ListOf(STOP), "where work stops"),
}

STEP = Fields(
    {
        "activity": must(Ref(("activities",)), "degrease, grind, abrade or clean"),
        "do": must(PROSE, "what is done"),
        "tools": must(refs("tools"), "with what"),
        "grit": may(AnyOf((ValueOf("count"), RangeOf("count"))), "grit of disc or paper"),
        "target": must(PROSE, "what it looks like when it is right"),
        "standard": may(Statement(), "a published measure of it"),
        "wait": may(PROSE, "what to wait for before the next step"),
        "hazards": may(HAZARD_LIST, "what harm this step can do"),
    }
)

PREPARATIONS: Mapping[str, Field] = {
    **NAME,
    "steps": must(ListOf(STEP, 1), "in order"),
    "again_after_night": must(PROSE, "what is done again next morning"),
    "never": must(PROSES, "what is never done to it"),
}
