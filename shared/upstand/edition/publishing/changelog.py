"""``CHANGELOG.md`` of the data: written from the index, by comparing each edition with the last."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from upstand.edition.build import Raw
from upstand.edition.frozen import read_frozen
from upstand.edition.index import Entry
from upstand.edition.publishing.changes import raw_changes, sentence

__all__ = ["CHANGELOG", "changelog"]

CHANGELOG = "CHANGELOG.md"

_HEAD = """# Changes of the data

Written by `publish` and `withdraw`; do not edit. Newest edition first. In brackets: the grade of
the new value and its source. Grades run from `standard` (read in the source) to `assumed` (our own
choice).
"""


def changelog(root: Path, entries: Sequence[Entry]) -> str:
    """Return the whole changelog of editions, newest first; raises SpecFault for a changed one."""
    held = [(entry, read_frozen(root, entry)) for entry in entries]
    older = [*held[1:], None]  # of the first edition there is nothing to tell a change from
    sections = [_section(*this, before) for this, before in zip(held, older, strict=False)]
    return "\n".join([_HEAD, *sections])


def _section(entry: Entry, raw: Raw, before: tuple[Entry, Raw] | None) -> str:
    lines = [f"## {entry.id} ({entry.date})", ""]
    if entry.because is not None:
        lines += [f"**Withdrawn on {entry.withdrawn}:** {_plain(entry.because['en'])}", ""]
    lines += [_plain(entry.note["en"]), ""]
    if before is None:
        lines.append(f"First edition: {sum(len(records) for records in raw.values())} records.")
    else:
        since, old = before
        listed = [f"- {_plain(sentence(change))}" for change in raw_changes(old, raw)]
        lines += [f"Since {since.id}:", "", *listed] if listed else [f"Like {since.id} throughout."]
    return "\n".join(lines) + "\n"


def _plain(text: str) -> str:
    """Return text that Markdown shows as it is."""
    for sign in "\\`*_<[":
        text = text.replace(sign, "\\" + sign)
    return " ".join(text.split())
