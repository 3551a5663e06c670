"""Schema of the question about the weather."""

from __future__ import annotations

from marshmallow import Schema, fields

from upstand_api.openapi.questions.parts import EDITION, LANG, OVERLAY, UNITS, NowSchema, id_of

__all__ = ["ConditionsSchema"]


class ConditionsSchema(Schema):
    """What was measured on the roof, and for which resin."""

    resin = id_of("the resin; default the edition's", "pu-2k")
    now = fields.Nested(NowSchema, required=True, metadata={"description": "what was measured"})
    units = UNITS
    lang = LANG
    edition = EDITION
    overlay = OVERLAY
