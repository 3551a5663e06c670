"""The cut sheet: every piece of fleece to one scale, with all that is needed to cut and fold it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from shapely import affinity
from shapely.geometry.base import BaseGeometry

from upstand.drawing.cut_outs import CutOut, Flat, cut_outs, laid_out
from upstand.drawing.scene import NothingToDraw, Scene
from upstand.drawing.slits import region_of, slit_lines
from upstand.drawing.svg import LINE, WIDTH, Row, Sheet, polyline, wrap
from upstand.drawing.view import GAP, View, polygons, shorten
from upstand.layout.model import Piece
from upstand.quantity.traced import Traced, constant, measured

LEFT, GAP_BELOW, TALLEST, MOST = 2.0, 16.0, 170.0, 14.0  # units; units to an inch
LEAST = 6.0  # units to an inch, under which a long piece is shortened
NEAR, HAIR = 3.0, 0.05  # inches
LEAST_SHOWN = 0.125  # inches: shorter ones are shown as that
STEP_IN = 0.25  # pieces are cut to the next quarter inch


def draw_cut_sheet(scene: Scene) -> str:
    """Draw the pieces of an answer's layout, lowest first, as SVG.

    Raises NothingToDraw where the layout has no geometry.
    """
    fleece = scene.layout.fleece
    if fleece is None:
        raise NothingToDraw("there is nothing to draw: the geometry of this detail is not computed")
    lines = "; ".join(scene.saying.piece_line(piece) for piece in fleece.pieces)
    sheet = Sheet(
        scene.name,
        scene.label("cut-title", detail=scene.detail),
        scene.label("cut-about", pieces=lines),
    )
    blocks = [(alike, _flat(scene, alike[0])) for alike in _alike(fleece.pieces)]
    wide = WIDTH - LEFT - 8.0
    views = [_stretched(flat, wide) for _, flat in blocks]
    scale = min(
        [
            MOST,
            *(
                (wide - GAP * (len(view.across) - 1)) / sum(part.length for part in view.across)
                for view in views
            ),
        ]
    )
    top = 6.0
    for (alike, flat), view in zip(blocks, views, strict=True):
        placed = View(scale, view.across, view.up, LEFT, 0.0)
        top = _block(sheet, scene, alike, flat, placed, top)
    rows = [
        Row(scene.label("fold"), style="fold"),
        Row(scene.label("slit"), style="slit"),
        Row(scene.label("cut-stands"), style="hidden"),
    ]
    rows = [row for row in rows if f'class="{row.style}"' in "".join(sheet.parts)]
    us = scene.words.speech.system == "us"
    step = scene.text(constant(STEP_IN, "in", "next step up")) if us else "1\u00a0mm"
    sheet.legend([*rows, Row(scene.label("cut-scale", step=step))], top + 4.0)
    return sheet.finished()


def _flat(scene: Scene, piece: Piece) -> Flat:
    """Lay a piece out; a wrap without folds of its own has its foot on the roof."""
    flat = laid_out(piece)
    if piece.slit and not flat.slits:
        flat = replace(flat, slits=slit_lines(scene, piece))
    foot = scene.layout.parameters.get("fleece-lap")
    if piece.kind == "wrap" and not flat.folds_up and foot is not None:
        bands = (("roof", foot.value), ("member", flat.tall - foot.value))
        return replace(flat, folds_up=bands)
    return flat


def _alike(pieces: tuple[Piece, ...]) -> Iterator[list[Piece]]:
    """Yield pieces that are cut alike, whatever they are called, in the order of laying."""
    runs: list[tuple[tuple[object, ...], list[Piece]]] = []
    for piece in sorted(pieces, key=lambda one: one.order):
        flat = laid_out(piece)
        key = (
            piece.kind,
            piece.count,
            round(flat.wide, 6),
            round(flat.tall, 6),
            round(flat.shape.area, 4),
            tuple(round(at, 3) for at in flat.shape.centroid.coords[0]),
            piece.slit and piece.sheet is not None and piece.letter,
            flat.folds_up,
            flat.slits,
        )
        if runs and runs[-1][0] == key:
            runs[-1][1].append(piece)
        else:
            runs.append((key, [piece]))
    return iter([run for _, run in runs])


def _stretched(flat: Flat, wide: float) -> View:
    events = [0.0, flat.wide]
    for part in cut_outs(flat):
        events += [x for x, _ in part.corners]
        events += [part.centre[0] - part.radius, part.centre[0] + part.radius]
    events += [x for line in flat.slits for x, _ in line]
    # a hair more on every side, so that the piece's own edges are drawn
    across = shorten(-HAIR, flat.wide + HAIR, events, wide / LEAST, NEAR)
    up = shorten(-HAIR, flat.tall + HAIR, [0.0, flat.tall], TALLEST / LEAST, NEAR)
    return View(1.0, across, up)


def _block(
    sheet: Sheet, scene: Scene, alike: list[Piece], flat: Flat, view: View, top: float
) -> float:
    """Draw one piece under its name, then what is to be read off; return how far it goes down."""
    y = top
    for line in wrap(_title(scene, alike), WIDTH - 6.0):
        y += LINE
        sheet.text(LEFT, y - 5.0, line, bold=True)
    placed = View(view.scale, view.across, view.up, view.x0, y + 4.0)
    sheet.path(placed.fill(flat.shape), "white")
    sheet.path(placed.edge(flat.shape), "piece")
    run = 0.0
    for _, width in flat.folds_up[:-1]:
        run += width
        sheet.path(polyline([placed.at(0.0, run), placed.at(flat.wide, run)]), "fold")
    run = 0.0
    for _, width in flat.folds_along[:-1]:
        run += width
        sheet.path(polyline([placed.at(run, 0.0), placed.at(run, flat.tall)]), "fold")
    outline = _outline(scene, alike[0])
    if outline is not None:
        sheet.path(placed.edge(outline), "hidden")
    for start, end in flat.slits:
        sheet.path(polyline([placed.at(*start), placed.at(*end)]), "slit")
    for mark in placed.break_marks():
        sheet.path(mark, "break")
    y += 4.0 + placed.height + 4.0
    for words in _read_off(scene, alike[0], flat):
        for line in wrap(words, WIDTH - 6.0):
            y += LINE
            sheet.text(LEFT, y - 5.0, line)
    return y + GAP_BELOW


def _title(scene: Scene, alike: list[Piece]) -> str:
    first, last = alike[0], alike[-1]
    letter = first.letter if len(alike) == 1 else f"{first.letter}–{last.letter}"
    total = sum(piece.count for piece in alike)
    name = scene.saying.piece(first) if len(alike) == 1 else scene.piece_kind(first)
    return f"{letter}\u00a0 {total}\u00a0× {name}"


def _read_off(scene: Scene, piece: Piece, flat: Flat) -> Iterator[str]:
    """Yield the sizes of a piece: width by height as drawn, bands between folds, what goes."""
    say = scene.label
    wide, tall = _length(flat.wide), _length(flat.tall)
    yield say(
        "cut-size",
        width=scene.text(wide, "up-quarter"),
        height=scene.text(tall, "up-quarter"),
    )
    for bands, edge in ((flat.folds_up, "cut-bands-up"), (flat.folds_along, "cut-bands-along")):
        if len(bands) > 1:
            told = [f"{scene.text(_length(size))} {_face(scene, face)}" for face, size in bands]
            yield say(edge, bands=" · ".join(told))
    for part in cut_outs(flat):
        yield _told(scene, part)
    for start, end in flat.slits:
        (x1, y1), (x2, y2) = start, end
        yield say(
            "cut-slit",
            x=_at(scene, x1),
            y=_at(scene, y1),
            x_end=_at(scene, x2),
            y_end=_at(scene, y2),
        )
    outline = _outline(scene, piece)
    if outline is not None and not flat.slits:
        for part in polygons(outline):
            corners = list(part.simplify(0.05).exterior.coords)[:-1]
            places = " · ".join(f"{_at(scene, x)}, {_at(scene, y)}" for x, y in corners)
            yield say("cut-upright", places=places)


def _outline(scene: Scene, piece: Piece) -> BaseGeometry | None:
    """Return what stands in a base piece that is slit, from the piece's own corner [in]."""
    region = region_of(scene, piece)
    if not piece.slit or region is None or piece.sheet is None:
        return None
    sheet = piece.sheet.sheet()
    left, low, _, _ = sheet.bounds
    return affinity.translate(region.outline.intersection(sheet), -left, -low)


