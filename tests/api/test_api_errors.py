"""Every way to an error ends in application/problem+json, as documented, in words that help."""

from __future__ import annotations

import json
import time
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from upstand_api.app import create_app
from upstand_api.http.problems import MOST_ERRORS, TELLING
from upstand_api.settings import Settings
from upstand_api.state import NAME

GOOD = {"resin": "pu-2k", "now": {}}
JSON = {"Content-Type": "application/json"}


def check(told: TestResponse, status: int, conforms: Any) -> dict[str, str]:
    """Check the shape of a problem; gives its faults by pointer."""
    assert told.status_code == status, told.get_data(as_text=True)[:300]
    assert told.content_type == "application/problem+json"
    assert told.headers["Cache-Control"] == "no-store"
    assert told.headers["X-Content-Type-Options"] == "nosniff"
    problem = told.get_json()
    conforms(problem, "Problem")
    assert problem["status"] == status
    assert problem["errors"]
    assert problem["type"] == f"/docs#problem-{status}"
    return {error["pointer"]: error["detail"] for error in problem["errors"]}


@pytest.mark.parametrize(
    ("path", "pointer", "said"),
    [
        ("/v1/requirement", "", "did you mean /v1/requirements"),
        ("/v1/requirements/", "", "did you mean /v1/requirements"),
        ("/v1", "", "/v1/editions"),
        ("/wp-login.php", "", "/docs lists every address"),
        ("/v1/editions/2031.1", "", "no such edition"),
        ("/v1/editions/nxt", "", "did you mean next"),
        ("/v1/editions/next/resin", "", "did you mean resins"),
        ("/v1/editions/next/resins/pu2k", "", "did you mean pu-2k"),
        ("/v1/editions/next/terms/flece", "", "did you mean fleece"),
        ("/v1/editions/next/resins/pu-2k/x", "", "no such address"),
        ("/v1/editions/next/changes?since=2031.1", "/since", "no such edition"),
        ("/v1/editions/..%2f..%2fetc", "", "no such"),
        ("/v1/editions/next/resins/%3Cscript%3E", "", "…"),
        ("/v1/editions/next?overlay=acme", "/overlay", "no overlay of that name"),
    ],
)
def test_unknown_is_404_with_the_nearest_known(
    client: FlaskClient, conforms: Any, path: str, pointer: str, said: str
) -> None:
    assert said in check(client.get(path), 404, conforms)[pointer]


@pytest.mark.parametrize(
    ("method", "path", "allowed"),
    [
        ("GET", "/v1/requirements", {"POST", "OPTIONS"}),
        ("PUT", "/v1/requirements", {"POST", "OPTIONS"}),
        ("DELETE", "/v1/editions", {"GET", "HEAD", "OPTIONS"}),
        ("POST", "/v1/editions/next/resins", {"GET", "HEAD", "OPTIONS"}),
        ("TRACE", "/healthz", {"GET", "HEAD", "OPTIONS"}),
        ("POST", "/", {"GET", "HEAD", "OPTIONS"}),
        ("NONSENSE", "/docs", {"GET", "HEAD", "OPTIONS"}),
    ],
)
def test_another_method_is_405_and_says_which(
    client: FlaskClient, conforms: Any, method: str, path: str, allowed: set[str]
) -> None:
    # no content type, a wrong one and a right one: the routing error comes first
    for headers in ({}, {"Content-Type": "text/plain"}, JSON):
        told = client.open(path, method=method, headers=headers, data=b"x")
        said = check(told, 405, conforms)
        assert set(told.headers["Allow"].split(", ")) == allowed
        assert all(word in said[""] for word in allowed - {"HEAD", "OPTIONS"})


@pytest.mark.parametrize("accept", ["text/html", "application/xml, text/*;q=0.5", "image/png"])
@pytest.mark.parametrize("path", ["/v1/editions", "/readyz", "/openapi.json"])
def test_an_answer_that_may_not_be_json_is_406(
    client: FlaskClient, conforms: Any, accept: str, path: str
) -> None:
    check(client.get(path, headers={"Accept": accept}), 406, conforms)


@pytest.mark.parametrize(
    "accept", ["", "*/*", "application/*", "application/json", "text/html, */*;q=0.1"]
)
def test_whoever_takes_json_gets_it(client: FlaskClient, accept: str) -> None:
    assert client.get("/v1/editions", headers={"Accept": accept}).status_code == 200


