"""POST /v1/requirements: one detail, one whole answer."""

from __future__ import annotations

from flask import Response

from upstand.answer import answer
from upstand.document.requirements import write
from upstand.query import read_requirements
from upstand_api.http.body import answered
from upstand_api.http.responses import reply
from upstand_api.openapi import questions
from upstand_api.openapi.document import Resource
from upstand_api.openapi.examples import REQUIREMENTS
from upstand_api.openapi.shapes_of_answers.requirements import AnswerSchema

resource = Resource("requirements", "What one detail needs.")


@resource.post("/v1/requirements", AnswerSchema, asks=questions.REQUIREMENTS, example=REQUIREMENTS)
def post_requirements() -> Response:
    """Answer one detail.

    Verdict, preparation and primer by surface, coats, quantities, packs, pieces to cut, working
    times, ordered steps with hold points, checks, cautions and sources, each quantity with its
    working.
    """
    document, edition = answered(
        lambda body, edition: write(answer(read_requirements(body, edition), edition))
    )
    return reply(document, edition)
