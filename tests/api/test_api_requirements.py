"""POST /v1/requirements gives the engine's own document, and it is what the API documents."""

from __future__ import annotations

import copy
import json
from typing import Any

import pytest
from flask.testing import FlaskClient

from upstand.answer import answer
from upstand.document.requirements import write
from upstand.edition import Edition
from upstand.query import read_requirements

PIPE = {"section": "pipe", "od": "4 1/2 in", "substrate": "cast-iron"}
CHANGES: dict[str, dict[str, Any]] = {
    "as it is": {},
    "si, Spanish": {"units": "si", "lang": "es"},
    "no weather": {"now": None},
    "unknown surface temperature": {"now": {"air": "72 F"}},
    "too cold": {"now": {"air": "30 F", "surface": "28 F", "humidity": "85 %"}},
    "too low": {"height": "4 in"},
    "one pipe": {"detail": "pipe", "members": [PIPE], "plates": None},
    "hot pipe": {"detail": "hot-pipe", "members": [PIPE], "plates": None},
    "no geometry": {
        "detail": "expansion-joint",
        **dict.fromkeys(("members", "plates", "height", "flange", "reveal")),
    },
    "must be tested": {
        "members": [
            {"section": "rod", "diameter": "2 in", "substrate": "asbestos-cement"},
        ]
    },
    "methacrylate": {"resin": "pmma"},
    "one-part": {"resin": "stpe-1k", "count": 12},
}


def asked(example: dict[str, Any], changes: dict[str, Any]) -> dict[str, Any]:
    """Put changes into the example; None takes a field away."""
    whole = {**example, **changes}
    return {name: value for name, value in whole.items() if value is not None}


@pytest.mark.parametrize("changes", CHANGES.values(), ids=CHANGES.keys())
def test_the_answer_is_the_engines_document_and_as_documented(
    client: FlaskClient, draft: Edition, example: dict[str, Any], changes: Any, conforms: Any
) -> None:
    body = asked(example, changes)
    told = client.post("/v1/requirements", json=body)
    assert told.status_code == 200, told.get_data(as_text=True)
    assert told.content_type == "application/json"
    document = told.get_json()
    assert document == write(answer(read_requirements(body, draft), draft))
    conforms(document, "Answer")


def test_numbers_go_out_to_the_last_digit(client: FlaskClient, example: dict[str, Any]) -> None:
    # repr is the shortest text that reads back as the same double
    told = client.post("/v1/requirements", json=example).get_data(as_text=True)
    need = json.loads(told)["materials"][0]["need"]["value"]
    assert f'"value":{need!r}' in told


def test_an_answer_is_not_kept_and_has_no_etag(
    client: FlaskClient, example: dict[str, Any]
) -> None:
    told = client.post("/v1/requirements", json=example)
    assert told.headers["Cache-Control"] == "no-store"
    assert "ETag" not in told.headers


def test_the_edition_is_chosen_in_the_body(published: FlaskClient, example: dict[str, Any]) -> None:
    def base_mil(**more: Any) -> tuple[str, float]:
        told = published.post("/v1/requirements", json={**example, **more})
        assert told.status_code == 200, told.get_data(as_text=True)
        document = told.get_json()
        base = next(coat for coat in document["coats"] if coat["id"] == "base")
        return document["edition"], base["thickness"]["value"]

    assert base_mil() == ("2026.2", 45.0)
    assert base_mil(edition="2026.1") == ("2026.1", 40.0)


def test_a_withdrawn_edition_answers_with_a_warning(
    published: FlaskClient, example: dict[str, Any]
) -> None:
    document = published.post("/v1/requirements", json={**example, "edition": "2026.1"}).get_json()
    assert "withdrawn" in document["notices"][0]
    assert "An edition of the tests." in document["notices"][0]
    newest = published.post("/v1/requirements", json=example).get_json()
    assert not any("withdrawn" in notice for notice in newest["notices"])


def test_all_faults_come_at_once_with_pointers(
    client: FlaskClient, example: dict[str, Any], conforms: Any
) -> None:
    body = copy.deepcopy(example)
    body["roof"] = "tpoo"
    body["members"][0]["leg_a"] = "3"
    body["now"]["humidity"] = "120 %"
    body["count"] = "1"
    body["heigth"] = "8 in"
    told = client.post("/v1/requirements", json=body)
    assert told.status_code == 422
    problem = told.get_json()
    conforms(problem, "Problem")
    said = {error["pointer"]: error["detail"] for error in problem["errors"]}
    assert set(said) == {"/roof", "/members/0/leg_a", "/now/humidity", "/count", "/heigth"}
    assert "did you mean tpo" in said["/roof"]
    assert "3 inches or millimeters" in said["/members/0/leg_a"]
    assert "did you mean height" in said["/heigth"]
