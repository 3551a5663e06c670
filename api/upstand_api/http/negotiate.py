"""What a caller can take: media types by Accept, a language by Accept-Language."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from flask import Response, current_app, g, request

from upstand import LANGUAGES

__all__ = [
    "BOTH",
    "CSV",
    "HTML",
    "JSON",
    "OFFERS",
    "SVG",
    "best_type",
    "language",
    "offered",
    "speak",
]

JSON: Final = "application/json"
SVG: Final = "image/svg+xml"
CSV: Final = "text/csv"
HTML: Final = "text/html"

BOTH: Final = ", ".join(LANGUAGES)
"""What is in every language at once, such as a record of an edition."""

OFFERS: Final = "offers"
"""Attribute of a view: the media types that it answers in, the usual one first."""


def best_type(offers: Sequence[str]) -> str | None:
    """Return which of the offered types the caller likes best; None where none may be sent.

    The nearest range decides, as RFC 9110 has it; parameters other than q are passed over, and the
    first offered wins where several are liked as well. Without the header anything may be sent.
    """
    ranges = [
        (value.partition(";")[0].strip().lower(), quality)
        for value, quality in request.accept_mimetypes
    ]
    if not ranges:
        return offers[0]

    def liked(offer: str) -> float:
        whole = (offer, f"{offer.partition('/')[0]}/*", "*/*")
        for near in whole:
            found = [quality for value, quality in ranges if value == near]
            if found:
                return max(found)
        return 0.0

    best = max(offers, key=liked)
    return best if liked(best) > 0.0 else None


def offered() -> tuple[str, ...] | None:
    """Return the types that the current request's view answers in; None where it does not say."""
    view = current_app.view_functions.get(request.endpoint or "")
    return getattr(view, OFFERS, None)


def language() -> str:
    """Return the language to answer in: as the body has it, else by Accept-Language, else en."""
    told: str | None = g.get("lang")
    return told or request.accept_languages.best_match(list(LANGUAGES)) or "en"


def speak(response: Response, lang: str | None = None) -> Response:
    """Say on a response which language it is in, and that the caller chose it."""
    response.headers["Content-Language"] = lang or language()
    if lang is None:
        response.vary.add("Accept-Language")
    return response
