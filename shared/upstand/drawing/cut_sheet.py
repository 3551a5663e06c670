"""The cut sheet: every piece of fleece to one scale, with its count and the size to cut."""

from __future__ import annotations

from shapely.geometry import box

from upstand.drawing.plan import View
from upstand.drawing.scene import NothingToDraw, Scene
from upstand.drawing.svg import LINE, WIDTH, Sheet, wrap
from upstand.layout import Piece
from upstand.quantity.traced import constant

COLUMN, GAP, TALLEST = 170.0, 20.0, 200.0  # units
STEP_IN = 0.25  # pieces are cut to the next quarter inch


def draw_cut_sheet(scene: Scene) -> str:
    """Draw the pieces of an answer's layout, lowest first, as SVG.

    Raises NothingToDraw where the layout has no geometry.
    """
    fleece = scene.layout.fleece
    if fleece is None:
        raise NothingToDraw("the geometry of this detail is not computed")
    lines = "; ".join(scene.saying.piece_line(piece) for piece in fleece.pieces)
    sheet = Sheet(
        scene.name,
        scene.label("cut-title", detail=scene.detail),
        scene.label("cut-about", pieces=lines),
    )
    widest = max(p.width.value for p in fleece.pieces)
    tallest = max(p.length.value for p in fleece.pieces)
    scale = min(COLUMN / widest, TALLEST / tallest)
    top = 6.0
    for pair in (fleece.pieces[k : k + 2] for k in range(0, len(fleece.pieces), 2)):
        top += max(
            _piece(sheet, scene, piece, column * (COLUMN + GAP), top, scale)
            for column, piece in enumerate(pair)
        )
    step = scene.text(constant(STEP_IN, "in", "next step up")) if _us(scene) else "1\u00a0mm"
    sheet.legend([("", scene.label("cut-scale", step=step))], top + 4.0)
    return sheet.finished()


def _us(scene: Scene) -> bool:
    return scene.words.speech.system == "us"


def _piece(
    sheet: Sheet, scene: Scene, piece: Piece, left: float, top: float, scale: float
) -> float:
    """Draw one piece with its text under it; return the height taken."""
    wide, tall = piece.width.value, piece.length.value
    shape = piece.shape
    if shape is None or shape.is_empty:
        shape = box(0.0, 0.0, wide, tall)
    low_x, _, _, high_y = shape.bounds
    view = View(scale, low_x, high_y, left + 2.0, top)
    sheet.hatched(view.outline(shape), "resin")
    say = scene.saying
    words = [
        f"{piece.count}\u00a0× {say.piece(piece)}",
        f"{scene.text(piece.width, 'up-quarter')} × {scene.text(piece.length, 'up-quarter')}",
    ]
    if piece.slit:
        words.append(scene.label("slit"))
    y = top + tall * scale + 4.0
    for word in words:
        for line in wrap(word, COLUMN if left == 0.0 else WIDTH - left - 4.0):
            y += LINE
            sheet.text(left + 2.0, y - 5.0, line)
    return y - top + 16.0
