"""Schemas of the answer about the weather."""

from __future__ import annotations

from upstand_api.openapi.shapes_of_answers.parts import (
    ToldSchema,
    by_word,
    choice,
    listed,
    quantity,
    record,
    string,
    strings,
)
from upstand_api.openapi.shapes_of_answers.shared import (
    STATES,
    AnswerHeadSchema,
    AssumedSchema,
    NamedSchema,
    ReasonSchema,
    WorkingSchema,
)

__all__ = ["ConditionsAnswerSchema"]


class WeatherReasonSchema(ReasonSchema):
    """Why the weather holds work up, and which."""

    activities = strings("ids of the activities it concerns")


class WeatherConfirmSchema(ToldSchema):
    """What is ticked on the roof, since it was not told."""

    id = string("the limit")
    name = string("its name")
    text = string("what is looked at")


class ConditionsAnswerSchema(AnswerHeadSchema):
    """What the weather now allows."""

    resin = record(NamedSchema, "the resin")
    dew_point = quantity("null where air temperature or humidity is not known", null=True)
    kind = choice("frost: at or below 32 °F, over ice", ("dew", "frost"))
    margin = quantity("surface less dew point; null where not known", null=True)
    verdict = choice("whether the weather lets the resin be laid", STATES)
    reasons = listed(WeatherReasonSchema, "why it is not go")
    other_reasons = listed(
        WeatherReasonSchema,
        "what holds up single activities, such as one primer",
    )
    confirm = listed(WeatherConfirmSchema, "to be ticked on the roof")
    assumed = listed(AssumedSchema, "defaults that were filled in")
    activities = by_word(
        "verdict by activity, for those that weather governs",
        STATES,
        {"prime-metal": "go", "base-coat": "hold"},
    )
    workings = listed(WorkingSchema, "how dew point and margin came about")
