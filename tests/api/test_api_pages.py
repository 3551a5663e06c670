"""Start page, handbook and headers."""

from __future__ import annotations

import base64
import hashlib
import json
import logging
import re
import shlex
from pathlib import Path

import pytest
from flask import Flask
from flask.testing import FlaskClient

from upstand_api.app import create_app
from upstand_api.openapi.examples import CONDITIONS, curl
from upstand_api.settings import Settings

PATHS = (
    "/",
    "/docs",
    "/openapi.json",
    "/healthz",
    "/handbook/",
    "/v1/editions/next/resins/pu-2k",
    "/nowhere",
)


@pytest.mark.parametrize("path", PATHS)
def test_every_response_carries_the_headers(client: FlaskClient, path: str) -> None:
    told = client.get(path, headers={"Host": "evil.example"})
    assert told.headers["X-Content-Type-Options"] == "nosniff"
    assert told.headers["X-Frame-Options"] == "DENY"
    assert told.headers["Referrer-Policy"] == "no-referrer"
    policy = told.headers["Content-Security-Policy"]
    assert "default-src 'none'" in policy and "frame-ancestors 'none'" in policy
    assert "unsafe" not in policy
    assert "evil" not in told.get_data(as_text=True) + str(told.headers)


@pytest.mark.parametrize("path", ["/", "/docs", "/handbook/"])
def test_the_policy_lets_the_pages_own_style_in(client: FlaskClient, path: str) -> None:
    told = client.get(path)
    found = re.findall(r"<style>(.*?)</style>", told.get_data(as_text=True), re.S)
    assert len(found) == 1
    digest = base64.b64encode(hashlib.sha256(found[0].encode()).digest()).decode()
    assert f"style-src 'sha256-{digest}'" in told.headers["Content-Security-Policy"]


def test_the_start_page_leads_on_in_both_languages(client: FlaskClient) -> None:
    english = client.get("/").get_data(as_text=True)
    spanish = client.get("/?lang=es").get_data(as_text=True)
    assert '<html lang="en">' in english and '<html lang="es">' in spanish
    for page in (english, spanish):
        links = re.findall(r'<a href="([^"?]+)"', page)
        assert "docs" in links and "handbook/" in links
        for link in links:
            assert client.get(f"/{link}").status_code in (200, 202)
    by_header = client.get("/", headers={"Accept-Language": "es-MX,es;q=0.9"})
    assert '<html lang="es">' in by_header.get_data(as_text=True)
    assert "Accept-Language" in by_header.headers["Vary"]
    assert client.get("/?lang=fr").status_code == 422


def test_the_start_page_shows_a_command_where_it_knows_its_address() -> None:
    page = create_app(Settings(base_url="https://roofs.example")).test_client().get("/")
    assert "https://roofs.example/v1/requirements" in page.get_data(as_text=True)


@pytest.mark.parametrize("windows", [False, True])
def test_a_command_holds_the_whole_body(windows: bool) -> None:
    line = curl("http://127.0.0.1:8000/v1/conditions", CONDITIONS, windows)
    # both shells' quoting is a part of POSIX's, so that its splitting reads either
    words = shlex.split(line)
    assert words[0] == "curl" and words[-1] == "http://127.0.0.1:8000/v1/conditions"
    assert json.loads(words[words.index("-d") + 1]) == CONDITIONS


def test_without_a_handbook_it_is_being_built(client: FlaskClient) -> None:
    for path in ("/handbook/", "/handbook/en/details/post.html"):
        told = client.get(path)
        assert told.status_code == 202
        assert "being built" in told.get_data(as_text=True)
        assert "no-cache" in told.headers["Cache-Control"]


def test_a_built_handbook_is_served(tmp_path: Path) -> None:
    folder = tmp_path / "handbook"
    (folder / "en").mkdir(parents=True)
    (folder / "index.html").write_text("start", "utf-8")
    (folder / "en" / "index.html").write_text("english", "utf-8")
    (tmp_path / "secret").write_text("secret", "utf-8")
    client = create_app(Settings(handbook=folder)).test_client()
    assert client.get("/handbook/").get_data(as_text=True) == "start"
    told = client.get("/handbook/en/")
    assert told.get_data(as_text=True) == "english"
    assert "default-src 'self'" in told.headers["Content-Security-Policy"]
    assert client.get("/handbook/none.html").status_code == 404
    for outside in ("../secret", "..%2fsecret", "en/../../secret", "%2e%2e/secret", "/etc/passwd"):
        told = client.get(f"/handbook/{outside}")
        assert told.status_code == 404, outside
        assert "secret" not in told.get_data(as_text=True)


def test_no_redirect_is_built_from_the_host_header(app: Flask) -> None:
    for path in ("", "/handbook", "//evil.example/", "/handbook//", "/v1//editions"):
        told = app.test_client().get(
            "/", environ_overrides={"PATH_INFO": path, "HTTP_HOST": "evil.example"}
        )
        assert "evil" not in told.headers.get("Location", ""), path
        assert not told.headers.get("Location", "").startswith("//")


def test_the_log_holds_the_path_and_not_the_callers_words(
    client: FlaskClient, caplog: pytest.LogCaptureFixture
) -> None:
    with caplog.at_level(logging.INFO, "upstand_api"):
        client.post("/v1/conditions?word=hidden", json={"resin": "hidden", "now": {}})
        client.get("/v1/editions/x%0aFORGED 200")
    assert "POST /v1/conditions 422" in caplog.text
    assert "hidden" not in caplog.text
    assert "\nFORGED" not in caplog.text and "%0AFORGED" in caplog.text
