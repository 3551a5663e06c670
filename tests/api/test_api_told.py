"""Errors in the language asked for: a code that stays, and what would be accepted."""

from __future__ import annotations

import json
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient

from upstand.telling.said import CODES
from upstand_api.app import create_app
from upstand_api.settings import Settings

SPANISH = {"Accept-Language": "es-MX, es;q=0.9"}
#: Requests that are wrong: method, path, body, the code, the place, and what is told in Spanish.
WRONG: tuple[tuple[str, str, Any, str, str, str], ...] = (
    ("POST", "/v1/conditions", b"{", "not-json", "", "no es JSON, en la línea 1"),
    ("POST", "/v1/conditions", b"", "empty", "", "está vacío: envíe un objeto JSON"),
    ("POST", "/v1/conditions", {}, "missing", "/now", "falta: escríbalo, por ejemplo"),
    ("POST", "/v1/conditions", {"now": None}, "null", "/now", "es null"),
    ("POST", "/v1/conditions", {"now": {"air": "72"}}, "no-unit", "/now/air", "grados Fahrenheit"),
    ("POST", "/v1/conditions", {"now": {"air": "8 in"}}, "wrong-unit", "/now/air", "longitud"),
    ("POST", "/v1/conditions", {"now": {"air": "900 F"}}, "out-of-range", "/now/air", "techo"),
    ("POST", "/v1/conditions", {"now": {"wet": 1}}, "wrong-type", "/now/wet", "true o false"),
    ("POST", "/v1/conditions", {"now": {}, "x": 1}, "unknown-field", "/x", "no es un campo"),
    ("POST", "/v1/conditions", {"now": {}, "resin": "pu"}, "unknown-id", "/resin", "como resina"),
    ("GET", "/v1/nowhere", None, "unknown-address", "", "no existe esa dirección"),
    ("GET", "/v1/editions/2031.1", None, "unknown-edition", "", "no existe esa edición"),
    ("GET", "/v1/editions/next/resin", None, "unknown-id", "", "no existe la clase resin"),
    ("GET", "/v1/editions?limit=0", None, "out-of-range", "/limit", "de 1 a 100"),
    ("GET", "/v1/editions?cursor=x", None, "unknown-cursor", "/cursor", "next_page"),
    ("PUT", "/v1/film", None, "wrong-method", "", "aquí use POST"),
)


@pytest.mark.parametrize(("method", "path", "body", "code", "pointer", "said"), WRONG)
def test_what_is_wrong_is_told_by_code_and_in_the_language_asked_for(
    client: FlaskClient,
    conforms: Any,
    method: str,
    path: str,
    body: Any,
    code: str,
    pointer: str,
    said: str,
) -> None:
    content = body if isinstance(body, bytes) else json.dumps(body).encode()
    sent: dict[str, Any] = {"method": method}
    if body is not None:
        sent |= {"data": content, "content_type": "application/json"}
    spanish = client.open(path, headers=SPANISH, **sent)
    english = client.open(path, **sent)
    for told, lang in ((spanish, "es"), (english, "en")):
        conforms(told.get_json(), "Problem")
        assert told.headers["Content-Language"] == lang
        assert told.get_json()["request_id"] == told.headers["X-Request-ID"]
        (error,) = told.get_json()["errors"]
        assert (error["code"], error["pointer"]) == (code, pointer)
    assert said in spanish.get_json()["errors"][0]["detail"]
    assert spanish.get_json()["title"] != english.get_json()["title"]
    accepted = [each.get_json()["errors"][0].get("accepted") for each in (spanish, english)]
    assert accepted[0] == accepted[1]


def test_the_language_of_the_body_goes_before_the_header(client: FlaskClient) -> None:
    told = client.post("/v1/conditions", json={"lang": "en", "now": 1}, headers=SPANISH)
    assert told.headers["Content-Language"] == "en"
    told = client.post("/v1/conditions", json={"lang": "fr", "now": {}}, headers=SPANISH)
    assert told.headers["Content-Language"] == "es"
    assert told.get_json()["errors"][0]["accepted"] == ["en", "es"]


@pytest.mark.parametrize(
    ("change", "pointer", "accepted"),
    [
        ({"roof": "tpoo"}, "/roof", "tpo"),
        ({"units": "metric"}, "/units", "us"),
        ({"height": "8"}, "/height", "8 in"),
        ({"hieght": "8 in"}, "/hieght", "height"),
        ({"view": "plan"}, "/view", "detail"),
    ],
)
def test_what_would_be_accepted_is_listed_the_nearest_first(
    client: FlaskClient,
    example: dict[str, Any],
    change: dict[str, str],
    pointer: str,
    accepted: str,
) -> None:
    told = client.post("/v1/requirements", json={**example, **change}).get_json()
    (error,) = told["errors"]
    assert error["pointer"] == pointer
    assert error["accepted"][0] == accepted or accepted in error["accepted"]


@pytest.mark.parametrize(
    "body",
    [
        {"detail": "post", "roof": "tpo"},
        {"detail": "post", "roof": "tpo", "members": [{"section": "angle"}]},
        {"detail": "post", "roof": "tpo", "members": [{"designation": "L99x9"}], "riser": "4 in"},
        {"detail": "curb", "roof": "tpo", "joined": 9, "surfaces": [{"part": "x"}]},
        {"detail": "corner", "roof": "tpo", "corner": "inside", "length": "1 in"},
    ],
)
def test_every_fault_of_a_detail_speaks_spanish(client: FlaskClient, body: dict[str, Any]) -> None:
    sent = [
        client.post("/v1/requirements", json={**body, "lang": lang}).get_json()["errors"]
        for lang in ("en", "es")
    ]
    assert [e["pointer"] for e in sent[0]] == [e["pointer"] for e in sent[1]]
    for en, es in zip(*sent, strict=True):
        assert en["code"] == es["code"] in CODES
        assert en["detail"] != es["detail"]


def test_load_and_rate_are_told_by_code(app: Flask) -> None:
    client = create_app(Settings(requests_per_minute=1)).test_client()
    client.get("/v1/editions")
    told = client.get("/v1/editions", headers=SPANISH)
    assert told.get_json()["errors"][0]["code"] == "too-often"
    assert "solicitudes por minuto" in told.get_json()["detail"]
