"""The stamp: which edition, software and site sources a built handbook was made from.

A built handbook is served only while its stamp is the one that a build would give now.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from pathlib import Path
from typing import Any

import upstand
from upstand import LANGUAGES
from upstand.edition import Edition, Value
from upstand.edition.schema.values import GRADES
from upstand_site.places import HERE, find_sources

STAMP_FILE = "stamp.json"


def stamp_of(edition: Edition, languages: Sequence[str] = LANGUAGES) -> str:
    """Return the stamp of a handbook: a hash over edition, software and site sources.

    Parameters: the edition shown, overlay and status included, and the languages built.
    """
    total = hashlib.sha256()
    for part in (edition.id, edition.key, upstand.__version__, ",".join(sorted(languages))):
        total.update(part.encode() + b"\0")
    total.update(sources_digest().encode())
    return total.hexdigest()


@cache
def sources_digest() -> str:
    """Return a hash over everything that pages are made with: site, theme, engine."""
    total = hashlib.sha256()
    sources = find_sources()
    engine = Path(upstand.__file__).resolve().parent
    places = (
        ("site", HERE, "*.py"),
        ("pages", sources / "pages", "*"),
        ("theme", sources / "theme", "*"),
        ("engine", engine, "*.py"),
    )
    for name, folder, pattern in places:
        for path in _files(folder, pattern):
            total.update(f"{name}/{path.relative_to(folder).as_posix()}\0".encode())
            total.update(hashlib.sha256(path.read_bytes()).digest())
    total.update((sources / "mkdocs.yml").read_bytes())
    return total.hexdigest()


def _files(folder: Path, pattern: str) -> list[Path]:
    """List files in an order of their own; what editors and Python leave is passed over."""
    return sorted(
        path
        for path in folder.rglob(pattern)
        if path.is_file()
        and "__pycache__" not in path.parts
        and not any(part.startswith((".", "_")) for part in path.relative_to(folder).parts[:-1])
        and not path.name.startswith(".")
    )


def write_stamp(folder: Path, stamp: str, edition: Edition, languages: Sequence[str]) -> None:
    """Write the stamp into a built handbook."""
    held = {
        "stamp": stamp,
        "edition": edition.id,
        "status": edition.status,
        "software": upstand.__version__,
        "languages": list(languages),
    }
    (folder / STAMP_FILE).write_text(json.dumps(held, indent=1) + "\n", encoding="utf-8")


def read_stamp(folder: Path) -> Mapping[str, Any] | None:
    """Read the stamp of a built handbook; None where the folder holds none that is whole."""
    try:
        held = json.loads((folder / STAMP_FILE).read_text("utf-8"))
    except (OSError, ValueError):
        return None
    return held if isinstance(held, dict) and isinstance(held.get("stamp"), str) else None


def find_built(
    edition: Edition, languages: Sequence[str] = LANGUAGES, cache: Path | None = None
) -> Path | None:
    """Return the folder of a built handbook whose stamp fits, or None.

    Looked for in the release itself, then in `cache`, where `place_in` puts it.
    """
    stamp = stamp_of(edition, languages)
    places = [HERE / "_built", *([place_in(cache, stamp)] if cache is not None else [])]
    for place in places:
        held = read_stamp(place)
        if held is not None and held["stamp"] == stamp:
            return place
    return None


def place_in(cache: Path, stamp: str) -> Path:
    """Return where a handbook of this stamp lies in a cache folder."""
    return cache / "handbook" / stamp[:32]


def last_checked(edition: Edition) -> dict[str, str]:
    """Return by grade, the surest first, the day its oldest value was checked on, YYYY-MM-DD."""
    days: dict[str, str] = {}
    for path in edition.paths():
        for grade, day in _days(edition.record(path).data):
            days[grade] = min(day, days.get(grade, day))
    return {grade: days[grade] for grade in GRADES if grade in days}


def _days(node: Any) -> Iterator[tuple[str, str]]:
    if isinstance(node, Value):
        if node.checked_on:
            yield node.grade, node.checked_on
    elif isinstance(node, Mapping):
        if isinstance(node.get("checked_on"), str):
            yield node["basis"]["grade"], node["checked_on"]
        for item in node.values():
            yield from _days(item)
    elif isinstance(node, tuple):
        for item in node:
            yield from _days(item)
