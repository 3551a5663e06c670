"""The start page at /: leads each of the three users on."""

from __future__ import annotations

from typing import Final

from flask import Flask, Response, render_template, request

from upstand import LANGUAGES, __version__
from upstand.telling.said import say
from upstand.words.store import label
from upstand_api.http.body import parameters
from upstand_api.http.links import href
from upstand_api.openapi.examples import REQUIREMENTS, curl
from upstand_api.pages.style import html
from upstand_api.state import state

__all__ = ["register"]

#: The three ways on: what a way's words are called, and its address.
WAYS: Final = (("roof", "handbook/"), ("office", "desk"), ("software", "docs"))
OTHER: Final = {"en": "es", "es": "en"}


def _language(text: str) -> str:
    if text not in LANGUAGES:
        raise ValueError(say("not-en-or-es", LANGUAGES))
    return text


def register(app: Flask) -> None:
    """Add the start page to an app."""

    @app.get("/", endpoint="start")
    def start() -> Response:
        lang = parameters(lang=_language).get("lang")
        if lang is None:
            lang = request.accept_languages.best_match(list(LANGUAGES), "en") or "en"
        edition = state().editions.get()
        known = {rule.rule for rule in app.url_map.iter_rules()}
        words = {
            name: label(f"start-{name}", lang)
            for name in ("title", "lead", "try", "from", "draft", "published", "other", "governs")
        }
        ways = [
            (*(label(f"start-{way}-{part}", lang) for part in ("name", "about")), where,
             label(f"start-{way}-link", lang))
            for way, where in WAYS
            if f"/{where}" in known
        ]  # fmt: skip
        address = href("/v1/requirements")
        page = render_template(
            "start.html",
            lang=lang,
            other=OTHER[lang],
            words=words,
            ways=ways,
            edition=edition,
            software=__version__,
            curl=curl(address, REQUIREMENTS) if address.startswith("http") else None,
        )
        response = html(page)
        response.vary.add("Accept-Language")
        response.headers["Content-Language"] = lang
        return response
