"""The API's document is valid OpenAPI 3.1 and says what the API does."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

from flask import Flask
from flask.testing import FlaskClient
from openapi_spec_validator import validate

from upstand.edition import Edition


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
        for name, field in schema.get("properties", {component: schema}).items()
        if not field.get("description")
    ]
    assert bare == []


def test_the_examples_are_answered(client: FlaskClient, document: dict[str, Any]) -> None:
    sent = 0
    for path, method, operation in operations(document):
        for media, content in operation.get("requestBody", {}).get("content", {}).items():
            example = content["example"]
            text = example if isinstance(example, str) else json.dumps(example)
            told = client.open(path, method=method, data=text.encode(), content_type=media)
            assert told.status_code == 200, told.get_data(as_text=True)
            sent += 1
    assert sent == 7


def test_questions_are_documented_with_the_inputs_of_the_edition(
    edition: Edition, document: dict[str, Any]
) -> None:
    held = document["components"]["schemas"]
    asked = held["Requirements"]["properties"]
    assert held["Requirements"]["required"] == ["detail", "roof"]
    assert asked["riser"]["description"].startswith("Riser. From the finished roof straight up")
    assert held["Opening"]["properties"].keys() == {"width", "height"}
    assert held["OtherSurface"]["properties"]["part"]["enum"][:2] == ["wall", "riser"]
    assert asked["joined"] | {"description": ""} == {
        "type": "integer",
        "minimum": 0,
        "maximum": 2,
        "description": "",
    }


def test_the_page_for_people_lists_every_operation(
    client: FlaskClient, document: dict[str, Any]
) -> None:
    page = client.get("/docs").get_data(as_text=True)
    for path, method, operation in operations(document):
        assert f"{method.upper()} {path}" in page
        assert operation["summary"] in page
    # nothing is fetched from elsewhere
    assert "<script" not in page and "src=" not in page and "@import" not in page


def test_no_answer_has_a_shape_that_is_not_told(document: dict[str, Any]) -> None:
    """To the leaves: every schema under a 200 answer has a type, a choice or members."""
    held = document["components"]["schemas"]
    told = {"type", "enum", "anyOf", "oneOf", "allOf", "$ref"}
    seen: set[str] = set()
    bare: list[str] = []

    def walk(schema: dict[str, Any], where: str) -> None:
        if not told & schema.keys():
            bare.append(where)
        if schema.get("type") == "object" and not {"properties", "additionalProperties"} & set(
            schema
        ):
            bare.append(f"{where}: an object of anything")
        if schema.get("type") == "array" and "items" not in schema:
            bare.append(f"{where}: a list of anything")
        if schema.get("additionalProperties") in (True, {}):
            bare.append(f"{where}: values of any kind")
        name = str(schema.get("$ref", "")).rpartition("/")[2]
        if name and name not in seen:
            seen.add(name)
            walk(held[name], name)
        for word in ("anyOf", "oneOf", "allOf"):
            for each in schema.get(word, ()):
                if each != {"type": "null"}:
                    walk(each, f"{where}.{word}")
        for field, inner in schema.get("properties", {}).items():
            walk(inner, f"{where}.{field}")
        for word in ("items", "additionalProperties"):
            if isinstance(schema.get(word), dict):
                walk(schema[word], f"{where}.{word}")

    for path, method, operation in operations(document):
        for content in operation["responses"]["200"]["content"].values():
            walk(content["schema"], f"{method} {path}")
    assert len(seen) > 40
    assert bare == []
