"""The list of pieces in a drawing: letter, what it is, size to cut, in the order of laying."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from upstand.drawing.scene import Scene
from upstand.drawing.svg import Row
from upstand.layout.model import Piece

#: Pieces whose place is told in words, since a plan can't show it.
WHERE: Final = {"cap": "where-cap", "wrap": "where-wrap", "top": "where-top"}


def piece_rows(scene: Scene, pieces: Sequence[Piece]) -> list[Row]:
    """Return a row for each piece, lowest first; equal neighbors of a kind share one."""
    rows = []
    for alike in _alike(pieces):
        first, last = alike[0], alike[-1]
        letter = first.letter if len(alike) == 1 else f"{first.letter}–{last.letter}"
        size = f"{scene.text(first.width, 'up-quarter')} × {scene.text(first.length, 'up-quarter')}"
        what = scene.piece_kind(first) if len(alike) > 1 else scene.saying.piece(first)
        total = sum(piece.count for piece in alike)
        count = f"{total}\u00a0× " if total > 1 else ""
        where = f", {scene.label(WHERE[first.kind])}" if first.kind in WHERE else ""
        rows.append(Row(f"{count}{what}, {size}{where}", mark=letter))
    return rows


def _alike(pieces: Sequence[Piece]) -> Iterator[list[Piece]]:
    """Yield runs of three or more equal pieces together, every other piece alone."""
    ordered = sorted(pieces, key=lambda one: one.order)
    runs: list[list[Piece]] = []
    for piece in ordered:
        if runs and _same(runs[-1][-1], piece):
            runs[-1].append(piece)
        else:
            runs.append([piece])
    for run in runs:
        if len(run) > 2:
            yield run
        else:
            yield from ([piece] for piece in run)


def _same(one: Piece, other: Piece) -> bool:
    return (
        one.kind == other.kind
        and one.count == other.count
        and abs(one.width.value - other.width.value) < 1e-6
        and abs(one.length.value - other.length.value) < 1e-6
    )
