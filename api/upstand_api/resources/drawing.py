"""POST /v1/drawing: one detail, drawn."""

from __future__ import annotations

from flask import Response

from upstand.answer import answer
from upstand.edition import Edition
from upstand.query import Fault, QueryFaults
from upstand.query.drawing import read_drawing
from upstand_api.http.body import answered
from upstand_api.http.headers import page_policy
from upstand_api.http.negotiate import SVG, speak
from upstand_api.http.responses import ANSWER, PRIVATE
from upstand_api.openapi import questions
from upstand_api.openapi.document import Resource
from upstand_api.openapi.examples import DRAWING

resource = Resource("drawing", "One detail, drawn to scale.")


@resource.post("/v1/drawing", SVG, asks=questions.DRAWING, example=DRAWING)
def post_drawing() -> Response:
    """Draw one detail.

    Plan, section or cut sheet as SVG, to scale, in the units and language asked for, with a title
    and a description for those who can't see it. 422 where there is nothing to draw, such as a
    detail of which a size is missing, with the reason.
    """
    from upstand.drawing.svg import STYLE  # no answer without a drawing waits for it

    svg, edition = answered(_drawn)
    response = Response(svg, content_type=f"{SVG}; charset=utf-8")
    response.headers["Cache-Control"] = ANSWER if edition.overlay is None else PRIVATE
    response.headers["Content-Security-Policy"] = page_policy(STYLE)
    if edition.overlay is not None:
        response.vary.add("Authorization")
    return speak(response)


def _drawn(body: object, edition: Edition) -> str:
    from upstand.drawing import NothingToDraw, draw

    query = read_drawing(body, edition)
    try:
        return draw(answer(query.detail, edition), query.view)
    except NothingToDraw as error:
        raise QueryFaults([Fault("", error.message)]) from None
