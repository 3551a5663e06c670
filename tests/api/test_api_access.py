"""Overlays: off unless keys are set; unknown and forbidden look alike; answers are private."""

from __future__ import annotations

import hashlib
from pathlib import Path
from typing import Any

import pytest
from flask.testing import FlaskClient

from upstand_api.access import Access, read_access
from upstand_api.app import create_app
from upstand_api.settings import Settings, SettingsFault

KEY = "correct horse battery staple"
SHEET = """\
extends: "2026.2"
set:
  - path: "resins/pu-2k: layers.base"
    expects: "{expects}"
    value: "50 mil"
    basis: {{grade: product, source: "Product sheet A, rev. 3", locator: "table 2"}}
"""


@pytest.fixture(scope="session")
def overlays(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a good overlay, one of somebody else, and one that no longer fits."""
    folder = tmp_path_factory.mktemp("overlays")
    (folder / "acme.yaml").write_text(SHEET.format(expects="45 mil"), "utf-8")
    (folder / "secret-roofer.yaml").write_text(SHEET.format(expects="45 mil"), "utf-8")
    (folder / "stale.yaml").write_text(SHEET.format(expects="40 mil"), "utf-8")
    return folder


@pytest.fixture
def keys(tmp_path: Path) -> Path:
    """A file of keys that grants two overlays to one key."""
    digest = hashlib.sha256(KEY.encode()).hexdigest()
    file = tmp_path / "keys"
    file.write_text(f"# the roofer's own\nacme {digest}\nstale {digest}  # too\n\n", "utf-8")
    return file


@pytest.fixture
def keyed(published_root: Path, overlays: Path, keys: Path) -> FlaskClient:
    """A client of an app with keys."""
    settings = Settings(specdata=published_root, overlays=overlays, keys=keys)
    return create_app(settings).test_client()


def ask(client: FlaskClient, example: dict[str, Any], overlay: str, key: str | None) -> Any:
    """Ask for an answer with an overlay."""
    headers = {} if key is None else {"Authorization": f"Bearer {key}"}
    return client.post("/v1/requirements", json={**example, "overlay": overlay}, headers=headers)


def test_overlays_are_off_without_keys(
    published_root: Path, overlays: Path, example: dict[str, Any]
) -> None:
    client = create_app(Settings(specdata=published_root, overlays=overlays)).test_client()
    for key in (None, KEY):
        assert ask(client, example, "acme", key).status_code == 404


def test_with_the_key_the_overlay_answers_and_says_so(
    keyed: FlaskClient, example: dict[str, Any]
) -> None:
    told = ask(keyed, example, "acme", KEY)
    assert told.status_code == 200
    document = told.get_json()
    assert (document["edition"], document["overlay"]) == ("2026.2", "acme")
    base = next(coat for coat in document["coats"] if coat["id"] == "base")
    assert base["thickness"]["value"] == 50.0
    assert told.headers["Cache-Control"].startswith("private")
    assert "Authorization" in told.headers["Vary"]
    assert "ETag" not in told.headers
    assert ask(keyed, example, "acme", KEY).get_json() == document
    without = keyed.post("/v1/requirements", json=example).get_json()
    assert without["overlay"] is None


def test_records_show_the_overlays_layer_privately(keyed: FlaskClient) -> None:
    headers = {"Authorization": f"Bearer {KEY}"}
    told = keyed.get("/v1/editions/2026.2/resins/pu-2k?overlay=acme", headers=headers)
    base = told.get_json()["data"]["layers"]["base"]
    assert base["layer"] == "overlay acme"
    assert (base["basis"]["grade"], base["basis"]["locator"]) == ("product", "table 2")
    sheet = keyed.get(
        f"/v1/editions/2026.2/{base['basis']['source']}?overlay=acme", headers=headers
    ).get_json()
    assert "Product sheet A, rev. 3" in str(sheet["data"])
    assert told.headers["Cache-Control"].startswith("private")
    assert keyed.get("/v1/editions/2026.2/resins/pu-2k?overlay=acme").status_code == 404


@pytest.mark.parametrize("key", [None, "", "wrong", KEY + " ", "Bearer", "ключ"])
def test_unknown_and_forbidden_are_the_same_answer(
    keyed: FlaskClient, example: dict[str, Any], key: str | None
) -> None:
    forbidden = ask(keyed, example, "secret-roofer", key)
    unknown = ask(keyed, example, "secret-roofes", key)
    assert forbidden.status_code == unknown.status_code == 404
    told = [{**each.get_json(), "request_id": ""} for each in (forbidden, unknown)]
    assert told[0] == told[1]
    assert "acme" not in forbidden.get_data(as_text=True)


def test_a_key_opens_what_it_was_granted_and_no_more(
    keyed: FlaskClient, example: dict[str, Any]
) -> None:
    assert ask(keyed, example, "secret-roofer", KEY).status_code == 404
    assert ask(keyed, example, "acme", KEY.title()).status_code == 404


def test_public_overlays_need_no_key(
    published_root: Path, overlays: Path, example: dict[str, Any]
) -> None:
    settings = Settings(specdata=published_root, overlays=overlays, overlays_public=True)
    client = create_app(settings).test_client()
    assert ask(client, example, "acme", None).get_json()["overlay"] == "acme"
    assert ask(client, example, "nobody", None).status_code == 404


def test_an_overlay_that_no_longer_fits_fails_loudly(
    keyed: FlaskClient, example: dict[str, Any], caplog: pytest.LogCaptureFixture
) -> None:
    told = ask(keyed, example, "stale", KEY)
    # nothing that the caller could mend: what does not fit is told to whoever runs the server
    assert told.status_code == 503
    assert told.get_json()["errors"][0]["pointer"] == "/overlay"
    assert "its log" in told.get_json()["detail"] and "mil" not in told.get_json()["detail"]
    assert "45 mil" in caplog.text and "40 mil" in caplog.text


def test_an_overlay_is_written_for_one_edition(keyed: FlaskClient, example: dict[str, Any]) -> None:
    told = ask(keyed, {**example, "edition": "2026.1"}, "acme", KEY)
    assert told.status_code == 422
    assert "2026.2" in told.get_json()["errors"][0]["detail"]


def test_only_hashes_are_kept_and_a_key_in_the_clear_is_not_repeated(tmp_path: Path) -> None:
    file = tmp_path / "keys"
    file.write_text("acme my-key-in-the-clear\n", "utf-8")
    with pytest.raises(SettingsFault) as caught:
        read_access(Settings(keys=file))
    assert "line 1" in str(caught.value) and "sha256" in str(caught.value)
    assert "my-key" not in str(caught.value)
    with pytest.raises(SettingsFault, match="can't be read"):
        read_access(Settings(keys=tmp_path / "none"))


def test_an_empty_key_opens_nothing() -> None:
    nothing = hashlib.sha256(b"").hexdigest()
    access = Access(grants=(("acme", nothing),))
    assert not access.allows("acme", None)
    assert not access.allows("acme", "Bearer ")
    assert not access.allows("acme", "Basic abc")
