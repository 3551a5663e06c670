"""Schemas of the answer about the weather hour by hour."""

from __future__ import annotations

from marshmallow import fields

from upstand_api.openapi.shapes_of_answers.conditions import WeatherReasonSchema
from upstand_api.openapi.shapes_of_answers.parts import (
    ToldSchema,
    by_word,
    choice,
    flag,
    listed,
    quantity,
    record,
    string,
    strings,
)
from upstand_api.openapi.shapes_of_answers.shared import (
    AnswerHeadSchema,
    AssumedSchema,
    NamedSchema,
    SentenceSchema,
)

__all__ = ["HoursAnswerSchema"]

HOUR_STATES = ("go", "unknown", "hold")


class SurfaceRangeSchema(ToldSchema):
    """How cold and how warm a surface may be."""

    low = quantity("at least")
    high = quantity("at most")


class HourSchema(ToldSchema):
    """One hour."""

    start = string("when it begins, with its offset", example="2031-05-14T09:00:00-05:00")
    dew_point = quantity("null where it is not known", null=True)
    kind = choice("frost: at or below 32 °F, over ice", ("dew", "frost"))
    margin = quantity("surface less dew point; null where not known", null=True)
    verdict = choice("whether the resin may be laid", HOUR_STATES)
    reasons = listed(WeatherReasonSchema, "what holds work up, and which")
    activities = by_word(
        "verdict by activity, for those that weather governs",
        HOUR_STATES,
        {"prime-metal": "go", "base-coat": "unknown"},
    )
    surface_needed = record(
        SurfaceRangeSchema,
        "what a surface thermometer has to read, where the surface alone is not known",
        null=True,
    )


class WindowSchema(ToldSchema):
    """When work can start."""

    activity = string(
        "an activity; sequence/resin: laid, and lasting until watertight; sequence/whole: primed "
        "and laid the same day"
    )
    start = string("from when work can start")
    end = string("when the hours for it end")
    last_start = string("the last minute to start; null for a single activity", null=True)
    sure = flag("false where a surface was not measured in one of its hours")
    needs_surface = record(SurfaceRangeSchema, "the narrowest of those hours", null=True)


class HoursAnswerSchema(AnswerHeadSchema):
    """What the weather allows hour by hour."""

    resin = record(NamedSchema, "the resin")
    hours = listed(HourSchema, "each hour, in order")
    windows = listed(WindowSchema, "when work can start; the whole sequence first")
    no_sequence = string("why there is no window of a sequence", null=True)
    missing = fields.List(
        fields.Dict(keys=fields.String(), values=fields.String()),
        required=True,
        metadata={"description": "from and to of hours that nothing was told about"},
    )
    confirm = listed(SentenceSchema, "to be looked at on the roof, whatever the hours say")
    assumed = listed(AssumedSchema, "defaults that were filled in")
    read = listed(SentenceSchema, "what was done to the readings")
    sunsets = strings("sunsets before the end of work, where the place is known")
