"""What every test shares: the edition it runs on, one right request, and the way to an answer."""

from __future__ import annotations

import copy
import json
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from upstand.answer import Answer, answer
from upstand.edition import Edition, find_root, load
from upstand.edition.frozen import file_of
from upstand.edition.index import INDEX, order, read_index, write_index
from upstand.edition.load import ENVIRONMENT
from upstand.edition.publishing.overlays import move_overlays
from upstand.edition.publishing.publish import publish
from upstand.query import read_requirements

#: What the tests of engine, API and site run on: a change in `next` breaks none of them. `DRAFT`,
#: an id no edition has, runs them on `next` as if it were published, while new behavior is written.
DRAFT = "2099.1"
EDITION = "2026.4"

#: A steel angle through TPO with one fastener plate beside it, in weather that lets work go.
EXAMPLE: dict[str, Any] = {
    "detail": "post",
    "roof": "tpo",
    "members": [
        {
            "section": "angle",
            "leg_a": "3 in",
            "leg_b": "3 in",
            "thickness": "1/4 in",
            "substrate": "carbon-steel",
        }
    ],
    "height": "8 in",
    "flange": "4 in",
    "reveal": "1/2 in",
    "plates": [{"width": "3 in", "length": "3 in", "at": ["6 in", "0 in"]}],
    "resin": "pu-2k",
    "count": 1,
    "now": {"air": "72 F", "surface": "78 F", "humidity": "55 %", "material": "70 F"},
}

Ask = Callable[..., Answer]


@pytest.fixture(scope="session")
def frozen_root(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Spec data in which EDITION is the newest, and `next` holds what it holds."""
    there, root = find_root(), tmp_path_factory.mktemp("frozen") / "specdata"
    entries = [e for e in read_index(there) if order(e.id) <= order(EDITION)]
    (root / "editions").mkdir(parents=True)
    for entry in entries:
        shutil.copy(file_of(there, entry.id), file_of(root, entry.id))
    (root / INDEX).write_text(write_index(entries), encoding="utf-8")
    shutil.copytree(there / "overlays", root / "overlays")
    if EDITION == DRAFT:
        (root / INDEX).write_text(write_index(entries), encoding="utf-8")
        shutil.copytree(there / "next", root / "next")
        note = {"en": "As written so far.", "es": "Lo escrito hasta ahora."}
        publish(root, DRAFT, date=entries[0].date, note=note)
        return root
    for name, text in move_overlays(root, read_index(there)[0].id, EDITION).items():
        (root / name).write_text(text, encoding="utf-8")
    for kind, records in load(EDITION, root).raw.items():
        (root / "next" / kind).mkdir(parents=True)
        for id, node in records.items():  # JSON is YAML too
            (root / "next" / kind / f"{id}.yaml").write_text(json.dumps(node), encoding="utf-8")
    return root


@pytest.fixture(autouse=True, scope="module")
def _on_that_edition(request: pytest.FixtureRequest) -> Iterator[None]:
    with pytest.MonkeyPatch.context() as patch:
        if request.path.relative_to(Path(__file__).parent).parts[0] in ("engine", "api", "site"):
            patch.setenv(ENVIRONMENT, str(request.getfixturevalue("frozen_root")))
        yield


@pytest.fixture(scope="session")
def edition(frozen_root: Path) -> Edition:
    """The edition that the tests run on."""
    return load(EDITION, frozen_root)


@pytest.fixture
def example() -> dict[str, Any]:
    """A fresh copy of the request that is answered with `go`."""
    return copy.deepcopy(EXAMPLE)


@pytest.fixture(scope="session")
def ask(edition: Edition) -> Ask:
    """Answer the example with some fields put in their place; a field given None is left out."""

    def answered(body: dict[str, Any] | None = None, /, **changed: Any) -> Answer:
        whole = {**copy.deepcopy(EXAMPLE if body is None else body), **changed}
        kept = {name: value for name, value in whole.items() if value is not None}
        return answer(read_requirements(kept, edition), edition)

    return answered
