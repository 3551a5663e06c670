"""The plan: tape, pieces of fleece in their order and plates, seen from above, walls laid flat."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import shapely
from shapely import affinity
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from upstand.drawing.hollow import inside_of
from upstand.drawing.net import Flat, Panel, lay_flat, places
from upstand.drawing.pieces import piece_rows
from upstand.drawing.place import Labels
from upstand.drawing.scene import NothingToDraw, Scene
from upstand.drawing.svg import SIZE, WIDTH, Pair, Row, Sheet, text_width
from upstand.drawing.view import GAP, Stretch, View, polygons, shorten
from upstand.layout.model import Piece
from upstand.layout.placed import turned
from upstand.quantity.traced import Traced, measured

TALLEST = 420.0  # units
LEAST, MOST = 9.0, 18.0  # units to an inch: a 4 in flange shows its letter, a small part isn't huge
PAD = 0.4  # inches round a panel, so that its tape isn't cut off
NEAR = 3.0  # inches drawn beside whatever begins or ends
TOP, BETWEEN, RIGHT = 10.0, 34.0, 10.0  # units


def draw_plan(scene: Scene) -> str:
    """Draw an answer's layout from above, to scale, as SVG.

    Raises NothingToDraw where the layout has no geometry.
    """
    layout = scene.layout
    if layout.masking is None or layout.fleece is None or not layout.faces:
        raise NothingToDraw("there is nothing to draw: the geometry of this detail is not computed")
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
    views = _views(scene, panels)
    marks: list[Row] = []
    y = TOP
    for number, (panel, view) in enumerate(zip(panels, views, strict=True)):
        view = replace(view, y0=y)
        drawn = _Drawn(scene, sheet, labels, panel, view)
        drawn.draw(number == 0)
        marks += [row for row in drawn.rows if row not in marks]
        y = drawn.low + BETWEEN
    rows = [*marks, *piece_rows(scene, pieces)]
    about = "plan-shortened" if any(view.breaks for view in views) else "plan-scale"
    rows.append(Row(scene.label(about)))
    sheet.legend(rows, y - BETWEEN + 12.0)
    return sheet.finished()


def _lying(panel: Panel, pieces: Sequence[Piece]) -> bool:
    ids = {flat.face.id for flat in panel.flats}
    return any(lying.face in ids for piece in pieces for lying in piece.lies)


def _views(scene: Scene, panels: Sequence[Panel]) -> list[View]:
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
            points += [at for shape in _plates(scene) for at in _corners(shape)]
        # a panel that follows a shortened one is drawn as large as that
        least = _scale(wide, *stretches[0]) if stretches and len(stretches[0][0]) > 1 else LEAST
        least = min(least, TALLEST / (high_y - low_y + 4.0))
        across = shorten(low_x, high_x, (x for x, _ in points), wide / max(least, LEAST), NEAR)
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
            yield from _corners(flat.place(flat.face.opening))
        for piece in pieces:
            for lying in piece.lies:
                if lying.face == flat.face.id:
                    yield from _corners(flat.place(lying.shape))


def _corners(shape: BaseGeometry) -> Iterator[tuple[float, float]]:
    left, low, right, high = shape.bounds
    yield (left, low)
    yield (right, high)


def _plates(scene: Scene) -> list[BaseGeometry]:
    """Return the fastener plates, in the axes of the mask."""
    settled = scene.answer.settled
    found = []
    for plate in settled.plates:
        if plate.at is not None:
            x, y = plate.at[0].value, plate.at[1].value
            wide, long = plate.width.value / 2.0, plate.length.value / 2.0
            box = shapely.box(x - wide, y - long, x + wide, y + long)
            found.append(turned(box, -settled.mask_turn.value, (0.0, 0.0)))
    return found


class _Drawn:
    """One panel being drawn; `rows` are what its lines mean, `low` how far down it goes."""

    def __init__(
        self, scene: Scene, sheet: Sheet, labels: Labels, panel: Panel, view: View
    ) -> None:
        self.scene, self.sheet, self.labels = scene, sheet, labels
        self.panel, self.view = panel, view
        self.rows: list[Row] = []
        self.told: set[str] = set()
        self.laps: list[BaseGeometry] = []
        self.low = view.y0 + view.height

    def draw(self, first: bool) -> None:
        """Draw the faces with all that lies on them, then the words."""
        visible: list[tuple[Piece, BaseGeometry, BaseGeometry]] = []
        for flat in self.panel.flats:
            visible += self._pieces(flat)
        self._breaker()
        if first:
            self._members()
            self._plates()
        for flat in self.panel.flats:
            self._lines(flat)
        for mark in self.view.break_marks():
            self.sheet.path(mark, "break")
        if first:
            self._measures()
        self._letters(visible)
        for flat in self.panel.flats:
            self._name(flat)
        if first:
            self._uprights()

    def _letters(self, lying: list[tuple[Piece, BaseGeometry, BaseGeometry]]) -> None:
        """Write each piece's letter where it is seen, the smallest first; else in brackets."""
        for piece, seen, _ in sorted(lying, key=lambda one: one[1].area):
            for part in self._roomiest(seen):
                if self.labels.put_inside(piece.letter, part):
                    self.told.add(piece.letter)
        hidden: dict[str, list[BaseGeometry]] = {}
        for piece, _, whole in lying:
            if piece.letter not in self.told:
                hidden.setdefault(piece.letter, []).append(whole)
        for letter, shapes in hidden.items():
            for part in self._roomiest(unary_union(shapes)):
                if self.labels.put_inside(f"({letter})", part):
                    self.told.add(letter)
                    self._row(Row(self.scene.label("under"), mark="(…)"))
        for piece, seen, _ in lying:
            if piece.letter in self.told:
                continue
            for part in self._roomiest(seen):  # narrower than its letter: across its edges
                left, top, right, low = part.bounds
                x = (left + right) / 2.0
                spots = [(x, top + (low - top) * n / 8.0 + 5.0) for n in (4, 3, 5, 2, 6, 1, 7)]
                if self.labels.put(piece.letter, spots, bold=True, over_lines=True):
                    self.told.add(piece.letter)

    def _name(self, flat: Flat) -> None:
        """Name a face that is a part of the detail, where there is room for its name."""
        if not flat.face.surface:
            return
        for part in self._roomiest(flat.bare.difference(unary_union(self.laps))):
            self.labels.put_inside(
                self.scene.part(flat.face.surface), part, bold=False, over_lines=False
            )

    def _row(self, row: Row) -> None:
        if row not in self.rows:
            self.rows.append(row)

    def _roomiest(self, shape: BaseGeometry) -> list[BaseGeometry]:
        """Return the drawn parts of a shape, in units of paper, the largest alone if near it."""
        parts = [part for drawn in self.view.parts(shape) for part in polygons(drawn)]
        return sorted(parts, key=lambda part: -part.area)[:1]

    def _pieces(self, flat: Flat) -> list[tuple[Piece, BaseGeometry, BaseGeometry]]:
        """Draw what lies on a face, bottom first; return what is seen of each piece, and all."""
        fleece = self.scene.layout.fleece
        assert fleece is not None
        lying = [
            # an edge alone may be left where a piece only touches the face
            (piece, unary_union(list(polygons(flat.place(one.shape).intersection(flat.bare)))))
            for piece in fleece.pieces
            for one in piece.lies
            if one.face == flat.face.id
        ]
        seen = []
        for number, (piece, shape) in enumerate(lying):
            above = unary_union([other for _, other in lying[number + 1 :]])
            self.sheet.path(self.view.fill(shape), "white")
            self.sheet.path(self.view.edge(shape), "piece")
            if piece.kind == "patch" and not shape.is_empty:
                self.sheet.hatched(self.view.fill(shape), "patch")
                self._row(Row(self.scene.label("kind-patch"), pattern="patch"))
            self._block(shape)
            seen.append((piece, shape.difference(above), shape))
        for number, (piece, shape) in enumerate(lying):
            for other, upper in lying[number + 1 :]:
                both = shape.intersection(upper)
                if other.kind == piece.kind != "patch" and both.area > 1e-6:
                    self.sheet.hatched(self.view.fill(both), "lap")
                    self.laps.append(both)
                    lap = self.scene.limit("fleece-lap")
                    self._row(Row(self.scene.label("lap", lap=lap), pattern="lap"))
            above = unary_union([other for _, other in lying[number + 1 :]])
            under = shape.boundary.intersection(above.buffer(-1e-6))
            if under.length > 0.1:
                self.sheet.path(self.view.edge(under), "hidden")
                self._row(Row(self.scene.label("hidden"), style="hidden"))
        return seen

    def _lines(self, flat: Flat) -> None:
        """Draw tape, folds and ends that go on."""
        for line in flat.face.tape:
            self.sheet.path(self.view.edge(flat.place(line)), "mask")
            self._row(Row(self.scene.label("mask-line", mask=self.scene.mask()), style="mask"))
        for fold in flat.face.folds:
            line = shapely.linestrings(fold.line)
            self.sheet.path(self.view.edge(flat.place(line)), "fold")
            self._row(Row(self.scene.label("fold"), style="fold"))
        for end in flat.face.joined:
            self.sheet.path(self.view.edge(flat.place(shapely.linestrings(end))), "joined")
            self._row(Row(self.scene.label("joined"), style="joined"))

    def _members(self) -> None:
        """Draw what stands in the roof, hollow where it is hollow."""
        settled = self.scene.answer.settled
        for region in self.scene.layout.regions:
            if not region.members:
                continue
            self.sheet.path(self.view.fill(region.outline), "white")
            shape = region.outline
            for number in region.members:
                shape = shape.difference(inside_of(settled, number))
            self.sheet.hatched(self.view.fill(shape), "steel")
            self._sleeve(region.outline)
            names = dict.fromkeys(settled.members[n].substrate for n in region.members)
            self._row(
                Row(
                    self.scene.label("member", substrate=self.scene.substrates(names)),
                    pattern="steel",
                )
            )

    def _breaker(self) -> None:
        """Draw the bond breaker under the fleece, on the face of a strip."""
        shape = self.scene.layout.breaker
        if shape is None:
            return
        placed = self.panel.flats[0].place(shape)
        self.sheet.path(self.view.edge(placed), "breaker")
        self._block(placed)
        self._row(Row(self.scene.label("breaker"), style="breaker"))

    def _sleeve(self, outline: BaseGeometry) -> None:
        """Show that something hot runs in a sleeve, an open gap round it."""
        if not self.scene.in_a_sleeve:
            return
        inner = affinity.scale(outline, 0.6, 0.6, origin="centroid")
        self.sheet.path(self.view.edge(inner), "sleeve")
        self._block(inner)
        self._row(Row(self.scene.label("sleeve"), style="sleeve"))

    def _plates(self) -> None:
        for shape in _plates(self.scene):
            self.sheet.path(self.view.edge(shape), "plate")
            self._block(shape)
            self._row(Row(self.scene.label("plate"), style="plate"))

    def _block(self, shape: BaseGeometry) -> None:
        """Keep words off a shape's edge."""
        self.labels.lines += list(self.view.parts(shape.boundary))

    def _uprights(self) -> None:
        """Write beside each upright which wraps go up it."""
        fleece = self.scene.layout.fleece
        assert fleece is not None
        wraps = [piece for piece in fleece.pieces if piece.kind == "wrap"]
        outlines = [
            part
            for region in self.scene.layout.regions
            if region.members
            for part in polygons(region.outline)
        ]
        if len(wraps) != len(outlines):
            return
        for wrap, outline in zip(wraps, outlines, strict=True):
            left, low, right, high = outline.bounds
            places = []
            for reach in (16.0, 26.0, 40.0):
                (x1, y1), (x2, y2) = self.view.at(left, high), self.view.at(right, low)
                middle_x, middle_y = (x1 + x2) / 2.0, (y1 + y2) / 2.0 + 5.0
                places += [
                    (x2 + reach, middle_y), (x1 - reach, middle_y),
                    (middle_x, y2 + reach), (middle_x, y1 - reach + 12.0),
                    (x2 + reach, y2 + reach - 4.0), (x1 - reach, y1 - reach + 12.0),
                    (x2 + reach, y1 - reach + 12.0), (x1 - reach, y2 + reach - 4.0),
                ]  # fmt: skip
            clear = self.labels.put(wrap.letter, places, bold=True)
            if not clear:
                self.labels.put(wrap.letter, places, bold=True, over_lines=True)

    def _measures(self) -> None:
        """Dimension the inside of the tape on the roof, and the flange where its text has room."""
        masking = self.scene.layout.masking
        assert masking is not None
        roof = self.panel.flats[0]
        if len(self.scene.layout.regions) > 1 and self.scene.layout.regions[0].turn_deg:
            return
        left, low, right, high = roof.place(roof.face.sheet).bounds
        # counted where the face is one rectangle, else as drawn
        sides = masking.flat[0]
        width, length = (
            side if abs(side.value - drawn) < 0.01 else measured(drawn, "in", "face as drawn")
            for side, drawn in zip(sides, (right - left, high - low), strict=True)
        )
        (x1, y1), (x2, y2) = self.view.at(left, low), self.view.at(right, high)
        self._across(x1, x2, y1 + 14.0, width)
        self._upward(self.view.x0, y1, y2, length)

    def _across(self, x1: float, x2: float, y: float, length: Traced) -> None:
        text = self.scene.text(length, "up")
        self.sheet.measure_across(x1, x2, y)
        middle = max((x1 + x2) / 2.0, 4.0 + text_width(text) / 2.0)
        self.labels.put(text, [(middle, y + 18.0), (middle, y + 36.0)])
        self.low = max(self.low, y + 24.0)

    def _upward(self, x: float, y1: float, y2: float, length: Traced) -> None:
        text = self.scene.text(length, "up")
        line = x - 8.0
        self.sheet.measure_up(line, y1, y2)
        middle: Pair = (line - 4.0 - text_width(text) / 2.0, (y1 + y2) / 2.0 + 0.3 * SIZE)
        self.labels.put(text, [middle])
