"""What the API's tests share: an app on the edited data, one on published editions, a validator."""

from __future__ import annotations

import copy
import shutil
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from flask import Flask
from flask.testing import FlaskClient

from upstand.edition import Edition, load
from upstand.edition.frozen import digest_of, file_of, write_frozen
from upstand.edition.index import INDEX, Entry, write_index
from upstand_api.app import create_app
from upstand_api.settings import Settings

NOTE = {"en": "An edition of the tests.", "es": "Una edición de las pruebas."}

Validate = Callable[[Any, str], None]


@pytest.fixture(scope="session")
def draft_root(frozen_root: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Spec data of which nothing is published yet."""
    root = tmp_path_factory.mktemp("draft")
    shutil.copytree(frozen_root / "next", root / "next")
    return root


@pytest.fixture(scope="session")
def draft(draft_root: Path) -> Edition:
    """The edition that the app answers from."""
    return load("next", draft_root)


@pytest.fixture(scope="session")
def app(draft_root: Path) -> Flask:
    """The app on the data that is being edited."""
    return create_app(Settings(specdata=draft_root))


@pytest.fixture
def client(app: Flask) -> FlaskClient:
    """A client of the app as it comes."""
    return app.test_client()


@pytest.fixture(scope="session")
def published_root(edition: Edition, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Spec data with 2026.2 published and 2026.1 withdrawn; 2026.2 lays 45 mil as a base."""
    root = tmp_path_factory.mktemp("specdata")
    before: Any = copy.deepcopy(dict(edition.raw))
    after: Any = copy.deepcopy(before)
    after["resins"]["pu-2k"]["layers"]["base"]["value"] = "45 mil"
    (root / "editions").mkdir()
    digests = {}
    for id, raw in (("2026.1", before), ("2026.2", after)):
        content = write_frozen(id, raw)
        file_of(root, id).write_bytes(content)
        digests[id] = digest_of(content)
    index = write_index(
        [
            Entry("2026.1", "withdrawn", "2026-11-01", NOTE, digests["2026.1"], "2026-11-20", NOTE),
            Entry("2026.2", "published", "2026-11-20", NOTE, digests["2026.2"]),
        ]
    )
    (root / INDEX).write_text(index, "utf-8")
    return root


@pytest.fixture(scope="session")
def published_app(published_root: Path) -> Flask:
    """An app that answers from published editions."""
    return create_app(Settings(specdata=published_root))


@pytest.fixture
def published(published_app: Flask) -> FlaskClient:
    """A client of it."""
    return published_app.test_client()


@pytest.fixture(scope="session")
def document(app: Flask) -> dict[str, Any]:
    """The API's own document."""
    told = app.test_client().get("/openapi.json").get_json()
    assert isinstance(told, dict)
    return told


def closed(schema: Any) -> Any:
    """Return a schema in which an object may have no key that it does not name."""
    if isinstance(schema, Mapping):
        found = {key: closed(inner) for key, inner in schema.items()}
        if "properties" in found:
            found.setdefault("additionalProperties", False)
        return found
    return [closed(inner) for inner in schema] if isinstance(schema, list) else schema


@pytest.fixture(scope="session")
def conforms(document: dict[str, Any]) -> Validate:
    """Check that a value is what a component of the document says, with no key left out of it."""
    components = closed(document["components"])
    made: dict[str, jsonschema.Draft202012Validator] = {}

    def check(value: Any, component: str) -> None:
        if component not in made:
            schema = {"$ref": f"#/components/schemas/{component}", "components": components}
            made[component] = jsonschema.Draft202012Validator(schema)
        errors = [f"{e.json_path}: {e.message[:200]}" for e in made[component].iter_errors(value)]
        assert not errors, "\n".join(errors[:10])

    return check