def _face(scene: Scene, face: str) -> str:
    for one in scene.layout.faces:
        if one.id == face:
            return scene.part(one.surface)
    return scene.part(face)


def _told(scene: Scene, part: CutOut) -> str:
    say = scene.label
    if part.kind == "rectangle":
        (left, low), (right, high) = part.corners
        rounded = {"radius": _at(scene, part.radius)} if part.radius else {}
        return say(
            "cut-out-rectangle-rounded" if rounded else "cut-out-rectangle",
            **rounded,
            width=_at(scene, right - left),
            height=_at(scene, high - low),
            x=_at(scene, left),
            y=_at(scene, low),
        )
    if part.kind == "disc":
        return say(
            "cut-out-disc",
            radius=_at(scene, part.radius),
            x=_at(scene, part.centre[0]),
            y=_at(scene, part.centre[1]),
        )
    if part.kind == "rounded" and part.centre != (0.0, 0.0):
        return say("cut-round", radius=_at(scene, part.radius))
    if part.kind == "rounded":
        return say("cut-out-rounded", radius=_at(scene, part.radius))
    places = " · ".join(f"{_at(scene, x)}, {_at(scene, y)}" for x, y in part.corners)
    return say("cut-out-corners", places=places)


def _length(value: float) -> Traced:
    return measured(value, "in", "as cut")


def _at(scene: Scene, value: float) -> str:
    """Write a place on the piece; one a little off the edge is on it."""
    if value < 0.0:
        return f"\u2212{scene.text(_length(-value))}" if value < -1e-6 else scene.text(_length(0.0))
    return scene.text(_length(value), "up" if 1e-6 < value < LEAST_SHOWN else None)
