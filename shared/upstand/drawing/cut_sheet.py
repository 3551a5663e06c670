"""The cut sheet: every piece of fleece to one scale, with all that is needed to cut and fold it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from shapely import affinity
from shapely.geometry.base import BaseGeometry

from upstand.drawing.cut_outs import Bands, CutOut, Flat, cut_outs, laid_out
from upstand.drawing.scene import NothingToDraw, Scene
from upstand.drawing.slits import region_of, slit_lines
from upstand.drawing.svg import LINE, WIDTH, Row, Sheet, polyline, wrap
from upstand.drawing.unfold import Cell, Unfolded, unfold
from upstand.drawing.view import GAP, View, polygons, shorten
from upstand.layout.model import Piece
from upstand.quantity.traced import Traced, constant, measured
from upstand.telling.said import say

LEFT, GAP_BELOW, TALLEST, MOST = 2.0, 16.0, 170.0, 14.0  # units; units to an inch
LEAST = 6.0  # units to an inch, under which a long piece is shortened
BESIDE = 130.0  # units: how far left a piece's words begin at most, beside it
NEAR, HAIR = 3.0, 0.05  # inches
LEAST_SHOWN = 0.125  # inches: shorter ones are shown as that
STEP_IN = 0.25  # pieces are cut to the next quarter inch, or to the next 5 mm


def draw_cut_sheet(scene: Scene) -> str:
    """Draw the pieces of an answer's layout, lowest first, as SVG.

    Raises NothingToDraw where the layout has no geometry.
    """
    fleece = scene.layout.fleece
    if fleece is None:
        raise NothingToDraw(say("nothing-to-draw"))
    lines = scene.saying.pieces_text(fleece.pieces)
    sheet = Sheet(
        scene.name,
        scene.label("cut-title", detail=scene.detail),
        scene.label("cut-about", pieces=lines),
    )
    blocks = _alike(scene, fleece.pieces)
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
        Row(scene.label("fold"), style="crease"),
        Row(scene.label("slit"), style="slit"),
        Row(scene.label("cut-stands"), style="hidden"),
    ]
    rows = [row for row in rows if f'class="{row.style}"' in "".join(sheet.parts)]
    us = scene.words.speech.system == "us"
    step = scene.text(constant(STEP_IN, "in", "next step up")) if us else "5\u00a0mm"
    sheet.legend([*rows, Row(scene.label("cut-scale", step=step))], top + 4.0)
    return sheet.finished()


def _flat(scene: Scene, piece: Piece) -> Flat:
    """Lay a piece out with its folds and slits."""
    flat = laid_out(piece)
    if piece.kind == "patch":
        return _patch(scene, flat)
    if piece.slit and not flat.slits:
        flat = replace(flat, slits=slit_lines(scene, piece))
    foot = scene.layout.parameters.get("fleece-lap")
    if piece.kind == "wrap" and foot is not None:
        bands = ((scene.label("part-roof"), foot.value),
                 (scene.label("part-member"), flat.tall - foot.value))  # fmt: skip
        fold = ((0.0, foot.value), (flat.wide, foot.value))
        return replace(flat, folds=(fold,), bands=(Bands(True, bands),))
    found = unfold(piece, scene.layout.faces)
    if found is None:
        return flat
    up = tuple((scene.face(band.face), band.last - band.first) for band in piece.across)
    if not up:
        far = max(found.cells, key=lambda cell: cell.wide * cell.tall)
        column = [cell for cell in found.cells if abs(cell.end - far.end) < HAIR]
        column.sort(key=lambda cell: cell.low)
        up = tuple((scene.face(cell.face), cell.tall) for cell in column)
    rows = [Bands(True, up)] if len(up) > 1 else []
    rows += _rows(scene, piece, found, flat)
    slits = flat.slits or found.slits
    return replace(flat, slits=slits, folds=found.folds, bands=tuple(rows))


def _patch(scene: Scene, flat: Flat) -> Flat:
    """Fold a corner patch: its lower half on the flat, slit; its upper half up both faces."""
    x, y = flat.wide / 2.0, flat.tall / 2.0
    across, up = ((0.0, y), (flat.wide, y)), ((x, y), (x, flat.tall))
    slit = ((x, 0.0), (x, y))
    names = scene.label("patch-flat"), scene.label("patch-up")
    rows = (Bands(True, ((names[0], y), (names[1], flat.tall - y))),)
    return replace(flat, slits=(slit,), folds=(across, up), bands=rows)


def _rows(scene: Scene, piece: Piece, found: Unfolded, flat: Flat) -> list[Bands]:
    """Return what lies beside what, wherever a fold runs upwards."""
    rows: list[Bands] = []
    for (x, low), (end, high) in found.folds:
        if abs(end - x) > HAIR:
            continue
        middle = (low + high) / 2.0
        row = sorted(
            (cell for cell in found.cells if cell.low < middle < cell.high),
            key=lambda cell: cell.left,
        )
        parts = tuple((_beside(scene, piece, cell, row), cell.wide) for cell in row)
        whole = high - low > flat.tall - HAIR
        bands = Bands(False, parts) if whole else Bands(False, parts, low, high)
        if bands not in rows:
            rows.append(bands)
    return rows


def _beside(scene: Scene, piece: Piece, cell: Cell, row: Sequence[Cell]) -> str:
    """Name what a part of a piece lies on; an end of a sill piece up the jamb is its end dam."""
    name = scene.face(cell.face)
    widest = max(row, key=lambda one: one.wide)
    if cell is widest:
        return name
    if piece.kind == "sill":
        return scene.label("part-dam")
    return scene.label("part-round") if name == scene.face(widest.face) else name


def _alike(scene: Scene, pieces: tuple[Piece, ...]) -> list[tuple[list[Piece], Flat]]:
    """Put together pieces that are cut and folded alike, in the order of laying."""
    runs: list[tuple[tuple[object, ...], list[Piece], Flat]] = []
    for piece in sorted(pieces, key=lambda one: one.order):
        flat = _flat(scene, piece)
        key = (
            piece.kind,
            piece.count,
            round(flat.wide, 6),
            round(flat.tall, 6),
            round(flat.shape.area, 4),
            tuple(round(at, 3) for at in flat.shape.centroid.coords[0]),
            [(b.up, [(name, round(size, 4)) for name, size in b.parts]) for b in flat.bands],
            [[round(at, 4) for point in line for at in point] for line in flat.slits],
        )
        if runs and runs[-1][0] == key:
            runs[-1][1].append(piece)
        else:
            runs.append((key, [piece], flat))
    return [(alike, flat) for _, alike, flat in runs]


def _stretched(flat: Flat, wide: float) -> View:
    events = [0.0, flat.wide]
    for part in cut_outs(flat):
        events += [x for x, _ in part.corners]
        events += [part.centre[0] - part.radius, part.centre[0] + part.radius]
    events += [x for line in (*flat.slits, *flat.folds) for x, _ in line]
    # a hair more on every side, so that the piece's own edges are drawn
    across = shorten(-HAIR, flat.wide + HAIR, events, wide / LEAST, NEAR)
    up = shorten(-HAIR, flat.tall + HAIR, [0.0, flat.tall], TALLEST / LEAST, NEAR)
    return View(1.0, across, up)


def _block(
    sheet: Sheet, scene: Scene, alike: list[Piece], flat: Flat, view: View, top: float
) -> float:
    """Draw one piece under its name, then what is to be read off; return how far it goes down."""
    y = top
    for line in wrap(_title(scene, alike), WIDTH - 6.0, bold=True):
        y += LINE
        sheet.text(LEFT, y - 5.0, line, bold=True)
    placed = View(view.scale, view.across, view.up, view.x0, y + 4.0)
    sheet.path(placed.fill(flat.shape), "white")
    sheet.path(placed.edge(flat.shape), "piece")
    for start, end in flat.folds:
        sheet.path(polyline([placed.at(*start), placed.at(*end)]), "crease")
    outline = _outline(scene, alike[0])
    if outline is not None:
        sheet.path(placed.edge(outline), "hidden")
    for start, end in flat.slits:
        sheet.path(polyline([placed.at(*start), placed.at(*end)]), "slit")
    for mark in placed.break_marks():
        sheet.path(mark, "break")
    y += 4.0
    # beside a narrow piece there is room for what is told of it
    left = LEFT + placed.width + 14.0
    beside = left <= BESIDE
    if not beside:
        left, y = LEFT, y + placed.height + 4.0
    low = y
    for words in _read_off(scene, alike[0], flat):
        for line in wrap(words, WIDTH - left - 4.0):
            low += LINE
            sheet.text(left, low - 5.0, line)
    return max(low, y + placed.height if beside else low) + GAP_BELOW


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
    for bands in flat.bands:
        told = " · ".join(f"{scene.text(_length(size))} {name}" for name, size in bands.parts)
        if bands.up:
            yield say("cut-bands-up", bands=told)
        elif bands.high:
            low, high = _at(scene, bands.low), _at(scene, bands.high)
            yield say("cut-bands-along-part", bands=told, low=low, high=high)
        else:
            yield say("cut-bands-along", bands=told)
    for part in cut_outs(flat):
        yield _told(scene, part)
    if flat.slits:
        runs = (
            " – ".join(f"{_at(scene, x)}, {_at(scene, y)}" for x, y in run) for run in flat.slits
        )
        yield say("cut-slit", slits=" · ".join(runs))
    if piece.kind == "wrap" and piece.joint not in (None, "round"):
        yield say("cut-foot")
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
