"""A server that stays up while its disk misbehaves: what was good answers, and readyz says so."""

from __future__ import annotations

import hashlib
import logging
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from flask.testing import FlaskClient

from upstand.edition import SpecFault
from upstand.edition.frozen import file_of
from upstand.edition.index import INDEX
from upstand_api.app import create_app
from upstand_api.settings import Settings

KEY = "correct horse battery staple"
SHEET = """\
extends: "2026.2"
set:
  - path: "resins/pu-2k: layers.base"
    expects: "45 mil"
    value: "{laid}"
    basis: {{grade: product, source: "Product sheet A, rev. 3", locator: "table 2"}}
"""


@pytest.fixture
def root(published_root: Path, frozen_root: Path, tmp_path: Path) -> Path:
    """Published editions with a draft beside them, free to be broken."""
    there = tmp_path / "specdata"
    shutil.copytree(published_root, there)
    shutil.copytree(frozen_root / "next", there / "next")
    (there / "overlays").mkdir()
    (there / "overlays/acme.yaml").write_text(SHEET.format(laid="50 mil"), "utf-8")
    return there


@pytest.fixture
def keys(tmp_path: Path) -> Path:
    """A file that grants the overlay to one key."""
    file = tmp_path / "keys"
    file.write_text(f"acme {hashlib.sha256(KEY.encode()).hexdigest()}\n", "utf-8")
    return file


@pytest.fixture
def client(root: Path, keys: Path) -> FlaskClient:
    """A client of an app on that data."""
    return create_app(Settings(specdata=root, keys=keys)).test_client()


def ask(client: FlaskClient, example: dict[str, Any]) -> Any:
    """Ask with the overlay and its key."""
    return client.post(
        "/v1/requirements",
        json={**example, "overlay": "acme"},
        headers={"Authorization": f"Bearer {KEY}"},
    )


def base_of(told: Any) -> float:
    """Return how thick an answer lays its base, in mil."""
    coats = told.get_json()["coats"]
    return float(next(coat for coat in coats if coat["id"] == "base")["thickness"]["value"])


def replaced(root: Path) -> None:
    index = (root / INDEX).read_text("utf-8")
    first, _, rest = index.partition('  - id: "2026.2"')
    kept = rest[rest.index('  - id: "2026.1"') :]
    (root / INDEX).write_text(first + kept, "utf-8")


def corrupted(root: Path) -> None:
    path = file_of(root, "2026.2")
    path.write_bytes(path.read_bytes().replace(b'"45 mil"', b'"30 mil"'))


BREAKS: dict[str, tuple[Callable[[Path], object], str]] = {
    "index broken": (lambda root: (root / INDEX).write_text("editions: [", "utf-8"), INDEX),
    "index emptied": (lambda root: (root / INDEX).write_text("editions: []\n", "utf-8"), INDEX),
    "index removed": (lambda root: (root / INDEX).unlink(), INDEX),
    "index replaced": (replaced, INDEX),
    "all removed": (lambda root: shutil.rmtree(root / "editions"), INDEX),
    "edition changed": (corrupted, "editions/2026.2.json"),
    "edition removed": (lambda root: file_of(root, "2026.2").unlink(), "editions/2026.2.json"),
}


@pytest.mark.parametrize("name", BREAKS)
def test_the_last_good_edition_answers_never_the_draft(
    client: FlaskClient,
    root: Path,
    example: dict[str, Any],
    caplog: pytest.LogCaptureFixture,
    name: str,
) -> None:
    before = client.post("/v1/requirements", json=example)
    assert (before.get_json()["edition"], base_of(before)) == ("2026.2", 45.0)
    assert client.get("/readyz").status_code == 200
    whole = root.with_name("whole")
    shutil.copytree(root, whole)
    breaks, file = BREAKS[name]
    breaks(root)
    with caplog.at_level(logging.ERROR):
        assert client.post("/v1/requirements", json=example).get_json() == before.get_json()
        told = client.get("/readyz")
    assert told.status_code == 503 and file in told.get_json()["detail"]
    assert int(told.headers["Retry-After"]) >= 1
    assert sum(file in record.getMessage() for record in caplog.records) == 1  # once, not each time
    shutil.rmtree(root)
    shutil.copytree(whole, root)
    assert client.get("/readyz").status_code == 200


def test_it_does_not_start_on_editions_without_their_index(root: Path) -> None:
    (root / INDEX).unlink()
    with pytest.raises(SpecFault, match="lists nothing"):
        create_app(Settings(specdata=root))


def test_an_overlay_is_read_again_when_it_changes_and_kept_while_it_is_broken(
    client: FlaskClient, root: Path, example: dict[str, Any]
) -> None:
    file = root / "overlays/acme.yaml"
    assert base_of(ask(client, example)) == 50.0
    file.write_text(SHEET.format(laid="55 mil"), "utf-8")
    assert base_of(ask(client, example)) == 55.0
    file.write_text("extends: [", "utf-8")
    assert base_of(ask(client, example)) == 55.0
    told = client.get("/readyz")
    assert told.status_code == 503 and "overlays/acme" in told.get_json()["detail"]
    file.write_text(SHEET.format(laid="60 mil"), "utf-8")
    assert base_of(ask(client, example)) == 60.0
    assert client.get("/readyz").status_code == 200
    file.unlink()  # taken out by whoever laid it
    assert ask(client, example).status_code == 404


def test_a_key_that_is_revoked_opens_nothing_from_then_on(
    client: FlaskClient, keys: Path, example: dict[str, Any]
) -> None:
    granted = keys.read_text("utf-8")
    assert ask(client, example).status_code == 200
    keys.write_text(f"# {granted}", "utf-8")
    assert ask(client, example).status_code == 404
    keys.write_text(granted, "utf-8")
    assert ask(client, example).status_code == 200
    keys.write_text("acme no-digest\n", "utf-8")
    assert ask(client, example).status_code == 200
    assert client.get("/readyz").status_code == 503
    keys.unlink()
    assert ask(client, example).status_code == 404
