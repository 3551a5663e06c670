"""One panel of a plan: faces laid flat with the pieces on them, tape, plates, letters."""

from __future__ import annotations

import math

import shapely
from shapely import affinity
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from upstand.drawing.hollow import inside_of
from upstand.drawing.net import Flat, Panel
from upstand.drawing.place import Labels, around
from upstand.drawing.scene import Scene
from upstand.drawing.svg import LINE, SIZE, Pair, Row, Sheet, text_width, wrap
from upstand.drawing.view import View, polygons
from upstand.layout.model import Piece
from upstand.layout.placed import place_members
from upstand.layout.uprights import placed_corners
from upstand.quantity.traced import Traced, measured
from upstand.sections.model import group_near


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
        self.told = told
        self.lying: list[tuple[Piece, BaseGeometry, BaseGeometry]] = []
        self.laps: list[BaseGeometry] = []
        self.low = view.y0 + view.height

    def draw(self, first: bool) -> None:
        """Draw the faces with all that lies on them, then the words."""
        visible: list[tuple[Piece, BaseGeometry, BaseGeometry]] = []
        for flat in self.panel.flats:
            visible += self._pieces(flat)
        self._breaker()
        for flat in self.panel.flats:
            self._marked(flat)
        if first:
            self._members()
            self._plates()
        for flat in self.panel.flats:
            self._lines(flat)
        for mark in self.view.break_marks():
            self.sheet.path(mark, "break")
        if first:
            self._measures()
            self._uprights()
        self._letters(visible)
        for flat in self.panel.flats:
            self._name(flat)
        self.lying = visible

    def _letters(self, lying: list[tuple[Piece, BaseGeometry, BaseGeometry]]) -> None:
        """Write each piece's letter where it is seen, the smallest first.

        Pieces that lie on one another exactly share a text. One that has no room in its piece
        stands across its edges, or beside it with a leader.
        """
        alike = self._alike(lying)
        by_size = sorted(
            ((alike.get(piece.letter, piece.letter), seen) for piece, seen, _ in lying),
            key=lambda one: one[1].area,
        )
        for over_lines in (False, True):
            for letter, seen in by_size:
                if over_lines and letter in self.told:
                    continue
                for part in self._roomiest(seen):
                    if self.labels.put_inside(letter, part, over_lines=over_lines):
                        self.told.add(letter)
        for write in (self._lead, self._across_edges):
            for letter, seen in by_size:
                if letter not in self.told and write(letter, seen):
                    self.told.add(letter)

    def draw_hidden(self) -> None:
        """Write in brackets the letters of what no panel shows, for it lies under another."""
        alike = self._alike(self.lying)
        hidden: dict[str, list[BaseGeometry]] = {}
        for piece, _, whole in self.lying:
            letter = alike.get(piece.letter, piece.letter)
            if letter not in self.told and not whole.is_empty:
                hidden.setdefault(letter, []).append(whole)
        for letter, shapes in hidden.items():
            whole, name = unary_union(shapes), f"({letter})"
            if any(self.labels.put_inside(name, part) for part in self._roomiest(whole)) or (
                self._lead(name, whole) or self._across_edges(name, whole)
            ):
                self.told.add(letter)
                self._row(Row(self.scene.label("under"), mark="(…)"))

    @staticmethod
    def _alike(lying: list[tuple[Piece, BaseGeometry, BaseGeometry]]) -> dict[str, str]:
        """Return the text that pieces which lie on one another exactly share, by their letters."""
        found: dict[str, str] = {}
        for n, (piece, _, whole) in enumerate(lying):
            same = [piece.letter]
            for other, _, shape in lying[n + 1 :]:
                if other.kind == piece.kind and whole.equals_exact(shape, 1e-6):
                    same.append(other.letter)
            if len(same) > 1:
                found |= {letter: "\u00a0".join(same) for letter in same if letter not in found}
        return found

    def _lead(self, text: str, shape: BaseGeometry) -> bool:
        """Write a text beside what it names, with a leader to its edge."""
        for part in self._roomiest(shape):
            edge = part.exterior
            for n in range(8):
                target = edge.interpolate((2 * n + 1) / 16.0, normalized=True)
                at = (target.x, target.y)
                if self.labels.lead(text, at, around(at, (24.0, 38.0))):
                    return True
        return False

    def _across_edges(self, text: str, shape: BaseGeometry) -> bool:
        """Write a text over a part that is narrower than it."""
        for part in self._roomiest(shape):
            left, top, right, low = part.bounds
            x = (left + right) / 2.0
            spots = [(x, top + (low - top) * n / 8.0 + 5.0) for n in (4, 3, 5, 2, 6, 1, 7)]
            if self.labels.put(text, spots, bold=True, over_lines=True):
                return True
        return False

    def _name(self, flat: Flat) -> None:
        """Name a face that is a part of the detail, where there is room for its name."""
        free = flat.bare.difference(unary_union(self.laps))
        if not flat.face.surface:
            for id, shape in self.scene.layout.shared:
                for part in self._roomiest(flat.place(shape).intersection(free)):
                    self.labels.put_inside(self.scene.part(id), part, bold=False, over_lines=False)
            return
        for part in self._roomiest(free):
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
        for n, (piece, shape) in enumerate(lying):
            above = unary_union([other for _, other in lying[n + 1 :]])
            self.sheet.path(self.view.fill(shape), "white")
            self.sheet.path(self.view.edge(shape), "piece")
            if piece.kind == "patch" and not shape.is_empty:
                self.sheet.hatched(self.view.fill(shape), "patch")
                self._row(Row(self.scene.label("kind-patch"), pattern="patch"))
            self._block(shape)
            seen.append((piece, shape.difference(above), shape))
        for n, (piece, shape) in enumerate(lying):
            for other, upper in lying[n + 1 :]:
                both = shape.intersection(upper)
                if other.kind == piece.kind != "patch" and both.area > 1e-6:
                    self.sheet.hatched(self.view.fill(both), "lap")
                    self.laps.append(both)
                    lap = self.scene.limit("fleece-lap")
                    self._row(Row(self.scene.label("lap", lap=lap), pattern="lap"))
            above = unary_union([other for _, other in lying[n + 1 :]])
            under = shape.boundary.intersection(above.buffer(-1e-6))
            if under.length > 0.1:
                self.sheet.path(self.view.edge(under), "hidden")
                self._row(Row(self.scene.label("hidden"), style="hidden"))
            if piece.kind == "sill" and flat.face.surface == "jamb" and not shape.is_empty:
                self.sheet.hatched(self.view.fill(shape), "dam", "hidden")
                self._row(Row(self.scene.label("dam"), pattern="dam"))
        return seen

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
                for part in self._roomiest(seat):
                    self._in_lines(self.scene.label("seat"), part)
            else:
                mask = self.scene.label("mask-line", mask=self.scene.mask())
                self._row(Row(mask, style="mask"))
        for fold in flat.face.folds:
            line = flat.place(shapely.linestrings(fold.line))
            self.sheet.path(self.view.edge(line), "fold")
            self.labels.lines += list(self.view.parts(line))
            self._row(Row(self.scene.label("fold"), style="fold"))
        for end in flat.face.joined:
            line = flat.place(shapely.linestrings(end))
            self.sheet.path(self.view.edge(line), "joined")
            self.labels.lines += list(self.view.parts(line))
            self._row(Row(self.scene.label("joined"), style="joined"))

    def _in_lines(self, text: str, part: Polygon) -> None:
        """Write a text in the middle of a shape, in as many lines as it takes."""
        left, _, right, _ = part.bounds
        middle = part.centroid
        rows = wrap(text, 0.8 * (right - left))
        for n, row in enumerate(rows):
            y = middle.y + (n - (len(rows) - 1) / 2.0) * LINE + 5.0
            self.labels.put(row, [(middle.x, y)])

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
            names = dict.fromkeys(settled.members[n].substrate for n in region.members)
            hatch = self.scene.hatch(next(iter(names)))
            self.sheet.hatched(self.view.fill(shape), hatch)
            self._block(region.outline)
            self._sleeve(region.outline)
            self._row(
                Row(
                    self.scene.label("member", substrate=self.scene.substrates(names)),
                    pattern=hatch,
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

    def _sleeve(self, outline: BaseGeometry) -> None:
        """Show that something hot runs in a sleeve, an open gap round it."""
        if not self.scene.sleeve:
            return
        inner = affinity.scale(outline, 0.6, 0.6, origin="centroid")
        self.sheet.path(self.view.edge(inner), "sleeve")
        self._block(inner)
        self._row(Row(self.scene.label(f"sleeve-{self.scene.sleeve}"), style="sleeve"))

    def _plates(self) -> None:
        for plate in self.scene.plates:
            shape = self.panel.flats[0].place(plate)
            self.sheet.path(self.view.edge(shape), "plate")
            self._block(shape)
            self._row(Row(self.scene.label("plate"), style="plate"))

    def _block(self, shape: BaseGeometry) -> None:
        """Keep words off a shape's edge."""
        self.labels.lines += list(self.view.parts(shape.boundary))

    def _uprights(self) -> None:
        """Lead from each upright to the letters of its wraps, and from a corner to its patch."""
        fleece = self.scene.layout.fleece
        assert fleece is not None
        wraps = [piece for piece in fleece.pieces if piece.kind == "wrap"]
        outlines = [
            part
            for region in self.scene.layout.regions
            if region.members
            for part in polygons(region.outline)
        ]
        if len(wraps) == len(outlines):
            for wrap, outline in zip(wraps, outlines, strict=True):
                self._on_edge(wrap.letter, outline)
        elif wraps and outlines:  # cut in several, round one upright after the other
            letters = wraps[0].letter, wraps[-1].letter
            self._on_edge("–".join(letters), outlines[0])
        for piece in fleece.pieces:
            if piece.kind == "patch" and not piece.lies:
                self._corners(piece.letter)
            elif piece.kind == "top" and outlines:
                inside = next(self.view.parts(outlines[min(piece.number, len(outlines)) - 1]))
                self.labels.put_inside(piece.letter, inside)

    def _on_edge(self, text: str, outline: BaseGeometry) -> None:
        """Write a text beside an upright, with a leader to its edge."""
        for part in self.view.parts(outline):
            edge = part.boundary
            middle = part.centroid
            for n in (1, 9, 5, 13, 3, 7, 11, 15, 2, 4, 6, 8, 10, 12, 14, 0):
                target = edge.interpolate(n / 16.0, normalized=True)
                way = math.atan2(target.y - middle.y, target.x - middle.x)
                places = [
                    (target.x + far * math.cos(turn), target.y + far * math.sin(turn) + 4.4)
                    for far in (20.0, 26.0, 34.0)
                    for turn in (way, way + 0.5, way - 0.5)
                ]
                if self.labels.lead(text, (target.x, target.y), places):
                    return

    def _corners(self, letter: str) -> None:
        """Dot each corner that has a patch, and lead from one to its letter."""
        layout, settled = self.scene.layout, self.scene.answer.settled
        members = place_members(settled.members, settled.mask_turn.value)
        share = layout.parameters["corner-sharing"].value
        found: list[Pair] = []
        for region in layout.regions:
            inside = region.outline.buffer(-0.05)
            points = [
                point
                for number in region.members
                for point in placed_corners(members[number])
                if not inside.covers(shapely.Point(point))
            ]
            found += [self.view.at(*group[0]) for group in group_near(points, share)]
        for at in found:
            self.sheet.dot(at, 3.5)
        self._row(Row(self.scene.label("kind-patch"), mark="•"))
        if not any(self.labels.lead(letter, at, around(at)) for at in found):
            self.labels.put(letter, [place for at in found for place in around(at)], bold=True)

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
