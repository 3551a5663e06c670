"""POST /v1/drawing: an SVG of the right kind, its policy, and the same errors as everywhere."""

from __future__ import annotations

import re
from typing import Any
from xml.etree import ElementTree

import pytest
from flask.testing import FlaskClient

from upstand.drawing import VIEWS as DRAWN
from upstand.query.drawing import VIEWS
from upstand_api.openapi.examples import DRAWING

SVG = "{http://www.w3.org/2000/svg}"


def test_the_views_asked_for_are_those_that_are_drawn() -> None:
    assert set(VIEWS) == set(DRAWN)


@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize(("units", "unit"), [("us", "in"), ("si", "mm")])
def test_each_view_comes_as_svg_in_the_units_asked_for(
    client: FlaskClient, view: str, units: str, unit: str
) -> None:
    told = client.post("/v1/drawing", json={**DRAWING, "view": view, "units": units})
    assert told.status_code == 200
    assert told.mimetype == "image/svg+xml"
    root = ElementTree.fromstring(told.get_data(as_text=True))
    assert root.tag == f"{SVG}svg" and root.get("role") == "img"
    for name in ("title", "desc"):
        found = root.find(f"{SVG}{name}")
        assert found is not None and found.text
        assert found.get("id") in (root.get("aria-labelledby") or "").split()
    texts = " ".join(text.text or "" for text in root.iter(f"{SVG}text"))
    assert re.search(rf"\d\u00a0{unit}\b", texts)


def test_its_style_is_let_in_by_its_policy_and_nothing_else(client: FlaskClient) -> None:
    told = client.post("/v1/drawing", json=dict(DRAWING))
    policy = told.headers["Content-Security-Policy"]
    assert "default-src 'none'" in policy and "style-src 'sha256-" in policy
    assert told.headers["Cache-Control"] == "no-store"
    assert "<script" not in told.get_data(as_text=True)


@pytest.mark.parametrize(
    "accept", ["image/svg+xml", "*/*", "image/*", "image/svg+xml;q=0.1, application/json"]
)
def test_whoever_takes_an_image_is_answered(client: FlaskClient, accept: str) -> None:
    told = client.post("/v1/drawing", json=dict(DRAWING), headers={"Accept": accept})
    assert told.status_code == 200


def test_whoever_takes_neither_is_told(client: FlaskClient) -> None:
    told = client.post("/v1/drawing", json=dict(DRAWING), headers={"Accept": "text/html"})
    assert told.status_code == 406


@pytest.mark.parametrize(
    ("view", "words"),
    [(None, "is missing"), ("plna", "did you mean plan"), (3, "is not text"), ("P" * 500, "known")],
)
def test_a_wrong_view_is_told_beside_all_other_faults(
    client: FlaskClient, conforms: Any, view: Any, words: str
) -> None:
    body = {**DRAWING, "view": view, "height": "eight"}
    told = client.post("/v1/drawing", json=body)
    assert told.status_code == 422
    conforms(told.get_json(), "Problem")
    errors = {error["pointer"]: error["detail"] for error in told.get_json()["errors"]}
    assert set(errors) == {"/view", "/height"}
    assert words in errors["/view"]


def test_what_has_no_geometry_says_why(client: FlaskClient, conforms: Any) -> None:
    body = {"view": "plan", "detail": "expansion-joint", "roof": "tpo"}
    told = client.post("/v1/drawing", json=body)
    assert told.status_code == 422
    conforms(told.get_json(), "Problem")
    assert "nothing to draw" in told.get_json()["errors"][0]["detail"]
