"""Editions over the API: list, kinds, records with values and sources, changes, paging, ETags."""

from __future__ import annotations

import json
import shutil
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient

from upstand.edition import Edition, load
from upstand.edition.index import INDEX, read_index, write_index
from upstand_api.app import create_app
from upstand_api.http import responses
from upstand_api.http.responses import reply_kept
from upstand_api.settings import Settings

READ = (
    "/v1/editions/2026.2",
    "/v1/editions/2026.2/resins",
    "/v1/editions/2026.2/resins/pu-2k",
    "/v1/editions/2026.2/changes?since=2026.1",
)


def test_before_there_is_an_edition_the_draft_answers(client: FlaskClient, conforms: Any) -> None:
    told = client.get("/v1/editions").get_json()
    conforms(told, "Editions")
    assert told["items"][-1]["id"] == "next"
    assert told["items"][-1]["status"] == "draft"


def test_published_editions_newest_first(published: FlaskClient, conforms: Any) -> None:
    told = published.get("/v1/editions").get_json()
    conforms(told, "Editions")
    assert [(e["id"], e["status"], e["default"]) for e in told["items"]] == [
        ("2026.2", "published", True),
        ("2026.1", "withdrawn", False),
    ]
    assert told["items"][0]["href"] == "/v1/editions/2026.2"


def test_one_edition_counts_its_kinds(client: FlaskClient, draft_root: Path, conforms: Any) -> None:
    edition = load("next", draft_root)
    told = client.get("/v1/editions/next").get_json()
    conforms(told, "Edition")
    assert told["digest"] == edition.digest
    assert {k["kind"]: k["count"] for k in told["kinds"]} == {
        kind: len(records) for kind, records in edition.records.items()
    }
    for kind in told["kinds"]:
        assert client.get(kind["href"]).status_code == 200


def test_a_value_shows_quantity_grade_source_and_layer(client: FlaskClient) -> None:
    told = client.get("/v1/editions/next/limits/upright-height").get_json()
    held, twin, other = told["data"]["at_least"]
    assert held["value"] == {"value": 8.0, "unit": "in", "text": "8\u00a0in", "written": "8 in"}
    assert held["basis"]["grade"] == "standard"
    assert held["basis"]["source"] == "sources/arca-epdm-manual"
    assert held["basis"]["locator"]
    assert held["layer"] == "edition"
    assert held["also"]["written"] == "200 mm"
    sources = [each["basis"]["source"] for each in (twin, other)]
    assert sources == ["sources/arca-tp-manual", "sources/rcabc-manual"]
    si = client.get("/v1/editions/next/limits/upright-height?units=si").get_json()
    # 8 in × 25.4 mm/in
    assert si["data"]["at_least"][0]["value"]["value"] == pytest.approx(203.2)
    assert si["data"]["at_least"][0]["value"]["written"] == "8 in"


def test_a_time_shows_its_temperature_and_how_it_goes_with_it(client: FlaskClient) -> None:
    pot_life = client.get("/v1/editions/next/resins/pu-2k").get_json()["data"]["pot_life"]
    assert (pot_life["low"]["written"], pot_life["at"]["written"]) == ("25 min", "70 degF")
    assert (pot_life["by"], pot_life["scales"]) == ("material", "halves")


@pytest.mark.parametrize("units", ["us", "si"])
def test_every_record_of_every_kind_is_shown_as_documented(
    client: FlaskClient, edition: Edition, conforms: Any, units: str
) -> None:
    for kind, records in edition.records.items():
        seen = []
        link = f"/v1/editions/next/{kind}?limit=100&units={units}"
        while link:
            told = client.get(link)
            assert told.status_code == 200, told.get_data(as_text=True)
            page = told.get_json()
            conforms(page, "Kind")
            seen += [record["id"] for record in page["items"]]
            link = page["next_page"]
        assert seen == list(records)


def test_a_record_alone_is_the_record_in_the_list(client: FlaskClient) -> None:
    listed = client.get("/v1/editions/next/primers").get_json()["items"]
    for record in listed:
        assert client.get(f"/v1/editions/next/{record['path']}").get_json() == record


