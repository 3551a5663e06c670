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
STATUSES = ("published", "withdrawn")


@dataclass(frozen=True, slots=True)
class Entry:
    """One edition in the index.

    ``note`` says in both languages what it is, or why it is withdrawn; ``withdrawn`` is the day.
    """

    id: str
    status: Status
    date: str
    note: Mapping[str, str]
    withdrawn: str | None = None


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
    node = read_file(path, INDEX, as_text=("id", "date", "withdrawn"))
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
        if entry.withdrawn is not None:
            lines.append(f'    withdrawn: "{entry.withdrawn}"')
        lines.append("    note:")
        # a JSON string is a YAML double-quoted one
        for lang, text in entry.note.items():
            lines.append(f"      {lang}: {json.dumps(text, ensure_ascii=False)}")
    return "\n".join(lines) + "\n"


def _fault(path: str, why: str, cure: str) -> SpecFault:
    return SpecFault([Fault(INDEX, path, "", "index", why, cure)])


def _entry(row: Any, path: str) -> Entry:
    fields = {"id", "status", "date", "note"}
    if not isinstance(row, dict) or set(row) - {"withdrawn"} != fields:
        raise _fault(path, "is not {id, status, date, note}", "write these four fields")
    if not EDITION_ID.fullmatch(str(row["id"])):
        raise _fault(path, f"has id {row['id']!r}", 'write <year>.<number>, as "2026.1"')
    if row["status"] not in STATUSES:
        raise _fault(path, f"has status {row['status']!r}", "write published or withdrawn")
    withdrawn = row.get("withdrawn")
    for date in (row["date"], *([withdrawn] if row["status"] == "withdrawn" else [])):
        if not is_date(date):
            raise _fault(path, f"has date {date!r}", 'write "YYYY-MM-DD"')
    note = row["note"]
    if not isinstance(note, dict) or set(note) != {"en", "es"}:
        raise _fault(path, "has a note that is not {en, es}", "say it in both languages")
    return Entry(row["id"], cast("Status", row["status"]), row["date"], note, withdrawn)
