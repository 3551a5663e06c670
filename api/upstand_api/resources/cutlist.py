"""POST /v1/cutlist: pieces on rolls, as a list or drawn."""

from __future__ import annotations

from flask import Response

from upstand.cutlist import cut_list
from upstand.document.cutlist import write
from upstand.edition import Edition
from upstand.quantity.shown import Speech
from upstand.query.cutlist import read_cut_list
from upstand.words.fill import Words
from upstand_api.http.body import answered
from upstand_api.http.headers import page_policy
from upstand_api.http.negotiate import JSON, SVG, best_type, speak
from upstand_api.http.responses import ANSWER, PRIVATE, reply
from upstand_api.openapi import questions
from upstand_api.openapi.document import Resource
from upstand_api.openapi.examples import CUTLIST
from upstand_api.openapi.shapes_of_answers.day import CutListAnswerSchema

resource = Resource("cutlist", "Pieces to cut, on rolls.")


@resource.post(
    "/v1/cutlist", CutListAnswerSchema, asks=questions.CUTLIST, example=CUTLIST, also=(SVG,)
)
def post_cutlist() -> Response:
    """Nest pieces on rolls.

    Every cut goes from edge to edge. Where Accept prefers image/svg+xml, the plan comes drawn to
    scale instead.
    """
    if best_type((JSON, SVG)) != SVG:
        document, edition = answered(
            lambda body, edition: write(cut_list(read_cut_list(body, edition), edition))
        )
        return reply(document, edition)
    from upstand.drawing.svg import STYLE  # no answer without a drawing waits for it

    svg, edition = answered(_drawn)
    response = Response(svg, content_type=f"{SVG}; charset=utf-8")
    response.headers["Cache-Control"] = ANSWER if edition.overlay is None else PRIVATE
    response.headers["Content-Security-Policy"] = page_policy(STYLE)
    return speak(response)


def _drawn(body: object, edition: Edition) -> str:
    from upstand.drawing.cutting import draw_cutting

    query = read_cut_list(body, edition)
    words = Words(query.lang, Speech(query.units or "us"))
    return draw_cutting(cut_list(query, edition).plan, words)
