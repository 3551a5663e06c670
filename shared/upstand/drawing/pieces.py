"""The list of pieces in a drawing: letter, what it is, size to cut, in the order of laying."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from upstand.drawing.scene import Scene
from upstand.drawing.svg import Row
from upstand.layout.model import Piece

#: Pieces whose place is told in words, since a plan can't show it.
WHERE: Final = {"cap": "where-cap", "wrap": "where-wrap", "top": "where-top"}


def piece_rows(scene: Scene, pieces: Sequence[Piece]) -> list[Row]:
    """Return a row for each piece, lowest first; equal neighbors of a kind share one."""
    rows = []
    for first, letters, said in scene.saying.piece_rows(pieces):
        where = f", {scene.label(WHERE[first.kind])}" if first.kind in WHERE else ""
        rows.append(Row(f"{said}{where}", mark=letters))
    return rows
