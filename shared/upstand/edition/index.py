"""``editions/index.yaml``: which editions there are, and which are withdrawn."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, cast

from upstand.edition.dates import is_date
from upstand.edition.faults import Fault, SpecFault
from upstand.edition.model import Status
from upstand.edition.strict_yaml import read_file

__all__ = ["EDITION_ID", "INDEX", "Entry", "newest", "order", "read_index", "write_index"]

EDITION_ID = re.compile(r"20[0-9]{2}\.[1-9][0-9]{0,3}", re.ASCII)
INDEX = "editions/index.yaml"
_DIGEST = re.compile(r"[0-9a-f]{64}", re.ASCII)
STATUSES = ("published", "withdrawn")


@dataclass(frozen=True, slots=True)
class Entry:
    """One edition in the index.

    ``note`` says in both languages what it is, ``digest`` is the SHA-256 of its file. Of one that
    is withdrawn, ``withdrawn`` is the day and ``because`` says why.
    """

    id: str
    status: Status
    date: str
    note: Mapping[str, str]
    digest: str
    withdrawn: str | None = None
    because: Mapping[str, str] | None = None

    @property
    def told(self) -> Mapping[str, str]:
        """What readers of it are told: why it is withdrawn, else what it is."""
        return self.because or self.note


def order(id: str) -> tuple[int, int]:
    """Return what edition ids sort by: 2026.10 is newer than 2026.9.

    >>> sorted(["2026.10", "2027.1", "2026.9"], key=order)
    ['2026.9', '2026.10', '2027.1']
    """
    year, _, number = id.partition(".")
    return int(year), int(number)


def newest(entries: Sequence[Entry]) -> Entry | None:
    """Return the newest published edition that is not withdrawn."""
    return next((entry for entry in entries if entry.status == "published"), None)


def read_index(root: Path) -> list[Entry]:
    """Return the entries, newest first; empty where nothing is published. Raises SpecFault."""
    path = root / INDEX
    if not path.is_file():
        return []
    node = read_file(path, INDEX, as_text=("id", "date", "withdrawn", "digest"))
    rows = node.get("editions") if isinstance(node, dict) else None
    if not isinstance(rows, list):
        raise _fault("", "has no list `editions`", "write `editions:` and a list")
    entries = [_entry(row, f"editions.{number}") for number, row in enumerate(rows)]
    ids = [entry.id for entry in entries]
    for id in ids:
        if ids.count(id) > 1:
            raise _fault("editions", f"lists {id} twice", "keep one of the two")
    return sorted(entries, key=lambda entry: order(entry.id), reverse=True)


def write_index(entries: Sequence[Entry]) -> str:
    """Return the index's text for entries, newest first."""
    lines = [
        "# Written by publish and withdraw. A frozen edition is never edited: a mistake makes a"
    ]
    lines += ["# new edition, and the old one is withdrawn here.", "editions:"]
    for entry in sorted(entries, key=lambda entry: order(entry.id), reverse=True):
        lines += [
            f'  - id: "{entry.id}"',
            f"    status: {entry.status}",
            f'    date: "{entry.date}"',
        ]
        lines += _prose("note", entry.note)
        lines.append(f'    digest: "{entry.digest}"')
        if entry.withdrawn is not None:
            lines.append(f'    withdrawn: "{entry.withdrawn}"')
            lines += _prose("because", entry.because or {})
    return "\n".join(lines) + "\n"


def _prose(name: str, texts: Mapping[str, str]) -> list[str]:
    # a JSON string is a YAML double-quoted one
    said = [f"      {lang}: {json.dumps(text, ensure_ascii=False)}" for lang, text in texts.items()]
    return [f"    {name}:", *said]


def _fault(path: str, why: str, cure: str) -> SpecFault:
    return SpecFault([Fault(INDEX, path, "", "index", why, cure)])


def _entry(row: Any, path: str) -> Entry:
    fields = {"id", "status", "date", "note", "digest"}
    gone = {"withdrawn", "because"}
    if not isinstance(row, dict) or set(row) not in (fields, fields | gone):
        why = "is not {id, status, date, note, digest}, with {withdrawn, because} or without"
        raise _fault(path, why, "take the index from where the editions were published")
    if not EDITION_ID.fullmatch(str(row["id"])):
        raise _fault(path, f"has id {row['id']!r}", 'write <year>.<number>, as "2026.1"')
    if row["status"] not in STATUSES:
        raise _fault(path, f"has status {row['status']!r}", "write published or withdrawn")
    if (row["status"] == "withdrawn") != ("withdrawn" in row):
        raise _fault(path, "is withdrawn without a day, or has one", "write status and day alike")
    for name in {"date", "withdrawn"} & set(row):
        if not is_date(row[name]):
            raise _fault(path, f"has date {row[name]!r}", 'write "YYYY-MM-DD"')
    for name in {"note", "because"} & set(row):
        if not isinstance(row[name], dict) or set(row[name]) != {"en", "es"}:
            raise _fault(path, f"has a {name} that is not {{en, es}}", "say it in both languages")
    if not _DIGEST.fullmatch(str(row["digest"])):
        raise _fault(path, f"has digest {row['digest']!r}", "write the SHA-256 of its file in hex")
    return Entry(**{**row, "status": cast("Status", row["status"])})
