"""Closed lists of words that several kinds share."""

from __future__ import annotations

from collections.abc import Mapping

from upstand.edition.schema.shapes import (
    Choice,
    Field,
    Fields,
    ListOf,
    Prose,
    Ref,
    Words,
    may,
    must,
)

__all__ = [
    "BY",
    "CONTACTS",
    "FACTS",
    "FACT_UNITS",
    "HAZARDS",
    "HAZARD_LIST",
    "IDS",
    "LIMIT_SLOTS",
    "PROSE",
    "PROSES",
    "STAGES",
    "STEP_SLOTS",
    "STOP",
    "TRIGGERS",
    "TRIGGER_KINDS",
    "WHEN",
    "refs",
]

STAGES = (
    "open",
    "prepare",
    "watch",
    "clean",
    "mask",
    "fit",
    "prime",
    "lay",
    "finish",
    "close",
)
"""What an activity is part of; a limit on the weather governs some of them."""

HAZARDS = (
    "arsenic",
    "asbestos",
    "biological",
    "creosote",
    "drain-plug",
    "dust",
    "falls",
    "gas-line",
    "heat-in-pail",
    "hot-surface",
    "isocyanate",
    "lead",
    "lifting",
    "live-electrical",
    "methacrylate",
    "odour",
    "old-coating",
    "openings",
    "peroxide",
    "power-tool",
    "silica",
    "skin-eyes",
    "solvent",
    "sparks",
    "weather",
)
"""What can do harm. Each that is used anywhere needs a caution."""

CONTACTS = (
    "product-maker",
    "sheet-maker",
    "roof-designer",
    "licensed-trade",
    "testing-laboratory",
    "site-safety",
    "crew-lead",
)
"""Whom an ask goes to."""

FACTS: Mapping[str, str] = {
    "air": "temperature",
    "bonded": "length",
    "clearance": "length",
    "humidity": "fraction",
    "margin": "temperature_difference",
    "material": "temperature",
    "rain_chance": "fraction",
    "surface": "temperature",
    "surface_warmest": "temperature",
    "wet": "flag",
    "wind": "speed",
}
"""What a limit can be of besides a size that is asked for, and its dimension."""

FACT_UNITS: Mapping[str, str] = {
    "temperature": "degF",
    "temperature_difference": "delta_degF",
    "length": "in",
    "fraction": "percent",
    "speed": "mph",
}
"""Unit in which facts of a dimension are compared."""

LIMIT_SLOTS = (
    "found",
    "product",
    "limit",
    "range",
    "resin",
    "planned",
    "watertight",
    "cured",
    "least",
    "dew_point",
    "dew_kind",
)
"""Slots that the words of a limit may hold."""

STEP_SLOTS = (
    "again_text",
    "base",
    "corners",
    "cure",
    "dew_limit",
    "drink",
    "film",
    "flange",
    "height",
    "lap",
    "line_height",
    "mask",
    "mix",
    "pieces_text",
    "plates_text",
    "primer",
    "primer_method",
    "primer_ready",
    "primer_surfaces",
    "primer_window",
    "recoat",
    "resin_need",
    "reveal",
    "tape",
    "top",
    "watertight",
    "whole_pack",
)
"""Slots that the words of an activity may hold."""

BY = ("days-ahead", "before-ladder", "before-pail", "until-watertight")
"""By when a check has to be confirmed, the earliest first."""

TRIGGERS = ("always", "members", "plates", "resin", "primer")
"""Tokens without an id that cautions and checks may hang on."""

TRIGGER_KINDS: Mapping[str, str] = {
    "activity": "activities",
    "detail": "details",
    "primer": "primers",
    "resin": "resins",
    "section": "sections",
    "substrate": "substrates",
    "tool": "tools",
}
"""Tokens with an id, and the kind of record that it names; besides, ``hazard`` and ``family``."""

IDS = r"[a-z0-9-]{1,64}"
NAMES = r"[a-z][a-z0-9_]{0,63}"

PROSE = Prose()
PROSES = ListOf(PROSE)
HAZARD = Choice(HAZARDS, "a hazard")
HAZARD_LIST = ListOf(HAZARD)
CONTACT = Choice(CONTACTS, "whom to ask")


WHEN = ListOf(ListOf(Words("a token such as hazard/silica"), 1), 1)
"""What calls a record: any of these groups, all tokens of a group."""


def refs(*kinds: str) -> ListOf:
    """Return the shape of a list of ids of the kinds."""
    return ListOf(Ref(kinds))


STOP = Fields(
    {
        "id": must(Words("an id of a-z, 0-9 and -", IDS), "names the stop within its record"),
        "state": must(Choice(("hold", "ask")), "what the verdict becomes"),
        "because": must(PROSE, "why work stops"),
        "clears": must(PROSE, "what would clear it"),
        "whom": must(CONTACT, "whom to ask"),
        "facts": must(ListOf(PROSE, 2), "what to have at hand when asking"),
        "unless": may(Words("a field's name", NAMES), "falls away once the record has this field"),
        "confirmed": may(Ref(("checks",)), "falls away once the question says it is confirmed"),
    }
)
"""Where work stops whatever the figures."""

NAME: dict[str, Field] = {
    "name": must(PROSE, "what a crew calls it"),
    "note": may(PROSE, "what else there is to say"),
}
"""Fields that every record has."""
