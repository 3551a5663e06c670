"""Schemas that several answers have in common."""

from __future__ import annotations

from marshmallow import fields

from upstand.edition.schema.values import GRADES
from upstand_api.openapi.shapes_of_answers.parts import (
    READ,
    QuantitySchema,
    ToldSchema,
    anything,
    choice,
    listed,
    record,
    string,
    strings,
)

__all__ = [
    "STATES",
    "AnswerHeadSchema",
    "AskSchema",
    "AssumedSchema",
    "NamedSchema",
    "ReasonSchema",
    "SentenceSchema",
    "StatementSchema",
    "WorkingSchema",
]

STATES = ("go", "hold", "ask")


class NamedSchema(ToldSchema):
    """A record of the edition by id and name."""

    id = string("its id in the edition")
    name = string("its name in the language asked for")


class SentenceSchema(ToldSchema):
    """One sentence by its id."""

    id = string("names what it is about")
    text = string("the sentence")


class AnswerHeadSchema(ToldSchema):
    """What every answer names first: an answer is a function of these and the question."""

    edition = string("the edition answered from", example="2026.1")
    digest = string("sha256 of the edition: the same digest holds the same data")
    overlay = string("the overlay laid over it", null=True)
    overlay_digest = string("sha256 of what the overlay says; null: none", null=True)
    software = string("the version of this software")
    notices = strings("what stands on top of the answer, the gravest first")
    question = anything(
        "the question as it was read: ids of the edition, sizes as quantities; what was left out "
        "is not there",
        READ,
    )
    units = choice("the units of every quantity", ("us", "si"))
    lang = choice("the language of every text", ("en", "es"))


class AssumedSchema(ToldSchema):
    """A default that was filled in, or an assumed value that was used."""

    pointer = string("where it would have stood in the question, or where it stands in the edition")
    text = string("what was assumed, in words")


class AskSchema(ToldSchema):
    """Whom to ask, and what to have ready."""

    whom = string("whom to ask")
    facts = strings("what to have at hand when asking; at least two")


class ReasonSchema(ToldSchema):
    """Why work does not simply go."""

    id = string("the limit, stop or stage that says so")
    state = choice(
        "hold: wait for a change; ask: somebody has to say; plan: nothing was measured yet",
        ("hold", "ask", "plan"),
    )
    text = string("why")
    clears = string("what would clear it")
    whom = string("whom to ask", null=True)
    facts = strings("what to have at hand when asking")


class StatementSchema(ToldSchema):
    """A published rule, with how it was read."""

    text = string("the rule, in our own words")
    grade = choice("how it was read", GRADES)
    source = string("id of the source", null=True)
    locator = string("where in the source", null=True)


class OriginSchema(ToldSchema):
    """Where a number comes from."""

    kind = choice(
        "what sort of origin",
        ("asked", "assumed", "edition", "overlay", "computed", "constant"),
    )
    where = string("a pointer into the question, a place in the edition, or a formula's name")
    grade = string("grade of the edition's value, else empty")
    source = string("source of the edition's value, else empty")


class WorkingInputSchema(QuantitySchema):
    """One number that went into a formula."""

    name = string("the formula's name for it")
    label = string("the same in words")
    origin = record(OriginSchema, "where it comes from")
    from_ = fields.String(
        data_key="from",
        required=True,
        allow_none=True,
        metadata={
            "description": "id of the working that computed it; null where it was not computed"
        },
    )


class WorkingSchema(ToldSchema):
    """How one quantity came about."""

    id = string("what was computed")
    formula = string("the formula's name")
    words = string("the formula in words and signs")
    inputs = listed(WorkingInputSchema, "what went in")
    result = record(QuantitySchema, "what came out")
    origin = record(OriginSchema, "origin of the result")
