"""POST /v1/takeoff: what many details need together."""

from __future__ import annotations

from flask import Response

from upstand.document.takeoff import write
from upstand.query.takeoff import read_take_off
from upstand.takeoff import take_off_all
from upstand_api.http.body import answered
from upstand_api.http.responses import reply
from upstand_api.openapi import questions
from upstand_api.openapi.document import Resource
from upstand_api.openapi.examples import TAKEOFF
from upstand_api.openapi.shapes_of_answers.day import TakeOffAnswerSchema

resource = Resource("takeoff", "What many details need together.")


@resource.post("/v1/takeoff", TakeOffAnswerSchema, asks=questions.TAKEOFF, example=TAKEOFF)
def post_takeoff() -> Response:
    """Add up many details.

    What to order for all of them, what is asked about or held apart, each one's share, and one
    cutting plan for all pieces.
    """
    document, edition = answered(
        lambda body, edition: write(take_off_all(read_take_off(body, edition), edition))
    )
    return reply(document, edition)
