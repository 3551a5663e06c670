"""POST /v1/film: was enough put on."""

from __future__ import annotations

from flask import Response

from upstand.document.film import write
from upstand.film import film
from upstand.query.film import read_film
from upstand_api.http.body import answered
from upstand_api.http.responses import reply
from upstand_api.openapi import questions
from upstand_api.openapi.document import Resource
from upstand_api.openapi.examples import FILM
from upstand_api.openapi.shapes_of_answers.day import FilmAnswerSchema

resource = Resource("film", "Was enough put on.")


@resource.post("/v1/film", FilmAnswerSchema, asks=questions.FILM, example=FILM)
def post_film() -> Response:
    """Judge what was laid.

    Readings of a wet-film gage, or packs used, against what the layer must have: verdict, what is
    short, and the packs to top it up.
    """
    document, edition = answered(
        lambda body, edition: write(film(read_film(body, edition), edition))
    )
    return reply(document, edition)
