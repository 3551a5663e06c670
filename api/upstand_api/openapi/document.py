"""The API's own document, OpenAPI 3.1: made by flask-smorest from the schemas of this package.

Only the document: requests are read and answers written by `upstand`, and tests prove that both
conform to it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any, Final, TypeVar

from flask import Flask, Response
from flask_smorest import Api, Blueprint  # type: ignore[import-untyped]
from marshmallow import Schema

from upstand import __version__
from upstand.edition import Edition
from upstand_api.http.negotiate import CSV, JSON, OFFERS
from upstand_api.http.problems import CONTENT_TYPE, TELLING, TITLES
from upstand_api.openapi import questions
from upstand_api.openapi.open_shapes import OPEN, filled_in
from upstand_api.openapi.shapes_of_answers.parts import ID as ID_PATTERN
from upstand_api.openapi.shapes_of_answers.problem import ProblemSchema

__all__ = [
    "EDITION",
    "ID",
    "KIND",
    "OVERLAY",
    "PAGE_PROBLEMS",
    "SINCE",
    "UNITS",
    "Document",
    "Parameter",
    "Resource",
]

View = TypeVar("View", bound=Callable[..., Response])
Parameter = Mapping[str, Any]

POST_PROBLEMS: Final = (400, 404, 406, 413, 415, 422, 429, 503)
GET_PROBLEMS: Final = (404, 406, 422, 429)
PAGE_PROBLEMS: Final = (400, *GET_PROBLEMS)
PROBLEM: Final = ProblemSchema()
"""One for all routes and statuses: each would be a copy of it."""

DESCRIPTION: Final = """What reinforced liquid-applied roof flashing needs: describe a detail, get a
whole answer. Every answer is a function of edition, overlay, software and question, and names the
first three.

