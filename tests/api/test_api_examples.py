"""What /openapi.json and /docs show: answers of the engine itself, and rules that hold."""

from __future__ import annotations

import json
import re
from typing import Any

import jsonschema
import pytest
from flask.testing import FlaskClient
from tests.api.test_api_document import operations
from tests.engine.test_notation import ACCEPTED

from upstand.quantity.spellings import EXAMPLES
from upstand.telling.said import CODES
from upstand_api.app import create_app
from upstand_api.openapi.answered import shortened
from upstand_api.openapi.notation import PATTERN
from upstand_api.settings import Settings


def answers(document: dict[str, Any]) -> list[tuple[str, str, str, dict[str, Any]]]:
    """Path, method, media type and content of every 200 answer."""
    return [
        (path, method, media, content)
        for path, method, operation in operations(document)
        for media, content in operation["responses"]["200"]["content"].items()
    ]


def test_every_answer_has_an_example_that_is_as_it_says(document: dict[str, Any]) -> None:
    components = document["components"]
    every = answers(document)
    assert len(every) >= 16
    for path, _, media, content in every:
        assert content["example"], path
        if media == "application/json":
            schema = {**content["schema"], "components": components}
            jsonschema.Draft202012Validator(schema).validate(content["example"])


def test_the_examples_are_what_the_engine_answers(
    client: FlaskClient, document: dict[str, Any]
) -> None:
    for path, method, media, content in answers(document):
        if method != "post":
            continue
        asked = document["paths"][path]["post"]["requestBody"]["content"]["application/json"]
        told = client.post(path, json=asked["example"], headers={"Accept": media})
        if media == "application/json":
            assert shortened(told.get_json()) == content["example"], path
        else:
            assert told.get_data(as_text=True) == content["example"], path


def test_examples_name_a_published_edition(published: FlaskClient) -> None:
    text = published.get("/openapi.json").get_data(as_text=True)
    told = json.loads(text)
    held = told["paths"]["/v1/editions/{edition}/{kind}/{id}"]
    assert next(p for p in held["parameters"] if p["name"] == "edition")["example"] == "2026.2"
    requests = [
        operation["requestBody"]["content"]
        for _, _, operation in operations(told)
        if "requestBody" in operation
    ]
    assert '"next"' not in json.dumps(requests)
    answered = [content.get("example") for _, _, _, content in answers(told)]
    assert {a["edition"] for a in answered if isinstance(a, dict) and "edition" in a} == {"2026.2"}


def test_the_address_in_the_docs_is_the_one_that_is_listened_at() -> None:
    app = create_app()
    page = app.test_client().get("/docs", base_url="http://x:8123").get_data(as_text=True)
    assert "http://127.0.0.1:8123/v1/requirements" in page and ":8000" not in page
    # what a caller writes as Host is no address of this server
    page = app.test_client().get("/docs", headers={"Host": "evil.example"}).get_data(as_text=True)
    assert "evil" not in page
    named = create_app(Settings(base_url="https://roofs.example")).test_client()
    assert "https://roofs.example/v1/requirements" in named.get("/docs").get_data(as_text=True)


def test_own_examples_count_for_nobodys_rate() -> None:
    client = create_app(Settings(requests_per_minute=2)).test_client()
    assert client.get("/openapi.json").status_code == 200
    assert client.get("/docs").status_code == 200
    assert client.get("/docs").status_code == 429


def test_the_docs_are_made_again_when_another_edition_answers(draft_root: Any) -> None:
    client = create_app(Settings(specdata=draft_root)).test_client()
    tags = [client.get("/openapi.json").headers["ETag"] for _ in range(2)]
    assert tags[0] == tags[1]


WRITTEN = [row[0] for row in ACCEPTED if row[1] != "count"]
WRITTEN += [e for kind, each in EXAMPLES.items() for e in each if kind != "count"]


@pytest.mark.parametrize("text", WRITTEN)
def test_the_pattern_lets_in_every_way_of_writing(text: str) -> None:
    assert re.search(PATTERN, text)


@pytest.mark.parametrize("text", ["8", "8.5", "in", "", "eight in", "8 \x00in", "x8 in", "½ in"])
def test_the_pattern_keeps_out_what_is_never_read(text: str) -> None:
    assert not re.search(PATTERN, text)


def test_quantities_have_the_pattern_wherever_they_are_asked(document: dict[str, Any]) -> None:
    found = []

    def walk(node: Any, where: str) -> None:
        if isinstance(node, dict):
            example = node.get("example")
            if (
                node.get("type") == "string"
                and isinstance(example, str)
                and re.search(r"\d ?(in|F|%|mil|mph|sq ft|deg)$", example)
            ):
                found.append((where, node.get("pattern")))
            for key, inner in node.items():
                walk(inner, f"{where}.{key}")
        elif isinstance(node, list):
            for number, inner in enumerate(node):
                walk(inner, f"{where}.{number}")

    questions = {
        name: schema
        for name, schema in document["components"]["schemas"].items()
        if schema.get("additionalProperties") is False
    }
    walk(questions, "")
    assert len(found) > 40
    assert [where for where, pattern in found if pattern != PATTERN] == []


def test_the_page_says_the_rules(client: FlaskClient) -> None:
    page = client.get("/docs").get_data(as_text=True)
    for id in ("units", "ids", "ceilings", "language", "retry", "growth", "overlays", "problems"):
        assert f'id="{id}"' in page
    for said in (
        "8 1/2 in", "a bare number is refused", "1,000 ft", "256 KB", "2,000", "Retry-After",
        "keys are added, never renamed", "Authorization: Bearer", "SHA-256", "If-None-Match",
        "X-Request-ID", "Accept-Language", "computed by this server", "text/csv",
    ):  # fmt: skip
        assert said in page, said
    assert all(f"<code>{code}</code>" in page for code in CODES)