@pytest.mark.parametrize(
    "headers",
    [
        {},
        {"Content-Type": ""},
        {"Content-Type": "text/plain"},
        {"Content-Type": "application/x-www-form-urlencoded"},
        {"Content-Type": "multipart/form-data; boundary=x"},
        {"Content-Type": "application/jsonx"},
        {"Content-Type": "application/json; charset=latin-1"},
        {**JSON, "Content-Encoding": "gzip"},
    ],
)
def test_another_content_type_is_415(
    client: FlaskClient, conforms: Any, headers: dict[str, str]
) -> None:
    told = client.post("/v1/conditions", headers=headers, data=json.dumps(GOOD))
    check(told, 415, conforms)


@pytest.mark.parametrize(
    "type", ["application/json", "Application/JSON", "application/json; charset=UTF-8"]
)
def test_json_by_any_of_its_names_is_read(client: FlaskClient, type: str) -> None:
    told = client.post("/v1/conditions", headers={"Content-Type": type}, data=json.dumps(GOOD))
    assert told.status_code == 200


def test_a_body_over_256_kb_is_413(client: FlaskClient, conforms: Any) -> None:
    most = json.dumps(GOOD) + " " * (256 * 1024 - len(json.dumps(GOOD)))
    assert client.post("/v1/conditions", headers=JSON, data=most).status_code == 200
    told = client.post("/v1/conditions", headers=JSON, data=most + " ")
    assert "256 KB" in check(told, 413, conforms)[""]


@pytest.mark.parametrize(
    ("body", "pointer"),
    [
        (b"", ""),
        (b"{", ""),
        (b'{"now": {}, "now": {}}', "/now"),
        (b'{"now": {"air": NaN}}', "/now/air"),
        (b'{"now": ' + b"[" * 300 + b"]" * 300 + b"}", "/now" + "/0" * 15),
        (b'{"now": ' + b"[" * 99_000, ""),
        (b"\xff", ""),
    ],
)
def test_what_cannot_be_read_is_400(
    client: FlaskClient, conforms: Any, body: bytes, pointer: str
) -> None:
    assert pointer in check(client.post("/v1/conditions", headers=JSON, data=body), 400, conforms)


@pytest.mark.parametrize("path", ["/v1/requirements", "/v1/conditions"])
@pytest.mark.parametrize(
    ("named", "status", "pointer"),
    [
        ({"edition": "2031.1"}, 404, "/edition"),
        ({"edition": 5}, 422, "/edition"),
        ({"edition": None}, 422, "/edition"),
        ({"edition": ""}, 404, "/edition"),
        ({"edition": "../next"}, 404, "/edition"),
        ({"overlay": "acme"}, 404, "/overlay"),
        ({"overlay": "../../etc/passwd"}, 404, "/overlay"),
        ({"overlay": ["acme"]}, 422, "/overlay"),
        ({"overlay": None}, 422, "/overlay"),
    ],
)
def test_the_edition_and_overlay_of_a_body(
    client: FlaskClient,
    conforms: Any,
    example: dict[str, Any],
    path: str,
    named: dict[str, Any],
    status: int,
    pointer: str,
) -> None:
    body = {**(example if path.endswith("requirements") else GOOD), **named}
    assert pointer in check(client.post(path, json=body), status, conforms)


def test_a_wrong_edition_does_not_hide_other_faults(client: FlaskClient, conforms: Any) -> None:
    told = client.post("/v1/conditions", json={"edition": 5, "resin": "x", "now": {"air": "72"}})
    assert set(check(told, 422, conforms)) == {"/edition", "/resin", "/now/air"}


@pytest.mark.parametrize(
    ("query", "pointer"),
    [
        ("limit=0", "/limit"),
        ("limit=101", "/limit"),
        ("limit=1e3", "/limit"),
        ("limit=٣", "/limit"),
        ("limit=1&limit=2", "/limit"),
        ("units=metric", "/units"),
        ("overlay=%3Cb%3E", "/overlay"),
        ("lmit=3", "/lmit"),
    ],
)
def test_wrong_parameters_are_422_at_their_name(
    client: FlaskClient, conforms: Any, query: str, pointer: str
) -> None:
    assert pointer in check(client.get(f"/v1/editions/next/resins?{query}"), 422, conforms)


