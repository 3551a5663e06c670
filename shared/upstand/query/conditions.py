"""The question `conditions`: what the weather now allows."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from marshmallow import Schema, fields

from upstand.edition import Edition
from upstand.query.fields import KnownId
from upstand.query.ids import said_ids
from upstand.query.model import Language, Now, System
from upstand.query.now import now_schema, read_now
from upstand.query.strict import QuestionSchema, read_body, required
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


@lru_cache(maxsize=KEPT)
def schema_for(edition: Edition) -> Schema:
    """Return the request schema of an edition; made once for each."""
    readings = now_schema(edition)

    class ConditionsSchema(QuestionSchema):
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

    return ConditionsSchema()


def read_conditions(body: object, edition: Edition) -> ConditionsQuery:
    """Read what was measured; raises QueryFaults with everything wrong with it."""
    loaded = read_body(body, schema_for(edition), f'{{"now": {EXAMPLE}}}')
    return ConditionsQuery(
        now=read_now(loaded["now"], "now"),
        resin=loaded.get("resin"),
        units=loaded.get("units"),
        lang=loaded.get("lang", "en"),
    )
