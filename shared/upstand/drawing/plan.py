"""The plan: tape, pieces of fleece in their order and plates, seen from above, walls laid flat."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import shapely

from upstand.drawing.net import Panel, corners, lay_flat, places
from upstand.drawing.panel import Drawn
from upstand.drawing.pieces import piece_rows
from upstand.drawing.place import Labels
from upstand.drawing.scene import NothingToDraw, Scene
from upstand.drawing.svg import WIDTH, Row, Sheet, text_width
from upstand.drawing.view import GAP, Stretch, View, shorten
from upstand.layout.model import Piece
from upstand.telling.said import say

TALLEST = 420.0  # units
LEAST, MOST = 5.2, 18.0  # units to an inch: a 4 in flange shows its letter, a small part isn't huge
SHORTENED = 9.0  # units to an inch of what is shortened anyway
PAD = 0.4  # inches round a panel, so that its tape isn't cut off
NEAR = 3.0  # inches drawn beside whatever begins or ends
TOP, BETWEEN, RIGHT = 10.0, 34.0, 10.0  # units


def draw_plan(scene: Scene) -> str:
    """Draw an answer's layout from above, to scale, as SVG.

    Raises NothingToDraw where the layout has no geometry.
    """
    layout = scene.layout
    if layout.masking is None or layout.fleece is None or not layout.faces:
        raise NothingToDraw(say("nothing-to-draw"))
    sheet = Sheet(
        scene.name,
        scene.label("plan-title", detail=scene.detail),
        scene.label(
            "plan-about",
            mask=scene.mask(),
            reveal=scene.text(scene.answer.settled.sizes["reveal"]),
        ),
    )
    labels = Labels(sheet)
    pieces = layout.fleece.pieces
    panels = [p for n, p in enumerate(lay_flat(layout.faces)) if n == 0 or _lying(p, pieces)]
    views = views_of(scene, panels)
    marks: list[Row] = []
    told: set[str] = set()
    y = TOP
    drawn: list[Drawn] = []
    for number, (panel, view) in enumerate(zip(panels, views, strict=True)):
        drawn.append(Drawn(scene, sheet, labels, panel, replace(view, y0=y), told))
        drawn[-1].draw(number == 0)
        y = drawn[-1].low + BETWEEN
    for one in drawn:
        one.draw_hidden()
        marks += [row for row in one.rows if row not in marks]
    rows = [*marks, *piece_rows(scene, pieces)]
    about = "plan-shortened" if any(view.breaks for view in views) else "plan-scale"
    rows.append(Row(scene.label(about)))
    lowest = max([y - BETWEEN, *(box[3] for box in labels.taken)])
    sheet.legend(rows, lowest + 12.0)
    return sheet.finished()


def _lying(panel: Panel, pieces: Sequence[Piece]) -> bool:
    ids = {flat.face.id for flat in panel.flats}
    return any(lying.face in ids for piece in pieces for lying in piece.lies)


def views_of(scene: Scene, panels: Sequence[Panel]) -> list[View]:
    """Choose one scale for all panels, shortening runs that would come out too small for it."""
    layout = scene.layout
    assert layout.fleece is not None and layout.masking is not None
    texts = [scene.text(side, "up") for pair in layout.masking.flat for side in pair]
    left = max(text_width(text) for text in texts) + 14.0
    wide = WIDTH - left - RIGHT
    stretches: list[tuple[tuple[Stretch, ...], tuple[Stretch, ...]]] = []
    for panel in panels:
        low_x, low_y, high_x, high_y = shapely.box(*panel.bounds).buffer(PAD).bounds
        points = [*places(panel), *_ends(panel, layout.fleece.pieces)]
        if not stretches:
            points += [at for shape in scene.plates for at in corners(shape)]
        least = LEAST
        if high_x - low_x > wide / LEAST:  # as large as the panel before it, or large enough
            first = _scale(wide, *stretches[0]) if stretches else SHORTENED
            least = max(least, min(first, TALLEST / (high_y - low_y + 4.0)))
        across = shorten(low_x, high_x, (x for x, _ in points), wide / least, NEAR)
        up = shorten(low_y, high_y, (y for _, y in points), TALLEST / LEAST, NEAR)
        stretches.append((across, up))
    scale = min(_scale(wide, across, up) for across, up in stretches)
    return [View(scale, across, up, left) for across, up in stretches]


def _scale(wide: float, across: Sequence[Stretch], up: Sequence[Stretch]) -> float:
    """Return the units to an inch that fill the width or the height."""
    return min(
        MOST,
        (wide - GAP * (len(across) - 1)) / sum(part.length for part in across),
        (TALLEST - GAP * (len(up) - 1)) / sum(part.length for part in up),
    )


def _ends(panel: Panel, pieces: Sequence[Piece]) -> Iterator[tuple[float, float]]:
    """Yield where pieces begin and end on a panel [in]."""
    for flat in panel.flats:
        if flat.face.opening is not None:
            yield from corners(flat.place(flat.face.opening))
        for piece in pieces:
            for lying in piece.lies:
                if lying.face == flat.face.id:
                    yield from corners(flat.place(lying.shape))
