"""Telling that a file on disk is another than before, without reading it."""

from __future__ import annotations

from pathlib import Path

__all__ = ["Stamp", "stamp_of", "stamps_in"]

Stamp = tuple[int, int, int]


def stamp_of(path: Path) -> Stamp | None:
    """Return what changes when a file is written or replaced; None where it can't be reached."""
    try:
        held = path.stat()
    except OSError:
        return None
    return held.st_mtime_ns, held.st_size, held.st_ino


def stamps_in(folder: Path) -> tuple[tuple[str, Stamp | None], ...] | None:
    """Return the stamps of a folder's files, all the way down; None where it can't be listed."""
    try:
        if not folder.is_dir():
            return None
        return tuple((str(path), stamp_of(path)) for path in sorted(folder.rglob("*")))
    except OSError:
        return None
