"""Long answers are packed for who asks; a 304 comes before anything is computed."""

from __future__ import annotations

import gzip
import json
from pathlib import Path
from typing import Any

import pytest
from flask.testing import FlaskClient

from upstand_api.app import create_app
from upstand_api.resources import changes
from upstand_api.settings import Settings

LIST = "/v1/editions/2026.2/resins"


@pytest.mark.parametrize(
    ("accepted", "packed"),
    [
        (None, False),
        ("gzip", True),
        ("GZIP", True),
        ("deflate, gzip;q=0.5", True),
        ("*", True),
        ("gzip;q=0", False),
        ("br", False),
        ("identity, gzip;q=0.5", False),
        ("gzip;q=0, *", False),
    ],
)
def test_gzip_is_for_who_asks(
    client: FlaskClient, example: dict[str, Any], accepted: str | None, packed: bool
) -> None:
    plain = client.post("/v1/requirements", json=example).get_data()
    headers = {} if accepted is None else {"Accept-Encoding": accepted}
    told = client.post("/v1/requirements", json=example, headers=headers)
    assert ("Content-Encoding" in told.headers) is packed
    assert "Accept-Encoding" in told.headers["Vary"]
    sent = told.get_data()
    assert (gzip.decompress(sent) if packed else sent) == plain
    assert int(told.headers["Content-Length"]) == len(sent)
    if packed:
        assert len(sent) < len(plain) / 3


def test_a_short_answer_goes_as_it_is(client: FlaskClient) -> None:
    told = client.get("/healthz", headers={"Accept-Encoding": "gzip"})
    assert "Content-Encoding" not in told.headers
    assert told.get_json() == {"status": "ok"}


def test_packed_and_plain_have_tags_of_their_own_and_both_hold(published: FlaskClient) -> None:
    zipped = {"Accept-Encoding": "gzip"}
    plain, packed = published.get(LIST), published.get(LIST, headers=zipped)
    assert packed.headers["Content-Encoding"] == "gzip"
    assert json.loads(gzip.decompress(packed.get_data())) == plain.get_json()
    tags = plain.headers["ETag"], packed.headers["ETag"]
    assert tags[0] != tags[1]
    for tag in tags:
        again = published.get(LIST, headers={**zipped, "If-None-Match": tag})
        assert (again.status_code, again.headers["ETag"]) == (304, tag)
        assert "Content-Encoding" not in again.headers
        assert "Accept-Encoding" in again.headers["Vary"]


def test_what_is_known_already_is_not_computed(
    published: FlaskClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = "/v1/editions/2026.2/changes?since=2026.1"
    tag = published.get(path).headers["ETag"]

    def computed(*_: object) -> None:
        raise AssertionError("computed")

    monkeypatch.setattr(changes, "changes", computed)
    assert published.get(path, headers={"If-None-Match": tag}).status_code == 304


@pytest.mark.parametrize("path", ["/docs", "/openapi.json"])
def test_description_and_page_are_made_once(client: FlaskClient, path: str) -> None:
    told = client.get(path)
    assert client.get(path).get_data() == told.get_data()
    again = client.get(path, headers={"If-None-Match": told.headers["ETag"]})
    assert again.status_code == 304


def test_a_page_of_the_handbook_goes_out_packed_where_a_packed_copy_lies(
    draft_root: Path, tmp_path: Path
) -> None:
    folder, page = tmp_path / "built", b"<!doctype html><title>A page</title>" + b"<p>x" * 2000
    folder.mkdir()
    (folder / "index.html").write_bytes(page)
    (folder / "index.html.gz").write_bytes(gzip.compress(page))
    (folder / "small.css").write_bytes(b"p{}")
    client = create_app(Settings(specdata=draft_root, handbook=folder)).test_client()
    zipped = {"Accept-Encoding": "gzip"}
    plain = client.get("/handbook/index.html")
    packed = client.get("/handbook/index.html", headers=zipped)
    assert plain.get_data() == page and "Content-Encoding" not in plain.headers
    assert packed.headers["Content-Encoding"] == "gzip"
    assert gzip.decompress(packed.get_data()) == page
    assert packed.headers["Content-Type"] == plain.headers["Content-Type"]
    assert packed.headers["ETag"] != plain.headers["ETag"]
    assert (
        "Accept-Encoding" in packed.headers["Vary"] and "Accept-Encoding" in plain.headers["Vary"]
    )
    again = {**zipped, "If-None-Match": packed.headers["ETag"]}
    assert client.get("/handbook/index.html", headers=again).status_code == 304
    alone = client.get("/handbook/small.css", headers=zipped)
    assert alone.get_data() == b"p{}" and "Content-Encoding" not in alone.headers


def test_a_page_without_a_packed_copy_goes_out_as_it_lies(tmp_path: Path) -> None:
    (tmp_path / "index.html").write_text("<p>roof</p>" * 500, "utf-8")
    client = create_app(Settings(handbook=tmp_path)).test_client()
    told = client.get("/handbook/", headers={"Accept-Encoding": "gzip"})
    assert told.status_code == 200 and "Content-Encoding" not in told.headers
    assert told.get_data(as_text=True) == "<p>roof</p>" * 500
