"""The API's document is valid OpenAPI 3.1 and says what the API does."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient
from marshmallow import fields
from openapi_spec_validator import validate

from upstand.edition import Edition
from upstand.query.conditions import schema_for as conditions_schema
from upstand.query.requirements import schema_for as requirements_schema
from upstand_api.openapi.questions.conditions import ConditionsSchema
from upstand_api.openapi.questions.requirements import RequirementsSchema


def operations(document: dict[str, Any]) -> Iterator[tuple[str, str, dict[str, Any]]]:
    """Yield path, method and operation."""
    for path, held in document["paths"].items():
        for method, operation in held.items():
            if method != "parameters":
                yield path, method, operation


def test_it_is_valid(document: dict[str, Any]) -> None:
    assert document["openapi"].startswith("3.1.")
    validate(document)


def test_every_path_of_the_api_stands_in_it_and_nothing_else(
    app: Flask, document: dict[str, Any]
) -> None:
    served = {
        (rule.rule.replace("<", "{").replace(">", "}"), method.lower())
        for rule in app.url_map.iter_rules()
        for method in (rule.methods or set()) - {"HEAD", "OPTIONS"}
        if rule.rule.startswith("/v1/") or rule.rule in ("/healthz", "/readyz")
    }
    assert served == {(path, method) for path, method, _ in operations(document)}


def test_every_operation_is_described_and_named_once(document: dict[str, Any]) -> None:
    names = []
    for _, _, operation in operations(document):
        assert operation["summary"] and operation["description"]
        names.append(operation["operationId"])
        problems = {k: v for k, v in operation["responses"].items() if k not in ("200", "304")}
        assert problems
        for problem in problems.values():
            assert list(problem["content"]) == ["application/problem+json"]
    assert len(set(names)) == len(names)


def test_every_component_has_one_name(document: dict[str, Any]) -> None:
    assert not [name for name in document["components"]["schemas"] if name[-1].isdigit()]


def test_every_field_is_described(document: dict[str, Any]) -> None:
    bare = [
        f"{component}.{name}"
        for component, schema in document["components"]["schemas"].items()
        for name, field in schema["properties"].items()
        if not field.get("description")
    ]
    assert bare == []


def test_the_examples_are_answered(client: FlaskClient, document: dict[str, Any]) -> None:
    sent = 0
    for path, method, operation in operations(document):
        for content in operation.get("requestBody", {}).get("content", {}).values():
            told = client.open(path, method=method, json=content["example"])
            assert told.status_code == 200, told.get_data(as_text=True)
            sent += 1
    assert sent == 2


def names(schema: Any) -> dict[str, Any]:
    """Return the names of a schema's fields, those of the objects in it below them."""
    found: dict[str, Any] = {}
    for name, field in schema.fields.items():
        inner = field.inner if isinstance(field, fields.List) else field
        found[name] = names(inner.schema) if isinstance(inner, fields.Nested) else None
    return found


@pytest.mark.parametrize(
    ("documented", "read"),
    [(RequirementsSchema, requirements_schema), (ConditionsSchema, conditions_schema)],
)
def test_questions_are_documented_with_the_fields_that_are_read(
    edition: Edition, documented: Any, read: Any
) -> None:
    assert names(documented()) == names(read(edition))
    required = {n for n, f in documented().fields.items() if f.required}
    assert required == {n for n, f in read(edition).fields.items() if f.required}


def test_the_page_for_people_lists_every_operation(
    client: FlaskClient, document: dict[str, Any]
) -> None:
    page = client.get("/docs").get_data(as_text=True)
    for path, method, operation in operations(document):
        assert f"{method.upper()} {path}" in page
        assert operation["summary"] in page
    # nothing is fetched from elsewhere
    assert "<script" not in page and "src=" not in page and "@import" not in page
