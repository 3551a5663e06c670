"""The question `conditions`: what the weather now allows."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from marshmallow import Schema, ValidationError, fields

from upstand.edition import Edition
from upstand.query.faults import Fault, QueryFaults, flatten
from upstand.query.fields import NULL, Choice, KnownId
from upstand.query.ids import said_ids
from upstand.query.model import Language, Now, System
from upstand.query.now import now_schema, read_now
from upstand.query.strict import StrictSchema, required, reworded
from upstand.query.table import KEPT
from upstand.telling.said import say

__all__ = ["ConditionsQuery", "read_conditions"]

EXAMPLE = '{"air": "72 F", "surface": "78 F", "humidity": "55 %"}'


@dataclass(frozen=True, slots=True)
class ConditionsQuery:
    """What was measured on the roof, and for which resin. Fields left None take a default."""

    now: Now
    resin: str | None = None
    units: System | None = None
    lang: Language = "en"


def _schema(edition: Edition) -> Schema:
    readings = now_schema(edition)

    class ConditionsSchema(StrictSchema):
        resin = KnownId(
            say("thing-resin"),
            lambda: edition.kind("resins"),
            said=lambda: said_ids(edition, "resins"),
        )
        now = fields.Nested(
            readings,
            required=True,
            error_messages={
                **required(EXAMPLE),
                "type": say("not-an-object", [EXAMPLE], example=EXAMPLE),
            },
        )
        units = Choice(("us", "si"))
        lang = Choice(("en", "es"))
        edition = fields.Raw(error_messages=NULL)
        overlay = fields.Raw(error_messages=NULL)

    return ConditionsSchema()


@lru_cache(maxsize=KEPT)
def schema_for(edition: Edition) -> Schema:
    """Return the request schema of an edition; made once for each."""
    return _schema(edition)


def read_conditions(body: object, edition: Edition) -> ConditionsQuery:
    """Read what was measured.

    Parameters
    ----------
    body : the request as plain JSON values.
    edition : the edition whose resins are known.

    Raises
    ------
    QueryFaults : everything wrong with it, at once, each with its JSON pointer.
    """
    if not isinstance(body, Mapping):
        example = f'{{"now": {EXAMPLE}}}'
        raise QueryFaults([Fault("", say("not-an-object", [example], example=example))])
    schema = schema_for(edition)
    try:
        loaded: Mapping[str, Any] = schema.load(dict(body))
    except ValidationError as error:
        raise QueryFaults(reworded(fault, schema) for fault in flatten(error.messages)) from None
    return ConditionsQuery(
        now=read_now(loaded["now"], "now"),
        resin=loaded.get("resin"),
        units=loaded.get("units"),
        lang=loaded.get("lang", "en"),
    )
