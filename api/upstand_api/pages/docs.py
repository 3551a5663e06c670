"""/openapi.json and /docs: how to ask, for machines and for people; nothing from elsewhere."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Mapping
from functools import cache, lru_cache
from typing import Any

from flask import Flask, Response, render_template, request

from upstand.edition import Edition
from upstand.telling.said import CODES
from upstand_api.http.body import parameters
from upstand_api.http.negotiate import JSON, OFFERS, speak
from upstand_api.http.problems import TELLING, TITLES
from upstand_api.http.responses import write_json
from upstand_api.openapi.answered import answer_examples, describe_others
from upstand_api.openapi.document import Document
from upstand_api.openapi.examples import curl
from upstand_api.openapi.notation import notations
from upstand_api.pages.ceilings import CEILINGS
from upstand_api.pages.style import html
from upstand_api.pages.style import register as register_style
from upstand_api.state import NAME

__all__ = ["register"]

MOST_FIELDS_DEEP = 2


def register(app: Flask, document: Document) -> None:
    """Add both to an app; call it when every resource is registered.

    Each is made when it is first asked for, and again when another edition answers.
    """
    register_style(app)
    offers = {
        endpoint.rpartition(".")[2]: getattr(view, OFFERS)
        for endpoint, view in app.view_functions.items()
        if hasattr(view, OFFERS)
    }

    @lru_cache(maxsize=2)
    def whole(edition: Edition, since: str) -> dict[str, Any]:
        made = document.written(edition)
        describe_others(made, offers)
        answer_examples(app, made, since)
        return made

    def now() -> dict[str, Any]:
        editions = app.extensions[NAME].editions
        ids = editions.ids()
        return whole(editions.get(), ids[min(1, len(ids) - 1)])

    @lru_cache(maxsize=4)
    def page(edition: Edition, base: str) -> str:
        told = now()
        return render_template(
            "docs.html",
            info=told["info"],
            operations=list(_operations(told)),
            problems=[(status, TITLES[status], TELLING[status]) for status in TELLING],
            codes=CODES,
            notations=list(notations()),
            ceilings=CEILINGS,
            curl=lambda path, body: curl(base + path, body),
            base=base,
        )

    @app.get("/openapi.json", endpoint="openapi")
    def openapi() -> Response:
        parameters()
        written = write_json(now()) + "\n"
        return _made(Response(written, content_type="application/json"), written)

    setattr(openapi, OFFERS, (JSON,))

    @app.get("/docs", endpoint="docs")
    def docs() -> Response:
        parameters()
        text = page(app.extensions[NAME].editions.get(), _address(app))
        return _made(html(text), text)


def _address(app: Flask) -> str:
    """Return where requests go: as set, else this machine at the port that is listened at."""
    base: str = app.extensions[NAME].settings.base_url
    port = str(request.environ.get("SERVER_PORT", ""))
    return base or f"http://127.0.0.1:{port if port.isdigit() else '8000'}"


@cache
def _digest(text: str) -> str:
    return hashlib.sha256(text.encode("utf-8")).hexdigest()[:32]


def _made(response: Response, text: str) -> Response:
    response.headers["Cache-Control"] = "no-cache"
    speak(response, "en")
    response.set_etag(_digest(text))
    response.make_conditional(request)
    return response


def _operations(whole: Mapping[str, Any]) -> Iterator[dict[str, Any]]:
    """Yield what the page shows of each operation."""
    for path, held in whole["paths"].items():
        for method, operation in held.items():
            if method not in ("get", "post"):
                continue
            asked = operation.get("requestBody", {}).get("content", {}).get("application/json", {})
            told = next(iter(operation["responses"]["200"]["content"].values()))
            yield {
                "id": operation["operationId"],
                "method": method.upper(),
                "path": path,
                "summary": operation.get("summary", ""),
                "description": operation.get("description", ""),
                "parameters": [*held.get("parameters", ()), *operation.get("parameters", ())],
                "fields": list(_fields(asked.get("schema", {}), whole)),
                "example": asked.get("example"),
                "example_text": json.dumps(asked.get("example"), indent=2, ensure_ascii=False),
                "answers": list(_fields(told["schema"], whole, deep=1)),
                "media": list(operation["responses"]["200"]["content"]),
                "answer_text": _shown(told.get("example")),
                "statuses": [s for s in operation["responses"] if s != "200"],
            }


def _shown(example: Any) -> str:
    if isinstance(example, str):
        return example
    return json.dumps(example, indent=1, ensure_ascii=False) if example is not None else ""


def _fields(
    schema: Mapping[str, Any],
    whole: Mapping[str, Any],
    before: str = "",
    deep: int = MOST_FIELDS_DEEP,
) -> Iterator[tuple[str, str, bool]]:
    """Yield (name, what it is, required) of an object's fields, some levels deep."""
    held = _resolved(schema, whole)
    required = held.get("required", ())
    for name, field in held.get("properties", {}).items():
        inner = _resolved(field, whole)
        many = "items" in inner
        shown = f"{before}{name}{'[]' if many else ''}"
        yield shown, field.get("description") or inner.get("description", ""), name in required
        if deep > 1:
            below = _resolved(inner["items"], whole) if many else inner
            yield from _fields(below, whole, f"{shown}.", deep - 1)


def _resolved(schema: Mapping[str, Any], whole: Mapping[str, Any]) -> Mapping[str, Any]:
    found = schema
    for wrapped in ("allOf", "anyOf"):
        if wrapped in found:
            found = next((s for s in found[wrapped] if "$ref" in s), found)
    if "$ref" in found:
        name = str(found["$ref"]).rpartition("/")[2]
        resolved: Mapping[str, Any] = whole["components"]["schemas"][name]
        return resolved
    return found
