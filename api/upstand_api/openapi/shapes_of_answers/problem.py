"""Schema of an error."""

from __future__ import annotations

from upstand.telling.said import CODES
from upstand_api.openapi.shapes_of_answers.parts import (
    ToldSchema,
    choice,
    listed,
    may_be_missing,
    string,
    strings,
    whole,
)

__all__ = ["ProblemSchema"]


class ProblemErrorSchema(ToldSchema):
    """One fault."""

    pointer = string(
        "JSON pointer (RFC 6901) into the body, or /name of a parameter; empty: the whole request",
        example="/members/0/leg_a",
    )
    code = choice("what kind of fault: stays while words may change; more may come", CODES)
    detail = string("what is wrong, and what would be accepted, in the language asked for")
    accepted = may_be_missing(
        strings("values that would do: words, ids, or ways of writing; left out: none to name")
    )


class ProblemSchema(ToldSchema):
    """An error (RFC 9457): every fault at once."""

    type = string("address of what this kind of error means, relative to this server")
    title = string("what kind of error it is")
    status = whole("the HTTP status", 422)
    detail = string("the first fault, and how many more there are")
    request_id = string("the id of the request, as X-Request-ID has it")
    errors = listed(ProblemErrorSchema, "every fault; never empty")
