"""A sketch of where a detail's sizes are measured, each by a number and the name a crew uses."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import shapely

from upstand.answer import Answer
from upstand.drawing.net import Panel, lay_flat
from upstand.drawing.place import Labels
from upstand.drawing.plan import BETWEEN, TOP, views_of
from upstand.drawing.scene import Scene
from upstand.drawing.svg import Pair, Row, Sheet, polyline
from upstand.drawing.view import View
from upstand.layout.model import Face, Layout, Line
from upstand.query.forms import input_forms


def draw_measures(answer: Answer, name: str = "measures") -> str | None:
    """Draw where each size that has no default is measured; None where there is none to show."""
    scene = Scene(answer, name)
    layout = scene.layout
    if layout.masking is None or layout.fleece is None:
        return None
    fields = {
        field["name"]: (field["label"], field["how"])
        for field in input_forms(answer.edition, answer.settled.detail.id, scene.lang)
        if field["required"] and field["reads"] == "length"
    }
    found = {size: line for size in fields if (line := _line(layout, size)) is not None}
    if not found:
        return None
    sheet = Sheet(
        name,
        scene.label("measure-title", detail=scene.detail),
        scene.label("measure-about", sizes=scene.words.list([fields[size][0] for size in found])),
    )
    labels = Labels(sheet)
    numbers = {size: str(n) for n, size in enumerate(found, 1)}
    faces = {face for face, _ in found.values()}
    panels = [
        panel
        for n, panel in enumerate(lay_flat(layout.faces))
        if n == 0 or any(flat.face.id in faces for flat in panel.flats)
    ]
    y = TOP
    for panel, flat_view in zip(panels, views_of(scene, panels), strict=True):
        view = replace(flat_view, y0=y)
        _draw(scene, sheet, panel, view)
        drawn = {
            numbers[size]: ends
            for size, (face, run) in found.items()
            if (ends := _ends(panel, view, face, run)) is not None
        }
        labels.lines += [shapely.linestrings(ends) for ends in drawn.values()]
        for number, ends in drawn.items():
            _measure(labels, ends, number)
        y += view.height + BETWEEN
    rows = [Row(f"{fields[size][0]}: {fields[size][1]}", mark=numbers[size]) for size in found]
    sheet.legend([*rows, Row(scene.label("measure-scale"))], y - BETWEEN + 16.0)
    return sheet.finished()


def _draw(scene: Scene, sheet: Sheet, panel: Panel, view: View) -> None:
    """Draw the faces bare, with their names, and what lies on them."""
    marked = scene.layout.marked
    for flat in panel.flats:
        sheet.path(view.fill(flat.bare), "white")
        sheet.path(view.edge(flat.bare), "thin")
        if marked is not None and marked.face == flat.face.id:
            sheet.path(view.edge(flat.place(marked.shape)), "under")
    for mark in view.break_marks():
        sheet.path(mark, "break")


def _ends(panel: Panel, view: View, face: str, line: Line) -> tuple[Pair, Pair] | None:
    """Return where a size begins and ends on paper; None where the face is on another panel."""
    flat = next((flat for flat in panel.flats if flat.face.id == face), None)
    if flat is None:
        return None
    start, end = flat.place(shapely.linestrings(line)).coords
    return view.at(*start), view.at(*end)


def _measure(labels: Labels, ends: tuple[Pair, Pair], number: str) -> None:
    """Draw one size with ticks at its ends, its number beside it."""
    (x1, y1), (x2, y2) = ends
    labels.sheet.path(polyline(ends), "piece")
    for x, y in ends:
        labels.sheet.path(polyline([(x - 4, y + 4), (x + 4, y - 4)]), "notch")
    shares = (0.75, 0.8, 0.7, 0.6, 0.5, 0.4, 0.2)
    places = [
        (x1 + (x2 - x1) * share + dx, y1 + (y2 - y1) * share + dy)
        for share in shares
        for dx, dy in ((0.0, -8.0), (0.0, 20.0), (12.0, 5.0), (-12.0, 5.0))
    ]
    if not labels.put(number, places, bold=True):
        labels.put(number, places, bold=True, over_lines=True)


def _line(layout: Layout, size: str) -> tuple[str, Line] | None:
    """Return on which face a size is measured, and from where to where there [in]."""
    for face, line in _lines(layout, size):
        return face.id, line
    return None


def _lines(layout: Layout, size: str) -> Iterator[tuple[Face, Line]]:
    faces = {face.id: face for face in layout.faces}
    surfaces = {face.surface: face for face in layout.faces}
    marked = layout.marked
    if marked is not None and size in ("length", "width"):
        left, low, right, high = marked.shape.bounds
        x, y = left + (right - left) * 0.35, low + (high - low) * 0.35
        # damage is as wide as it goes across, and as long as it goes up the roof
        across = ((left, y), (right, y)), ((x, low), (x, high))
        yield faces[marked.face], across[1 if marked.kind == "damage" and size == "length" else 0]
    elif size in ("length", "width") and "curb" in surfaces:
        roof = next(face for face in layout.faces if face.opening is not None)
        left, low, right, high = _bounds(roof)
        x, y = left + (right - left) * 0.35, low + (high - low) * 0.35
        yield roof, ((x, low), (x, high)) if size == "length" else ((left, y), (right, y))
    elif size == "length":
        face = surfaces.get("riser") or surfaces.get("wall")
        if face is not None:
            left, low, right, high = face.zone.bounds
            y = low + (high - low) * 0.5
            yield face, ((left, y), (right, y))
    elif size in ("bowl", "seat") and "bowl" in surfaces:
        bowl = surfaces["bowl"]
        half = layout.sizes[size].value / 2.0
        across = ((-half, 0.0), (half, 0.0)), ((0.0, -half), (0.0, half))
        yield bowl, across[0 if size == "bowl" else 1]
    elif size in ("riser", "sill") and size in surfaces:
        left, low, right, high = surfaces[size].zone.bounds
        x = left + (right - left) * (0.25 if size == "riser" else 0.75)
        yield surfaces[size], ((x, low), (x, high))
    elif size in ("opening_width", "opening_height") and "wall" in surfaces:
        wall = surfaces["wall"]
        if wall.opening is not None:
            left, low, right, high = _bounds(wall)
            x, y = left + (right - left) * 0.3, low + (high - low) * 0.5
            yield wall, ((left, y), (right, y)) if size.endswith("width") else ((x, low), (x, high))
    elif size == "depth" and "throat-floor" in surfaces:
        left, low, right, high = surfaces["throat-floor"].sheet.bounds
        x = (left + right) / 2.0
        yield surfaces["throat-floor"], ((x, low), (x, high))


def _bounds(face: Face) -> tuple[float, float, float, float]:
    assert face.opening is not None
    left, low, right, high = face.opening.bounds
    return left, low, right, high
