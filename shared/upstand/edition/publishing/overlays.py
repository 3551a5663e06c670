"""Overlays that come with the data are written against its newest edition, and go along with it."""

from __future__ import annotations

import re
from pathlib import Path

__all__ = ["move_overlays"]


def move_overlays(root: Path, before: str, id: str) -> dict[str, str]:
    """Return name -> new text of every overlay file that extends the edition before.

    Only the line that names the edition changes: comments and order stay as they were written.
    """
    line = re.compile(rf'^extends: (["\']?){re.escape(before)}\1[ \t]*$', re.MULTILINE)
    moved = {}
    for path in sorted((root / "overlays").rglob("*.yaml")):
        text = path.read_text(encoding="utf-8")
        after = line.sub(f'extends: "{id}"', text)
        if after != text:
            moved[path.relative_to(root).as_posix()] = after
    return moved
