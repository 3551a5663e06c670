"""Drawings of an answer as SVG files in a folder: one a view."""

from __future__ import annotations

from pathlib import Path

from upstand.answer import Answer
from upstand.drawing import VIEWS, NothingToDraw, draw


def write_drawings(answer: Answer, folder: Path) -> list[str]:
    """Write each view into a folder, made where it is missing; return a line on each.

    Raises OSError where a file can't be written.
    """
    lines = []
    for view in VIEWS:
        try:
            svg = draw(answer, view)
        except NothingToDraw as error:
            lines.append(f"{view}: {error}")
            continue
        folder.mkdir(parents=True, exist_ok=True)
        path = folder / f"{answer.settled.detail.id}-{view}.svg"
        path.write_text(svg, "utf-8")
        lines.append(str(path))
    return lines