def test_pages_follow_one_another_without_gap_or_overlap(
    client: FlaskClient, edition: Edition
) -> None:
    seen, link, pages = [], "/v1/editions/next/packs?limit=4&units=si", 0
    while link:
        page = client.get(link).get_json()
        assert len(page["items"]) <= 4
        seen += [record["id"] for record in page["items"]]
        link, pages = page["next_page"], pages + 1
        assert link is None or ("limit=4" in link and "units=si" in link)
    assert seen == sorted(edition.kind("packs"))
    assert pages == -(-len(seen) // 4)


def test_editions_are_paged_too(published: FlaskClient) -> None:
    first = published.get("/v1/editions?limit=1").get_json()
    second = published.get(first["next_page"]).get_json()
    assert [e["id"] for e in first["items"] + second["items"]] == ["2026.2", "2026.1"]
    assert second["next_page"] is None


def test_changes_name_path_old_new_grade_and_sentence(
    published: FlaskClient, conforms: Any
) -> None:
    told = published.get("/v1/editions/2026.2/changes?since=2026.1").get_json()
    conforms(told, "Changes")
    assert [(c["path"], c["old"], c["new"]) for c in told["items"]] == [
        ("resins/pu-2k: layers.base", "40 mil", "45 mil")
    ]
    assert "was 40 mil, is now 45 mil" in told["items"][0]["sentence"]
    assert told["next_page"] is None
    assert published.get("/v1/editions/2026.2/changes?since=2026.2").get_json()["items"] == []


def test_changes_are_paged(client: FlaskClient, tmp_path: Path, published_root: Path) -> None:
    whole = create_app(Settings(specdata=published_root)).test_client()
    one = whole.get("/v1/editions/2026.1/changes?since=2026.2&limit=1&cursor=0").get_json()
    assert len(one["items"]) == 1
    # no page ends there: there is one change
    behind = whole.get("/v1/editions/2026.1/changes?since=2026.2&limit=1&cursor=1")
    assert behind.status_code == 400


@pytest.mark.parametrize("path", READ)
def test_what_is_published_has_an_etag_and_answers_304(published: FlaskClient, path: str) -> None:
    told = published.get(path)
    assert told.status_code == 200
    tag = told.headers["ETag"]
    assert tag.startswith('"') and told.headers["Cache-Control"].startswith("public, max-age=")
    for asked in (tag, f"W/{tag}", f'"other", {tag}', "*"):
        again = published.get(path, headers={"If-None-Match": asked})
        assert again.status_code == 304, asked
        assert again.get_data() == b"" and again.headers["ETag"] == tag
    assert published.get(path, headers={"If-None-Match": '"other"'}).status_code == 200
    head = published.head(path)
    assert head.status_code == 200 and head.headers["ETag"] == tag and head.get_data() == b""


def test_etags_differ_by_edition_units_and_page(published: FlaskClient) -> None:
    tags = {
        published.get(path).headers["ETag"]
        for path in (
            "/v1/editions/2026.2/resins/pu-2k",
            "/v1/editions/2026.1/resins/pu-2k",
            "/v1/editions/2026.2/resins/pu-2k?units=si",
            "/v1/editions/2026.2/resins",
            "/v1/editions/2026.2/resins?limit=1",
        )
    }
    assert len(tags) == 5


def test_an_etag_goes_by_digest_status_path_parameters_and_software(
    app: Flask, edition: Edition, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A changed edition, a withdrawn one, another address or other code is another document."""

    def tag(edition: Edition, address: str = "/v1/editions/a/packs?limit=2") -> str | None:
        with app.test_request_context(address):
            return reply_kept(dict, edition).headers.get("ETag")

    here = tag(edition)
    assert here is not None and here == tag(edition)
    others = [
        tag(replace(edition, digest="0" * 64)),
        tag(replace(edition, status="withdrawn")),
        tag(edition, "/v1/editions/a/tools?limit=2"),
        tag(edition, "/v1/editions/a/packs?limit=3"),
    ]
    monkeypatch.setattr(responses, "_software", lambda: "another")
    others.append(tag(edition))
    assert len({here, *others}) == 6
    # what an overlay went into is for its asker alone
    assert tag(replace(edition, overlay="sheet-a")) is None


@pytest.mark.parametrize(
    "path", ["/v1/editions/next", "/v1/editions/next/resins", "/v1/editions/next/resins/pu-2k"]
)
def test_a_draft_has_no_etag_and_is_asked_for_again(client: FlaskClient, path: str) -> None:
    told = client.get(path, headers={"If-None-Match": "*"})
    assert told.status_code == 200
    assert "ETag" not in told.headers
    assert told.headers["Cache-Control"] == "no-cache"


def test_an_edition_that_is_withdrawn_while_the_app_runs_says_so(
    published_root: Path, tmp_path: Path
) -> None:
    root = tmp_path / "specdata"
    shutil.copytree(published_root, root)
    entries = read_index(published_root)
    (root / INDEX).write_text(write_index(entries), "utf-8")
    client = create_app(Settings(specdata=root)).test_client()
    before = client.get("/v1/editions/2026.2")
    assert before.get_json()["status"] == "published"
    note = {"en": "A wrong value.", "es": "Un valor equivocado."}
    withdrawn = [
        replace(e, status="withdrawn", withdrawn="2026-11-24", because=note)
        if e.id == "2026.2"
        else e
        for e in entries
    ]
    (root / INDEX).write_text(write_index(withdrawn) + "\n", "utf-8")
    after = client.get("/v1/editions/2026.2", headers={"If-None-Match": before.headers["ETag"]})
    assert after.status_code == 200
    assert after.get_json()["status"] == "withdrawn"
    assert after.get_json()["note"] == note


def test_an_edition_that_was_changed_is_refused_by_name_and_the_rest_answer(
    published_root: Path, tmp_path: Path, example: dict[str, Any]
) -> None:
    root = tmp_path / "specdata"
    shutil.copytree(published_root, root)
    entries = [
        replace(e, status="published", withdrawn=None, because=None) for e in read_index(root)
    ]
    (root / INDEX).write_text(write_index(entries), "utf-8")
    path = root / "editions/2026.2.json"
    path.write_bytes(path.read_bytes().replace(b'"45 mil"', b'"30 mil"'))
    client = create_app(Settings(specdata=root)).test_client()
    assert [e["id"] for e in client.get("/v1/editions").get_json()["items"]] == ["2026.1"]
    told = client.get("/v1/editions/2026.2")
    assert told.status_code == 404
    assert "2026.2 is refused, its file was changed" in told.get_data(as_text=True)
    named = client.post("/v1/requirements", json={**example, "edition": "2026.2"})
    assert named.status_code == 404
    assert client.post("/v1/requirements", json=example).get_json()["edition"] == "2026.1"


def test_links_are_relative_or_begin_with_the_base_address(published_root: Path) -> None:
    based = create_app(Settings(specdata=published_root, base_url="https://roofs.example/up"))
    told = based.test_client().get("/v1/editions", headers={"Host": "evil.example"})
    assert "evil" not in told.get_data(as_text=True)
    assert told.get_json()["items"][0]["href"] == ("https://roofs.example/up/v1/editions/2026.2")
    link = based.test_client().get("/v1/editions/2026.2/packs?limit=1").get_json()["next_page"]
    assert link.startswith("https://roofs.example/up/v1/editions/2026.2/packs?")


def test_under_a_prefix_relative_links_carry_it(published: FlaskClient) -> None:
    told = published.get("/v1/editions", environ_overrides={"SCRIPT_NAME": "/upstand"}).get_json()
    assert told["items"][0]["href"] == "/upstand/v1/editions/2026.2"


def test_readyz_names_what_answers(published: FlaskClient, conforms: Any) -> None:
    ready = published.get("/readyz")
    conforms(ready.get_json(), "Ready")
    assert ready.get_json()["edition"] == "2026.2"
    assert ready.headers["Cache-Control"] == "no-store"
    conforms(published.get("/healthz").get_json(), "Health")


def test_text_is_written_as_text(client: FlaskClient) -> None:
    told = client.get("/v1/editions/next/terms?limit=100").get_data(as_text=True)
    assert "ó" in told and "\\u" not in told
    assert json.loads(told)
