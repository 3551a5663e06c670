"""``CHANGELOG.md`` of the data: written from the index and what each edition recorded."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from upstand.edition.build import Raw
from upstand.edition.index import Entry
from upstand.edition.publishing.changes import Change, raw_changes, sentence
from upstand.edition.publishing.compile import CHANGES

__all__ = ["CHANGELOG", "changelog", "record_changes"]

CHANGELOG = "CHANGELOG.md"

_HEAD = """# Changes of the data

Written by `publish` and `withdraw`; do not edit. Newest edition first. In brackets: the grade of
the new value and its source. Grades run from `standard` (read in the source) to `assumed` (our own
choice).
"""


def record_changes(
    since: str | None, old: Raw | None, new: Raw, note: Mapping[str, str]
) -> dict[str, Any]:
    """Return what an edition keeps in ``changes.json``: since which edition, note and changes."""
    listed: list[Change] = raw_changes(old, new) if old is not None else []
    records = sum(len(held) for held in new.values())
    return {"since": since, "note": dict(note), "records": records, "changes": listed}


def changelog(root: Path, entries: Sequence[Entry]) -> str:
    """Return the whole changelog for editions that are on disk."""
    parts = [_HEAD]
    for entry in entries:
        path = root / "editions" / entry.id / CHANGES
        held = json.loads(path.read_text("utf-8"))
        parts.append(_section(entry, held))
    return "\n".join(parts)


def _section(entry: Entry, held: Mapping[str, Any]) -> str:
    lines = [f"## {entry.id} ({entry.date})", ""]
    if entry.status == "withdrawn":
        lines += [f"**Withdrawn on {entry.withdrawn}:** {_plain(entry.note['en'])}", ""]
    lines += [_plain(held["note"]["en"]), ""]
    listed: list[Change] = held["changes"]
    if held["since"] is None:
        lines.append(f"First edition: {held['records']} records.")
    elif not listed:
        lines.append(f"Since {held['since']}: nothing changed.")
    else:
        lines += [f"Since {held['since']}:", ""]
        lines += [f"- {_plain(sentence(change))}" for change in listed]
    return "\n".join(lines) + "\n"


def _plain(text: str) -> str:
    """Return text that Markdown shows as it is."""
    for sign in "\\`*_<[":
        text = text.replace(sign, "\\" + sign)
    return " ".join(text.split())
