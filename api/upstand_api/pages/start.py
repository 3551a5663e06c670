"""The start page at /: leads each of the three users on."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from flask import Flask, Response, render_template, request

from upstand import __version__
from upstand_api.http.body import parameters
from upstand_api.http.links import href
from upstand_api.openapi.examples import REQUIREMENTS, curl
from upstand_api.pages.style import html
from upstand_api.state import state

__all__ = ["register"]

WORDS: Final[Mapping[str, Mapping[str, Any]]] = {
    "en": {
        "title": "Upstand: what reinforced liquid-applied roof flashing needs",
        "lead": "Describe a detail. Get the verdict, preparation and primer by surface, "
        "quantities, pieces to cut, working times, ordered steps and checks, each number with "
        "where it comes from.",
        "ways": (
            (
                "On the roof",
                "The handbook works with no signal once it has been opened.",
                "handbook/",
                "Open the handbook",
            ),
            (
                "In the office",
                "Put in a caller's words, get what to ask next and the short answer.",
                "desk",
                "Open the phone desk",
            ),
            (
                "In your own software",
                "JSON in, JSON out; every error says what would be accepted.",
                "docs",
                "Read how to ask",
            ),
        ),
        "try": "One question, ready to paste into a terminal:",
        "from": "Answers now come from",
        "draft": "the draft, not a published edition",
        "published": "edition",
        "other": "En español",
        "governs": "The sheet of the product on the roof always governs.",
    },
    "es": {
        "title": "Upstand: lo que necesita el flashing líquido reforzado de techos",
        "lead": "Describa un detalle. Recibe el veredicto, la preparación y el imprimador por "
        "superficie, cantidades, piezas por cortar, tiempos de trabajo, pasos en orden y "
        "revisiones, cada número con su origen.",
        "ways": (
            (
                "En el techo",
                "El manual funciona sin señal después de abrirlo una vez.",
                "handbook/",
                "Abrir el manual",
            ),
            (
                "En la oficina",
                "Escriba lo que dice quien llama; recibe qué preguntar y la respuesta corta.",
                "desk",
                "Abrir la mesa de llamadas",
            ),
            (
                "En su propio software",
                "JSON de entrada y de salida; cada error dice qué se aceptaría.",
                "docs",
                "Leer cómo preguntar (en inglés)",
            ),
        ),
        "try": "Una pregunta, lista para pegar en una terminal:",
        "from": "Las respuestas salen ahora de",
        "draft": "el borrador, no de una edición publicada",
        "published": "la edición",
        "other": "In English",
        "governs": "Siempre manda la hoja del producto que está en el techo. Rige el texto en "
        "inglés.",
    },
}
OTHER: Final = {"en": "es", "es": "en"}


def _language(text: str) -> str:
    if text not in WORDS:
        raise ValueError("is not accepted: write en or es")
    return text


def register(app: Flask) -> None:
    """Add the start page to an app."""

    @app.get("/", endpoint="start")
    def start() -> Response:
        lang = parameters(lang=_language).get("lang")
        if lang is None:
            lang = request.accept_languages.best_match(list(WORDS), "en") or "en"
        edition = state().editions.get()
        known = {rule.rule for rule in app.url_map.iter_rules()}
        ways = [way for way in WORDS[lang]["ways"] if f"/{way[2]}" in known]
        address = href("/v1/requirements")
        page = render_template(
            "start.html",
            lang=lang,
            other=OTHER[lang],
            words=WORDS[lang],
            ways=ways,
            edition=edition,
            software=__version__,
            curl=curl(address, REQUIREMENTS) if address.startswith("http") else None,
        )
        response = html(page)
        response.vary.add("Accept-Language")
        return response
