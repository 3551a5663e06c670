"""POST /v1/conditions: what the weather allows, now or hour by hour."""

from __future__ import annotations

from typing import Any

from flask import Response

from upstand.conditions import conditions
from upstand.conditions_by_hour import conditions_by_hour
from upstand.document.conditions import write
from upstand.document.hours import write as write_hours
from upstand.edition import Edition
from upstand.query.conditions import read_conditions
from upstand.query.hours import by_hour, read_hours
from upstand_api.http.body import answered
from upstand_api.http.responses import reply
from upstand_api.openapi import questions
from upstand_api.openapi.document import Resource
from upstand_api.openapi.examples import CONDITIONS
from upstand_api.openapi.shapes_of_answers.conditions import ConditionsAnswerSchema
from upstand_api.openapi.shapes_of_answers.hours import HoursAnswerSchema

resource = Resource("conditions", "What the weather allows.")


@resource.post(
    "/v1/conditions",
    {"oneOf": [ConditionsAnswerSchema, HoursAnswerSchema]},
    asks=questions.CONDITIONS,
    example=CONDITIONS,
)
def post_conditions() -> Response:
    """Judge the weather now, or hour by hour.

    Dew or frost point, the surface's margin over it, and the verdict by activity. With `hours`, or
    a `forecast` as downloaded, the same for each hour, and windows in which work can start. What is
    not known is asked about, confirmed on the roof or stays unknown: never taken for granted.
    """
    document, edition = answered(_judged)
    return reply(document, edition)


def _judged(body: Any, edition: Edition) -> dict[str, Any]:
    if by_hour(body):
        return write_hours(conditions_by_hour(read_hours(body, edition), edition))
    return write(conditions(read_conditions(body, edition), edition))