Quantities are asked for as text with a unit (`8 1/2 in`, `216 mm`, `72 F`) and answered as
`{value, unit, text}`, the number unrounded. Errors are `application/problem+json` and list every
fault at once. Within v1 keys are added, never renamed."""


def _path(name: str, said: str, example: str, pattern: str | None = None) -> Parameter:
    schema = {"type": "string"} if pattern is None else {"type": "string", "pattern": pattern}
    return {
        "name": name,
        "in": "path",
        "required": True,
        "description": said,
        "schema": schema,
        "example": example,
    }


EDITION: Final = _path("edition", "id of an edition, or next for the draft", "2026.1")
KIND: Final = _path("kind", "kind of record, as the edition lists them", "resins", r"^[a-z]+$")
ID: Final = _path("id", "id of the record", "pu-2k", ID_PATTERN)
UNITS: Final[Parameter] = {
    "name": "units",
    "in": "query",
    "description": "units of the quantities; default us",
    "schema": {"type": "string", "enum": ["us", "si"]},
}
OVERLAY: Final[Parameter] = {
    "name": "overlay",
    "in": "query",
    "description": "overlay to lay over the edition, for those who may use it",
    "schema": {"type": "string", "pattern": ID_PATTERN},
}
SINCE: Final[Parameter] = {
    "name": "since",
    "in": "query",
    "required": True,
    "description": "id of the edition to compare with",
    "schema": {"type": "string", "minLength": 1},
}

IF_NONE_MATCH: Final[Parameter] = {
    "name": "If-None-Match",
    "in": "header",
    "description": "ETag of an answer that is kept: where it still holds, 304 comes back",
    "schema": {"type": "string"},
}
ETAG: Final = {
    "ETag": {
        "description": "Of published editions; a draft has none.",
        "schema": {"type": "string"},
    }
}


class Document(Api):  # type: ignore[misc]
    """The document of one app, without the error handling and pages that come with it."""

    DEFAULT_ERROR_RESPONSE_NAME = None
    ERROR_SCHEMA = ProblemSchema

    def __init__(self, app: Flask, base_url: str) -> None:
        """Start the document of an app; `base_url` is where it is reached, or empty."""
        app.config.update(
            API_TITLE="Upstand",
            API_VERSION=__version__,
            OPENAPI_VERSION="3.1.0",
            API_SPEC_OPTIONS={
                "info": {"description": DESCRIPTION},
                "servers": [{"url": base_url or "/", "description": "this server"}],
            },
        )
        super().__init__(app)
        self.spec.components.security_scheme(
            "key",
            {
                "type": "http",
                "scheme": "bearer",
                "description": "A key for overlays. Everything else answers without one.",
            },
        )

    def written(self, edition: Edition) -> dict[str, Any]:
        """Return the document as plain JSON values: what is asked, as one edition reads it."""
        whole: dict[str, Any] = self.spec.to_dict()
        whole = filled_in(whole)
        whole["components"]["schemas"] |= {**OPEN, **questions.schemas(edition)}
        _name_edition(whole, edition)
        whole["tags"].sort(key=lambda tag: tag["name"])
        # registered for pages by header, which are not used here
        whole["components"]["schemas"].pop("PaginationMetadata", None)
        return whole

    def _register_error_handlers(self) -> None:
        """Leave errors to `problems`."""


def _name_edition(whole: dict[str, Any], edition: Edition) -> None:
    """Put an edition that there is into the examples of addresses."""
    for held in whole["paths"].values():
        for parameter in held.get("parameters", ()):
            if parameter["name"] == "edition":
                parameter["example"] = edition.id


class Resource:
    """One resource of the API: its views, and what the document says of them.

    Views return ready responses: schemas are for the document only.
    """

    def __init__(self, name: str, description: str) -> None:
        """Start a resource; its name is its tag in the document."""
        self.blueprint: Any = Blueprint(name, f"upstand_api.resources.{name}")
        self.blueprint.description = description

    def get(
        self,
        rule: str,
        answers: type[Schema],
        *parameters: Parameter,
        problems: Sequence[int] = GET_PROBLEMS,
        kept: bool = True,
    ) -> Callable[[View], View]:
        """Add a view that reads: its answer's schema, the parameters of its address.

        `kept` tells that the answer may carry an ETag, and be asked for again with it.
        """
        keyed = OVERLAY in parameters
        given = (*parameters, IF_NONE_MATCH) if kept else parameters
        return self._add("GET", rule, answers, given, problems, keyed, {}, ())

    def post(
        self,
        rule: str,
        answers: type[Schema] | Mapping[str, Any] | str,
        *parameters: Parameter,
        asks: type[Schema] | str,
        example: Any,
        also: Sequence[str] = (),
        table: str | None = None,
    ) -> Callable[[View], View]:
        """Add a view that answers a body: its answer's schema, the body's, and one right body.

        `answers` is a media type where the answer is no JSON; `also` are others that Accept may
        name. `asks` may name a component of `questions`, made once the edition is known. `table` is
        a right body of text/csv, where that is read too.
        """
        held = {"$ref": f"#/components/schemas/{asks}"} if isinstance(asks, str) else asks
        content: dict[str, Any] = {JSON: {"schema": held, "example": dict(example)}}
        if table is not None:
            content[CSV] = {"schema": {"type": "string"}, "example": table}
        body = {"requestBody": {"required": True, "content": content}}
        return self._add("POST", rule, answers, parameters, POST_PROBLEMS, True, body, also)

    def _add(
        self,
        method: str,
        rule: str,
        answers: type[Schema] | Mapping[str, Any] | str,
        parameters: Sequence[Parameter],
        problems: Sequence[int],
        keyed: bool,
        more: Mapping[str, Any],
        also: Sequence[str],
    ) -> Callable[[View], View]:
        blueprint = self.blueprint
        in_path = [dict(p) for p in parameters if p["in"] == "path"]
        others = [dict(p) for p in parameters if p["in"] != "path"]
        said = {"parameters": others, **more} if others else dict(more)

        def decorate(view: View) -> View:
            kept = IF_NONE_MATCH in parameters
            plain = isinstance(answers, str)
            setattr(view, OFFERS, (answers if plain else JSON, *also))
            told = blueprint.response(
                200,
                {"type": "string"} if plain else answers,
                content_type=answers if plain else None,
                description="The answer.",
                headers=ETAG if kept else None,
            )(view)
            if kept:
                told = blueprint.alt_response(304, description="Unchanged: keep what you have.")(
                    told
                )
            for status in problems:
                told = blueprint.alt_response(
                    status,
                    schema=PROBLEM,
                    content_type=CONTENT_TYPE,
                    description=f"{TITLES[status]}. {TELLING[status]}",
                )(told)
            told = blueprint.doc(
                operationId=view.__name__, security=[{}, {"key": []}] if keyed else [{}], **said
            )(told)
            blueprint.add_url_rule(
                rule, view.__name__, told, methods=[method], parameters=in_path or None
            )
            return view

        return decorate
