"""One panel of a plan: faces laid flat with the pieces on them, tape, plates, letters."""

from __future__ import annotations

from collections.abc import Sequence

import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from upstand.drawing.letters import Letters, Lying, roomiest
from upstand.drawing.net import Flat, Panel
from upstand.drawing.place import Labels
from upstand.drawing.scene import Scene
from upstand.drawing.standing import Standing
from upstand.drawing.svg import SIZE, Pair, Row, Sheet, text_width
from upstand.drawing.view import View, polygons
from upstand.layout.model import Piece
from upstand.layout.placed import apart
from upstand.quantity.traced import Traced, measured


class Drawn:
    """One panel being drawn; `rows` are what its lines mean, `low` how far down it goes."""

    def __init__(
        self,
        scene: Scene,
        sheet: Sheet,
        labels: Labels,
        panel: Panel,
        view: View,
        told: set[str],
    ) -> None:
        """Keep what it is drawn from; `told` are the letters that stand on the plan already."""
        self.scene, self.sheet, self.labels = scene, sheet, labels
        self.panel, self.view = panel, view
        self.rows: list[Row] = []
        self.letters = Letters(scene, labels, view, told)
        self.lying: Lying = []
        self.laps: list[BaseGeometry] = []
        self.low = view.y0 + view.height

    def draw(self, first: bool) -> None:
        """Draw the faces with all that lies on them, then the words."""
        visible: Lying = []
        for flat in self.panel.flats:
            visible += self._pieces(flat)
        self._breaker()
        for flat in self.panel.flats:
            self._marked(flat)
        standing = Standing(self.scene, self.sheet, self.labels, self.view)
        if first:
            for row in (*standing.slit(), *standing.draw()):
                self._row(row)
            self._plates()
        for flat in self.panel.flats:
            self._lines(flat)
        for mark in self.view.break_marks():
            self.sheet.path(mark, "break")
        if first:
            self._measures()
            for row in standing.write():
                self._row(row)
        self.letters.write(visible)
        for flat in self.panel.flats:
            self.letters.name(flat, self.laps)
        self.lying = visible

    def draw_hidden(self) -> None:
        """Write in brackets the letters of what no panel shows."""
        if self.letters.write_hidden(self.lying):
            self._row(Row(self.scene.label("under"), mark="(…)"))

    def _row(self, row: Row) -> None:
        if row not in self.rows:
            self.rows.append(row)

    def _pieces(self, flat: Flat) -> Lying:
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
        over = [self._over(lying, n) for n in range(len(lying))]
        seen = []
        for (piece, shape), later in zip(lying, over, strict=True):
            above = unary_union([other for _, other in later])
            self.sheet.path(self.view.fill(shape), "white")
            self.sheet.path(self.view.edge(shape), "piece")
            if piece.kind == "patch" and not shape.is_empty:
                self.sheet.hatched(self.view.fill(shape), "patch")
                self._row(Row(self.scene.label("kind-patch"), pattern="patch"))
            self._block(shape)
            seen.append((piece, shape.difference(above), shape))
        for (piece, shape), later in zip(lying, over, strict=True):
            for other, upper in later:
                both = shape.intersection(upper)
                if other.kind == piece.kind != "patch" and both.area > 1e-6:
                    self.sheet.hatched(self.view.fill(both), "lap")
                    self.laps.append(both)
                    lap = self.scene.limit("fleece-lap")
                    self._row(Row(self.scene.label("lap", lap=lap), pattern="lap"))
            above = unary_union([other for _, other in later])
            edges = unary_union([solid.boundary for solid in polygons(shape)])
            under = edges.intersection(above.buffer(-1e-6))
            if under.length > 0.1:
                self.sheet.path(self.view.edge(under), "hidden")
                self._row(Row(self.scene.label("hidden"), style="hidden"))
            if piece.kind == "sill" and flat.face.surface == "jamb" and not shape.is_empty:
                self.sheet.hatched(self.view.fill(shape), "dam", "hidden")
                self._row(Row(self.scene.label("dam"), pattern="dam"))
        return seen

    @staticmethod
    def _over(
        lying: Sequence[tuple[Piece, BaseGeometry]], number: int
    ) -> list[tuple[Piece, BaseGeometry]]:
        """Return what is laid later than a piece and may lie on it."""
        own = lying[number][1]
        if own.is_empty:
            return []
        return [
            (piece, shape)
            for piece, shape in lying[number + 1 :]
            if not shape.is_empty and not apart(own.bounds, shape.bounds)
        ]

    def _lines(self, flat: Flat) -> None:
        """Draw tape, folds and ends that go on."""
        ring = "seat" in self.scene.layout.sizes and flat.face.surface == "bowl"
        for line in flat.face.tape:
            placed = flat.place(line)
            self.sheet.path(self.view.edge(placed), "mask")
            self.labels.lines += list(self.view.parts(placed))
            if ring:
                self._row(Row(self.scene.label("seat-row"), style="mask"))
                seat = Polygon(placed.coords).buffer(-1e-6)
                for part in roomiest(self.view, seat):
                    self.letters.in_lines(self.scene.label("seat"), part)
            else:
                mask = self.scene.label("mask-line", mask=self.scene.mask())
                self._row(Row(mask, style="mask"))
        for fold in flat.face.folds:
            line = flat.place(shapely.linestrings(fold.line))
            self.sheet.path(self.view.edge(line), "crease")
            self.labels.lines += list(self.view.parts(line))
            self._row(Row(self.scene.label("fold"), style="crease"))
        for end in flat.face.joined:
            line = flat.place(shapely.linestrings(end))
            self.sheet.path(self.view.edge(line), "joined")
            self.labels.lines += list(self.view.parts(line))
            self._row(Row(self.scene.label("joined"), style="joined"))

    def _breaker(self) -> None:
        """Draw the bond breaker under the fleece, on the face of a strip."""
        shape = self.scene.layout.breaker
        if shape is None:
            return
        placed = self.panel.flats[0].place(shape)
        self.sheet.path(self.view.edge(placed), "breaker")
        self._block(placed)
        self._row(Row(self.scene.label("breaker"), style="breaker"))

    def _marked(self, flat: Flat) -> None:
        """Draw what the fleece goes over, and where one surface ends and another begins."""
        layout = self.scene.layout
        if layout.marked is not None and layout.marked.face == flat.face.id:
            shape = flat.place(layout.marked.shape)
            self.sheet.path(self.view.edge(shape), "under")
            if shape.area:
                self._block(shape)
            else:
                self.labels.lines += list(self.view.parts(shape))
            self._row(Row(self.scene.label(f"marked-{layout.marked.kind}"), style="under"))

    def _plates(self) -> None:
        for plate in self.scene.plates:
            shape = self.panel.flats[0].place(plate)
            self.sheet.path(self.view.edge(shape), "plate")
            self._block(shape)
            self._row(Row(self.scene.label("plate"), style="plate"))

    def _block(self, shape: BaseGeometry) -> None:
        """Keep words off a shape's edge."""
        for solid in polygons(shape):  # a hair of a line may be left beside them
            self.labels.lines += list(self.view.parts(solid.boundary))

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
        self.labels.lines.append(shapely.linestrings([(x1, y), (x2, y)]))
        self.low = max(self.low, y + 24.0)

    def _upward(self, x: float, y1: float, y2: float, length: Traced) -> None:
        text = self.scene.text(length, "up")
        line = x - 8.0
        self.sheet.measure_up(line, y1, y2)
        middle: Pair = (line - 4.0 - text_width(text) / 2.0, (y1 + y2) / 2.0 + 0.3 * SIZE)
        self.labels.put(text, [middle])
        self.labels.lines.append(shapely.linestrings([(line, y1), (line, y2)]))
