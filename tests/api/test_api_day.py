"""Film, cutting and take-off over the API: the doors' own documents, as documented."""

from __future__ import annotations

from typing import Any

import pytest
from flask.testing import FlaskClient

from upstand_api.openapi.examples import CUTLIST, FILM, TAKEOFF

RIGHT = {
    "film": (FILM, "FilmAnswer"),
    "cutlist": (CUTLIST, "CutListAnswer"),
    "takeoff": (TAKEOFF, "TakeOffAnswer"),
}
WRONG: list[tuple[str, dict[str, Any], str]] = [
    ("film", {**FILM, "layer": "middle"}, "/layer"),
    ("film", {**FILM, "readings": ["40"]}, "/readings/0"),
    ("film", {"layer": "base", "area": "2 sq ft"}, "/readings"),
    ("cutlist", {"pieces": []}, "/pieces"),
    ("cutlist", {"pieces": [{"id": "A", "width": "9 ft", "length": "9 ft"}]}, "/pieces/0"),
    ("cutlist", {**CUTLIST, "roll": {"width": "x"}}, "/roll/width"),
    ("takeoff", {"details": []}, "/details"),
    ("takeoff", {**TAKEOFF, "stock": [{"pack": "none"}]}, "/stock/0/pack"),
    ("takeoff", {"details": [{"id": "a", "detail": "post"}]}, "/details/0/roof"),
]


@pytest.mark.parametrize("lang", ["en", "es"])
@pytest.mark.parametrize("name", RIGHT)
def test_a_right_question_is_answered_as_documented(
    client: FlaskClient, conforms: Any, name: str, lang: str
) -> None:
    body, schema = RIGHT[name]
    told = client.post(f"/v1/{name}", json={**body, "lang": lang})
    assert told.status_code == 200, told.text
    assert told.get_json()["lang"] == lang
    conforms(told.get_json(), schema)


@pytest.mark.parametrize(("name", "body", "pointer"), WRONG)
def test_a_wrong_question_is_told_its_field(
    client: FlaskClient, name: str, body: dict[str, Any], pointer: str
) -> None:
    told = client.post(f"/v1/{name}", json=body)
    assert told.status_code == 422, told.text
    assert pointer in [fault["pointer"] for fault in told.get_json()["errors"]]


def test_six_good_readings_go_and_thin_ones_hold(client: FlaskClient) -> None:
    # base coat 40 mil: all six at or over it; 20 mil is half of it
    assert client.post("/v1/film", json=FILM).get_json()["verdict"] == "go"
    thin = {**FILM, "readings": ["20 mil"] * 6}
    told = client.post("/v1/film", json=thin).get_json()
    assert told["verdict"] == "hold"
    assert told["top_up"] is not None


def test_a_cutting_plan_comes_drawn_where_that_is_asked_for(client: FlaskClient) -> None:
    told = client.post("/v1/cutlist", json=CUTLIST, headers={"Accept": "image/svg+xml"})
    assert told.status_code == 200, told.text
    assert told.content_type.startswith("image/svg+xml")
    assert told.text.startswith("<svg") and "E1" in told.text


def test_a_take_off_multiplies_by_its_counts(client: FlaskClient) -> None:
    told = client.post("/v1/takeoff", json=TAKEOFF).get_json()
    # eight stanchions and two vents
    assert told["count"] == 10
    pieces = {p["letter"]: p["count"] for p in told["details"][0]["pieces"]}
    # four patches on each of eight square tubes
    assert pieces["E1"] == 32