def test_a_question_in_the_address_is_not_passed_over(client: FlaskClient, conforms: Any) -> None:
    told = client.post("/v1/conditions?units=si", json=GOOD)
    assert "/units" in check(told, 422, conforms)


def test_changes_need_to_know_since_when(client: FlaskClient, conforms: Any) -> None:
    assert "/since" in check(client.get("/v1/editions/next/changes"), 422, conforms)


def test_more_requests_a_minute_than_allowed_is_429(conforms: Any) -> None:
    client = create_app(Settings(requests_per_minute=2)).test_client()
    assert [client.get("/v1/editions").status_code for _ in range(2)] == [200, 200]
    told = client.get("/v1/editions")
    check(told, 429, conforms)
    # a bucket of two fills by one in half a minute
    assert 1 <= int(told.headers["Retry-After"]) <= 31
    assert client.get("/healthz").status_code == 200
    # a phone fetches hundreds of the handbook's files at once
    assert client.get("/handbook").status_code == 308


def test_the_address_behind_proxies_is_the_callers_where_they_are_set() -> None:
    def codes(proxies: int) -> list[int]:
        client = create_app(Settings(requests_per_minute=1, proxies=proxies)).test_client()
        callers = ("192.0.2.1", "192.0.2.2")
        return [
            client.get("/v1/editions", headers={"X-Forwarded-For": caller}).status_code
            for caller in callers
        ]

    assert codes(1) == [200, 200]
    assert codes(0) == [200, 429]  # what a caller writes is not believed


def test_large_work_never_stands_in_the_way(app: Flask, example: dict[str, Any]) -> None:
    large = app.extensions[NAME].large
    plates = [{"width": "1 in", "length": "1 in", "at": ["60 in", f"{x} in"]} for x in range(30)]
    with large._turn:
        waited, large._wait_s = large._wait_s, 0.01
        try:
            told = app.test_client().post("/v1/requirements", json={**example, "plates": plates})
            assert told.status_code == 503
            assert app.test_client().post("/v1/requirements", json=example).status_code == 200
        finally:
            large._wait_s = waited


def test_only_load_is_503_with_when_to_come_again(app: Flask, conforms: Any) -> None:
    gate = app.extensions[NAME].gate
    places = 0
    try:
        while gate._places.acquire(blocking=False):
            places += 1
        assert places == Settings().max_in_flight
        begin = time.monotonic()
        told = app.test_client().post("/v1/conditions", json=GOOD)
        assert time.monotonic() - begin < gate._wait_s  # at once: the line is full
        check(told, 503, conforms)
        assert int(told.headers["Retry-After"]) >= 1
    finally:
        gate._places.release(places)
    assert app.test_client().post("/v1/conditions", json=GOOD).status_code == 200


def test_a_fault_of_the_software_says_so_and_nothing_of_the_question(
    conforms: Any, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    client = create_app(Settings()).test_client()

    def broken(body: dict[str, str], _: object) -> None:
        raise RuntimeError(body["resin"])

    monkeypatch.setattr("upstand_api.resources.conditions.read_conditions", broken)
    told = client.post("/v1/conditions", json={"resin": "secret words", "now": {}})
    assert told.status_code == 500
    assert told.content_type == "application/problem+json"
    conforms(told.get_json(), "Problem")
    assert "secret" not in told.get_data(as_text=True)
    assert "RuntimeError" in caplog.text and "secret" not in caplog.text


def test_very_many_faults_are_counted_not_all_listed(client: FlaskClient, conforms: Any) -> None:
    body = {"detail": "post", "roof": "tpo", "members": [{"wdth": "1 in"}] * 50, "plates": []}
    body["members"] = [{f"x{n}": 1 for n in range(90)}] * 50  # type: ignore[assignment]
    told = client.post("/v1/requirements", json=body)
    assert told.status_code == 422
    errors = told.get_json()["errors"]
    assert len(errors) == MOST_ERRORS
    assert "more faults" in errors[-1]["detail"]


def test_the_docs_explain_every_kind_of_problem(client: FlaskClient) -> None:
    page = client.get("/docs").get_data(as_text=True)
    assert all(f'id="problem-{status}"' in page for status in TELLING)
