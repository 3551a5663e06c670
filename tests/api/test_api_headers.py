"""What stands in headers: media types, languages, the id of a request, links to other pages."""

from __future__ import annotations

import logging
import re
from typing import Any

import pytest
from flask.testing import FlaskClient
from werkzeug.http import parse_options_header

PIECES = {"pieces": [{"id": "A", "width": "6 in", "length": "13 in"}]}
READ = {"resin": "pu-2k", "now": {"air": "72 F", "surface": "78 F", "humidity": "55 %"}}


@pytest.mark.parametrize(
    ("accept", "came"),
    [
        (None, "application/json"),
        ("*/*", "application/json"),
        ("application/json; charset=utf-8", "application/json"),
        ("application/json;version=1;q=0.3", "application/json"),
        ("APPLICATION/JSON", "application/json"),
        ("image/svg+xml", "image/svg+xml"),
        ("image/*", "image/svg+xml"),
        ("image/svg+xml;q=0.4, application/json;q=0.9", "application/json"),
        ("image/svg+xml;q=0.9, application/json;q=0.4", "image/svg+xml"),
        ("application/json;q=0, image/svg+xml;q=0.1", "image/svg+xml"),
        # the nearest range decides, however well liked a wider one is
        ("*/*, application/json;q=0", "image/svg+xml"),
        ("application/json;q=0.2, */*;q=0.9", "image/svg+xml"),
        ("application/json;q=0", None),
        ("*/*;q=0", None),
        ("text/html", None),
    ],
)
def test_accept_is_weighed_with_its_parameters(
    client: FlaskClient, accept: str | None, came: str | None
) -> None:
    headers = {} if accept is None else {"Accept": accept}
    told = client.post("/v1/cutlist", json=PIECES, headers=headers)
    if came is None:
        assert told.status_code == 406
        assert "application/json or image/svg+xml" in told.get_json()["errors"][0]["detail"]
    else:
        assert (told.status_code, told.mimetype) == (200, came)


def test_a_drawing_is_not_sent_to_whoever_takes_json_alone(
    client: FlaskClient, example: dict[str, Any]
) -> None:
    body = {"view": "plan", **example}
    told = client.post("/v1/drawing", json=body, headers={"Accept": "application/json"})
    assert told.status_code == 406
    assert client.post("/v1/drawing", json=body).mimetype == "image/svg+xml"


@pytest.mark.parametrize(
    ("header", "lang", "spoken"),
    [
        (None, None, "en"),
        ("es", None, "es"),
        ("es-MX,es;q=0.9,en;q=0.5", None, "es"),
        ("fr, en;q=0.5, es;q=0.4", None, "en"),
        ("fr", None, "en"),
        ("en", "es", "es"),
        ("es", "en", "en"),
    ],
)
def test_an_answer_speaks_the_language_asked_for_and_says_which(
    client: FlaskClient, header: str | None, lang: str | None, spoken: str
) -> None:
    headers = {} if header is None else {"Accept-Language": header}
    body = READ if lang is None else {**READ, "lang": lang}
    told = client.post("/v1/conditions", json=body, headers=headers)
    assert told.get_json()["lang"] == told.headers["Content-Language"] == spoken
    assert "Accept-Language" in told.vary
    drawn = client.post(
        "/v1/cutlist",
        json=PIECES if lang is None else {**PIECES, "lang": lang},
        headers={**headers, "Accept": "image/svg+xml"},
    )
    assert drawn.headers["Content-Language"] == spoken


@pytest.mark.parametrize(
    ("path", "spoken"),
    [
        ("/v1/editions/next/resins/pu-2k", "en, es"),
        ("/v1/editions/next/resins", "en, es"),
        ("/openapi.json", "en"),
        ("/docs", "en"),
        ("/?lang=es", "es"),
    ],
)
def test_what_is_read_says_its_language_too(client: FlaskClient, path: str, spoken: str) -> None:
    assert client.get(path).headers["Content-Language"] == spoken


@pytest.mark.parametrize("given", ["roof-7", "a" * 64, "8d6f9f4e-7a3b-4c53-a7d1-000000000000"])
def test_a_request_id_comes_back_and_stands_in_the_log(
    client: FlaskClient, caplog: pytest.LogCaptureFixture, given: str
) -> None:
    with caplog.at_level(logging.INFO):
        told = client.get("/v1/editions", headers={"X-Request-ID": given})
    assert told.headers["X-Request-ID"] == given
    assert caplog.records[-1].getMessage().endswith(given)


@pytest.mark.parametrize("given", [None, "", "a b", "a" * 65, "<b>", "-x"])
def test_a_request_without_an_id_that_fits_is_given_one(
    client: FlaskClient, given: str | None
) -> None:
    headers = {} if given is None else {"X-Request-ID": given}
    ids = {client.get("/v1/nowhere", headers=headers).headers["X-Request-ID"] for _ in range(3)}
    assert len(ids) == 3
    assert all(re.fullmatch(r"[0-9a-f]{32}", each) for each in ids)


def test_pages_are_linked_from_the_first_to_the_last(client: FlaskClient) -> None:
    found: list[str] = []
    page: str | None = "/v1/editions/next/terms?limit=40&units=si"
    while page is not None:
        told = client.get(page)
        body = told.get_json()
        found += [record["id"] for record in body["items"]]
        page = body["next_page"]
        if page is None:
            assert "Link" not in told.headers
        else:
            link, options = parse_options_header(told.headers["Link"])
            assert (link.strip("<>"), options["rel"]) == (page, "next")
            assert "limit=40" in page and "units=si" in page
    whole = client.get("/v1/editions/next").get_json()["kinds"]
    assert len(found) == len(set(found)) == next(k["count"] for k in whole if k["kind"] == "terms")


@pytest.mark.parametrize(
    "path",
    [
        "/v1/editions?cursor=2031.1",
        "/v1/editions?cursor=",
        "/v1/editions/next/resins?cursor=nowhere",
        "/v1/editions/next/resins?cursor=%00",
        "/v1/editions/next/changes?since=next&cursor=999999",
        "/v1/editions/next/changes?since=next&cursor=-1",
    ],
)
def test_an_unknown_cursor_is_400(client: FlaskClient, path: str) -> None:
    told = client.get(path)
    assert told.status_code == 400
    assert told.get_json()["errors"][0]["pointer"] == "/cursor"
    assert "next_page" in told.get_json()["errors"][0]["detail"]
