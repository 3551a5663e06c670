"""POST /v1/conditions: what the weather now allows."""

from __future__ import annotations

from flask import Response

from upstand.conditions import conditions
from upstand.document.conditions import write
from upstand.query.conditions import read_conditions
from upstand_api.http.body import answered
from upstand_api.http.responses import reply
from upstand_api.openapi import questions
from upstand_api.openapi.document import Resource
from upstand_api.openapi.examples import CONDITIONS
from upstand_api.openapi.shapes_of_answers.conditions import ConditionsAnswerSchema

resource = Resource("conditions", "What the weather allows.")


@resource.post(
    "/v1/conditions", ConditionsAnswerSchema, asks=questions.CONDITIONS, example=CONDITIONS
)
def post_conditions() -> Response:
    """Judge the weather now.

    Dew or frost point, the surface's margin over it, and the verdict by activity. What is not
    known is asked about or confirmed on the roof: never taken for granted.
    """
    document, edition = answered(
        lambda body, edition: write(conditions(read_conditions(body, edition), edition))
    )
    return reply(document, edition)
