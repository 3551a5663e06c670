"""Fields of what is used up: primers, resins, fleeces and their packs."""

from __future__ import annotations

from collections.abc import Mapping

from upstand.edition.schema.kinds.vocabulary import HAZARD_LIST, NAME, PROSE, PROSES, STOP, refs
from upstand.edition.schema.shapes import Choice, Field, Fields, Flag, ListOf, Ref, may, must
from upstand.edition.schema.values import DoseOf, PairOf, RangeOf, TimeOf, ValueOf

__all__ = ["FLEECES", "PACKS", "PRIMERS", "RESINS"]

TEMPERATURES = RangeOf("temperature")
MIXING = may(ValueOf("time"), "how long the parts are stirred")

PRIMERS: Mapping[str, Field] = {
    **NAME,
    "family": must(PROSE, "the surfaces it is for"),
    "parts": must(Choice((1, 2)), "one can, or two that react"),
    "cure_kind": must(Choice(("reaction", "solvent", "humidity", "catalysed")), "how it dries"),
    "activity": must(Ref(("activities",)), "the priming step it belongs to"),
    "method": must(PROSE, "how it is put on"),
    "under": may(ListOf(PairOf(), 1), "resins that it goes under, and how that is known"),
    "mixing": MIXING,
    "pot_life": may(TimeOf(), "how long it can be used once mixed"),
    "cure": may(TimeOf(), "wait before resin"),
    "flash_off": may(TimeOf(words=True), "wait until its solvent has left; or the sign of it"),
    "cover_within": must(TimeOf(words=True), "end of priming to start of resin, at most"),
    "coverage": must(ValueOf("coverage"), "area that a gallon covers in one coat"),
    "coats": must(ValueOf("count"), "coats, where the substrate does not say"),
    "times_at": may(ValueOf("temperature"), "the temperature its times hold at"),
    "application": must(TEMPERATURES, "air and surface"),
    "storage": must(TEMPERATURES, "where it is kept"),
    "hazards": must(HAZARD_LIST, "what harm it can do"),
    "never": may(PROSES, "what is never done to a surface before it"),
    "neighbours": must(PROSES, "what it does to what is near, and when"),
    "keeps_open": must(Flag(), "what is left in the can keeps"),
}

LAYERS = Fields(
    {
        "base": must(ValueOf("film"), "what must remain below the fleece"),
        "top": must(ValueOf("film"), "over the fleece"),
        "bed": must(ValueOf("film"), "between fleece and fleece, where pieces lap"),
        "top_band": must(RangeOf("film"), "what the top coat may measure"),
    }
)

RESINS: Mapping[str, Field] = {
    **NAME,
    "parts": must(Choice((1, 2)), "one pail, or two that react"),
    "cure_kind": must(Choice(("reaction", "catalysed", "humidity")), "how it sets"),
    "pot_life": may(TimeOf(), "how long it can be used once mixed"),
    "skin_time": may(TimeOf(), "until a skin forms"),
    "cure": must(TimeOf(), "until it bears work over it"),
    "watertight": must(TimeOf(), "until rain does no harm"),
    "recoat_within": may(TimeOf(words=True), "window for a later coat; none on file: ask"),
    "application": must(TEMPERATURES, "air and surface"),
    "storage": must(TEMPERATURES, "where it is kept"),
    "humidity": may(RangeOf("fraction"), "of the air, for what cures by it"),
    "mixing": MIXING,
    "whole_packs": must(Flag(), "never part of a pack"),
    "layers": must(LAYERS, "thickness of each layer"),
    "film": must(RangeOf("film"), "whole film, fleece included"),
    "fleece": may(Ref(("fleeces",)), "the fleece of the system"),
    "volume_solids": may(ValueOf("fraction"), "what stays of it, by volume"),
    "max_pass": may(ValueOf("film"), "thickest single pass"),
    "tools": may(refs("tools"), "what it takes besides"),
    "dose": may(DoseOf(), "catalyst, by weight, at temperatures"),
    "hazards": must(HAZARD_LIST, "what harm it can do"),
    "never": may(PROSES, "what is never done to a surface before it"),
    "neighbours": must(PROSES, "what it does to what is near"),
    "stops": may(ListOf(STOP), "where work stops"),
    "notes": must(PROSES, "what its users have learnt"),
    "confirm": may(refs("checks"), "what is ticked on the roof"),
}

FLEECES: Mapping[str, Field] = {
    **NAME,
    "thickness": must(ValueOf("film"), "dry, as delivered"),
    "areal_mass": must(ValueOf("areal_mass"), "weight of an area"),
    "fibre_density": must(ValueOf("density"), "of the fibre itself"),
}

PACKS: Mapping[str, Field] = {
    **NAME,
    "of": must(Ref(("resins", "primers", "fleeces", "tools")), "what is in it"),
    "size": may(ValueOf("volume"), "liquid in it"),
    "width": may(ValueOf("length"), "of the roll"),
    "length": may(ValueOf("length"), "of the roll"),
    "pre_proportioned": may(Flag(), "parts measured for each other: whole or nothing"),
}
