"""The kinds of record and the fields each may have: the schema, as data.

>>> KINDS["fleeces"].fields["thickness"].means
'dry, as delivered'
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from upstand.edition.schema.kinds.inputs import INPUTS
from upstand.edition.schema.kinds.limits import CAUTIONS, LIMITS, PARAMETERS
from upstand.edition.schema.kinds.products import FLEECES, PACKS, PRIMERS, RESINS
from upstand.edition.schema.kinds.surfaces import PREPARATIONS, SUBSTRATES
from upstand.edition.schema.kinds.vocabulary import CONTACTS, HAZARDS, STAGES
from upstand.edition.schema.kinds.words import SECTIONS, SOURCES, TERMS, TOPICS, TROUBLES
from upstand.edition.schema.kinds.work import ACTIVITIES, CHECKS, DETAILS, TOOLS
from upstand.edition.schema.shapes import Fields

__all__ = ["CONTACTS", "HAZARDS", "KINDS", "STAGES"]

KINDS: Mapping[str, Fields] = MappingProxyType(
    {
        "substrates": Fields(SUBSTRATES, "surfaces that a detail meets"),
        "primers": Fields(PRIMERS, "primers, by family"),
        "resins": Fields(RESINS, "resin systems, by family"),
        "fleeces": Fields(FLEECES, "the reinforcement"),
        "packs": Fields(PACKS, "what a product is sold in"),
        "details": Fields(DETAILS, "what is built"),
        "preparations": Fields(PREPARATIONS, "how a surface is made ready"),
        "activities": Fields(ACTIVITIES, "steps of the work"),
        "limits": Fields(LIMITS, "what stops work"),
        "parameters": Fields(PARAMETERS, "figures that stages read"),
        "inputs": Fields(INPUTS, "what a question may hold"),
        "cautions": Fields(CAUTIONS, "what can do harm, and what is done about it"),
        "checks": Fields(CHECKS, "what is looked at, and what is good enough"),
        "tools": Fields(TOOLS, "tools, cleaners and other things to bring"),
        "sections": Fields(SECTIONS, "shapes of members and listed sizes"),
        "terms": Fields(TERMS, "words of the trade"),
        "troubles": Fields(TROUBLES, "what goes wrong, and what is done about it"),
        "topics": Fields(TOPICS, "what is looked up besides"),
        "sources": Fields(SOURCES, "what values were read in"),
    }
)
"""Every kind, with its fields."""
