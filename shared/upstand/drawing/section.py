"""The section: the faces that one cut meets in a row, with film, fleece and tape on them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

import shapely

from upstand.drawing.chain import Chain, Leg, cut, levels, mirrored
from upstand.drawing.ground import BODY, SLEEVE, TAPE, Ground
from upstand.drawing.paper import Paper
from upstand.drawing.pieces import piece_rows
from upstand.drawing.place import Labels
from upstand.drawing.scene import NothingToDraw, Scene
from upstand.drawing.svg import WIDTH, Pair, Row, Sheet, number, polyline, text_width
from upstand.drawing.upright import upright_chain, upright_levels
from upstand.drawing.view import lines
from upstand.layout.model import Piece
from upstand.quantity.traced import Traced, measured
from upstand.telling.said import say

FILM = 15.0  # units that one layer of film is drawn thick
TALLEST, MOST = 330.0, 24.0  # units; units to an inch
OFF = 48.0  # units from a face to its dimension line
Spans = list[tuple[Piece, list[tuple[float, float, int]]]]


def draw_section(scene: Scene) -> str:
    """Draw a cut through an answer's layout, to scale, as SVG.

    Raises NothingToDraw where the layout has no geometry.
    """
    layout = scene.layout
    if layout.masking is None or layout.fleece is None or not layout.faces:
        raise NothingToDraw(say("nothing-to-draw"))
    chain = upright_chain(scene.answer.settled, layout)
    if chain is not None:
        spans: Spans = upright_levels(chain, layout)
    else:
        found = cut(layout)
        if found is None:
            raise NothingToDraw(say("no-cut-to-draw"))
        chain = mirrored(found)
        spans = levels(chain, layout.fleece.pieces)
    sheet = Sheet(
        scene.name,
        scene.label("section-title", detail=scene.detail),
        scene.label("section-about", faces=scene.words.list(_names(scene, chain))),
    )
    drawn = _Drawn(scene, sheet, chain, spans)
    drawn.draw()
    return sheet.finished()


def _names(scene: Scene, chain: Chain) -> list[str]:
    return list(dict.fromkeys(scene.part(leg.face.surface) for leg in chain.legs))


class _Drawn:
    """One section being drawn."""

    def __init__(self, scene: Scene, sheet: Sheet, chain: Chain, spans: Spans) -> None:
        self.scene, self.sheet, self.chain, self.spans = scene, sheet, chain, spans
        self.labels = Labels(sheet)
        settled = scene.answer.settled
        resin = settled.resin
        self.mils = {
            name: resin.value(f"layers.{name}").traced("mil") for name in ("base", "top", "bed")
        }
        self.paper = self._paper()
        fleece = settled.fleece.value("thickness").traced("mil").value
        base, top, bed = (self.mils[name].value for name in ("base", "top", "bed"))
        deepest = max((level for _, parts in spans for *_, level in parts), default=0)
        # a short face, such as a lip, must not drown in film
        short = 0.4 * min(leg.length for leg in chain.legs) * self.paper.scale
        most = base + top + fleece + deepest * (fleece + bed)
        self.unit = min(FILM / (base + fleece + top), short / most)  # units of paper to a mil
        self.fleece = fleece * self.unit
        self.base, self.top, self.bed = base * self.unit, top * self.unit, bed * self.unit
        self.rows: list[Row] = []
        self.tape_at: Sequence[Pair] = ()
        self.ground = Ground(scene, sheet, self.paper)

    def _paper(self) -> Paper:
        points = [point for leg in self.chain.legs for point in (leg.start, leg.end)]
        left, right = min(p[0] for p in points), max(p[0] for p in points)
        low, high = min(p[1] for p in points), max(p[1] for p in points)
        # room for the tape and the body on either side, in inches; for words, in units
        tall, wide = high - low + TAPE + BODY, right - left + TAPE + BODY
        legs = self.chain.legs
        before = OFF + 46.0 if any(self._upright(leg) for leg in legs[:-1]) else 30.0
        behind = 76.0 if self._upright(legs[-1]) else 14.0 + 8.0
        if self.scene.sleeve:
            behind += SLEEVE
        scale = min((WIDTH - before - behind) / wide, TALLEST / tall, MOST)
        x0 = before - (left - TAPE) * scale
        raised = any(leg.start[1] > 1e-6 and not self._upright(leg) for leg in legs)
        above = OFF + 34.0 if raised or not self._upright(legs[-1]) else 10.0
        return Paper(self.chain, scale, x0, above + (high + TAPE) * scale)

    def _upright(self, leg: Leg) -> bool:
        return abs(leg.end[0] - leg.start[0]) < 1e-6

    def height_at(self, along: float) -> float:
        """Return how thick the film is drawn at a place [units]."""
        layers = [
            level
            for _, parts in self.spans
            for low, high, level in parts
            if low - 1e-9 <= along <= high + 1e-9
        ]
        if not layers:
            return self.top
        return self.offset(max(layers)) + self.fleece / 2.0 + self.top

    def offset(self, level: int) -> float:
        """Return how far off its face the middle of a piece is drawn [units]."""
        return self.base + level * (self.fleece + self.bed) + self.fleece / 2.0

    def draw(self) -> None:
        """Draw what the film lies on, the film, tape, dimensions, letters, legend."""
        self.rows += self.ground.draw()
        self._film()
        for _, parts in self.spans:
            line: list[Pair] = []
            for low, high, level in parts:
                line += self.paper.run(low, high, self.offset(level))
            self.sheet.path(polyline(line), "fleece")
            self.labels.lines.append(shapely.linestrings(line))
        self._breaker()
        self._tape()
        self._measures()
        self._letters()
        self._seat()
        self._legend()

    def _film(self) -> None:
        ends = sorted(
            {0.0, self.chain.starts[-1], *(e for _, ps in self.spans for p in ps for e in p[:2])}
        )
        line: list[Pair] = []
        for low, high in pairwise(ends):
            line += self.paper.run(low, high, self.height_at((low + high) / 2.0))
        back = [
            self.paper.at(point)
            for leg in reversed(self.chain.legs)
            for point in (leg.end, leg.start)
        ]
        outline = [back[-1], *line, *back]
        self.sheet.path(polyline(outline, True), "white")
        self.sheet.hatched(polyline(outline, True), "resin", "film")

    def _breaker(self) -> None:
        shape = self.scene.layout.breaker
        if shape is None:
            return
        for low, high in self.chain.spans([(leg.face.id, shape) for leg in self.chain.legs]):
            self.sheet.path(polyline(self.paper.run(low, high, 1.5)), "breaker")
            self.rows.append(Row(self.scene.label("breaker"), style="breaker"))

    def _tape(self) -> None:
        for along, way, index in (
            (0.0, -1.0, 0),
            (self.chain.starts[-1], 1.0, len(self.chain.legs) - 1),
        ):
            leg = self.chain.legs[index]
            (x, y), (nx, ny) = self.paper.off(along, 0.0, index), self.paper.normal(leg)
            tx, ty = -ny * way, nx * way
            out = TAPE * self.paper.scale
            points = [(x, y), (x + tx * out, y + ty * out)]
            points += [(px + nx * 4.0, py + ny * 4.0) for px, py in reversed(points)]
            self.sheet.path(polyline(points, True), "tape")
            self.labels.lines.append(shapely.Polygon(points))
            self.tape_at = points

    def _seat(self) -> None:
        """Name the ring's seat, which the tape leaves bare."""
        if "seat" not in self.scene.layout.sizes:
            return
        (x, y), far = self.tape_at[1], self.tape_at[2]
        target = (x + 6.0, y)
        word = self.scene.label("seat")
        places = [(x - 6.0 - up / 3.0, far[1] - up) for up in (24.0, 34.0, 46.0, 60.0)]
        self.labels.lead(word, target, places, bold=False)

    def _lengths(self, index: int) -> Iterator[tuple[float, float, Traced]]:
        """Yield (from, to, length) of the stretches of a leg to dimension, along the chain."""
        leg, start = self.chain.legs[index], self.chain.starts[index]
        line = shapely.linestrings(leg.trace)
        spots = {0.0, leg.length}
        for run in lines(line.intersection(leg.face.zone.buffer(1e-9))):
            spots |= {float(line.project(shapely.Point(at))) for at in run.coords}
        ends = sorted(spots)
        for low, high in pairwise(ends):
            if high - low > 1e-3:
                length = measured(high - low, "in", "as drawn")
                yield (start + low, start + high, length)

    def _measures(self) -> None:
        roof_low = self._roof_low()
        for index, leg in enumerate(self.chain.legs):
            for first, last, length in self._lengths(index):
                text = self.scene.text(length)
                (x1, y1), (x2, y2) = (
                    self.paper.off(first, 0.0, index),
                    self.paper.off(last, 0.0, index),
                )
                if self._upright(leg):
                    self._beside(index, x1, y1, y2, text)
                elif abs(leg.start[1]) < 1e-6:
                    self._under(x1, x2, y1, roof_low, text)
                else:
                    self._over(x1, x2, y1, text)

    def _roof_low(self) -> float:
        lowest = [
            self.paper.at(leg.start)[1] + self.ground.depth(leg) * self.paper.scale
            for leg in self.chain.legs
        ]
        return max(lowest) + 14.0

    def _under(self, x1: float, x2: float, face: float, y: float, text: str) -> None:
        for x in (x1, x2):
            self._thin((x, face + 2.0), (x, y + 4.0))
        self.sheet.measure_across(x1, x2, y)
        middle = (x1 + x2) / 2.0
        room = abs(x2 - x1) > text_width(text)
        spots = [(middle, y + 19.0), (middle, y + 39.0)]
        if not room:
            spots = [(middle - 8.0, y + 19.0), (middle, y + 39.0), (middle - 26.0, y + 39.0)]
        self._write(text, spots)

    def _over(self, x1: float, x2: float, face: float, text: str) -> None:
        y = face - OFF + 8.0
        for x in (x1, x2):
            self._thin((x, face - 24.0), (x, y - 4.0))
        self.sheet.measure_across(x1, x2, y)
        self.labels.lines.append(shapely.linestrings([(x1, y), (x2, y)]))
        middle = (x1 + x2) / 2.0
        self._write(text, [(middle, y - 6.0), (middle, y - 26.0), (middle + 20.0, y - 46.0)])

    def _beside(self, index: int, x: float, y1: float, y2: float, text: str) -> None:
        """Dimension an upright: behind it where nothing else is, else before it."""
        last = index == len(self.chain.legs) - 1
        half = text_width(text) / 2.0
        room = abs(y2 - y1) > 24.0
        middle = (y1 + y2) / 2.0 + 5.6
        if last:
            edge = (
                x
                + self.ground.beside
                + self.ground.depth(self.chain.legs[index]) * self.paper.scale
            )
            line, far = edge + 16.0, edge + 2.0
            spots = [(line + 4.0 + half, middle), (line + 4.0 + half, middle - 16.0)]
        else:
            line, far = x - OFF, x - 24.0
            spots = [(max(line - half - 4.0, half + 3.0), middle)]
            if not room:
                spots.append((max(line - half - 4.0, half + 3.0), middle - 16.0))
        for y in (y1, y2):
            self._thin((line, y), (far, y))
        self.sheet.measure_up(line, y1, y2)
        self._write(text, spots)
        self.labels.lines.append(shapely.linestrings([(line, y1), (line, y2)]))

    def _thin(self, start: Pair, end: Pair) -> None:
        self.sheet.path(polyline([start, end]), "thin")
        self.labels.lines.append(shapely.linestrings([start, end]))

    def _write(self, text: str, spots: Sequence[Pair]) -> None:
        """Write a size, off every line where there is room."""
        if not self.labels.put(text, spots):
            self.labels.put(text, spots, over_lines=True)

    def _letters(self) -> None:
        """Write each piece's letter beside it where nothing lies over it."""
        ends = sorted({e for _, parts in self.spans for part in parts for e in part[:2]})
        told: set[str] = set()
        for piece, parts in self.spans:
            open_parts = [
                (high - low, low, high, level)
                for first, last, level in parts
                for low, high in pairwise(ends)
                if first - 1e-9 <= low
                and high <= last + 1e-9
                and self.height_at((low + high) / 2.0)
                <= self.offset(level) + self.fleece / 2.0 + self.top + 1e-6
            ]
            for _, low, high, level in sorted(open_parts, reverse=True):
                at = self.offset(level)
                if any(self._letter(piece.letter, low, high, at, n) for n in range(3)):
                    told.add(piece.letter)
                    break
        for piece, parts in self.spans:
            if piece.letter in told:
                continue
            # wholly under others: in brackets, its leader ends on the film over it
            for low, high, _ in sorted(parts, key=lambda part: part[0] - part[1]):
                at = self.height_at((low + high) / 2.0)
                if any(self._letter(f"({piece.letter})", low, high, at, n) for n in range(3)):
                    under = Row(self.scene.label("under"), mark="(…)")
                    self.rows += [under] if under not in self.rows else []
                    break

    def _letter(self, letter: str, low: float, high: float, off: float, steep: int) -> bool:
        """Lead straight off the face to a letter, else slanting one way or the other."""
        for away in (18.0, 26.0, 36.0, 48.0):
            for share in (0.5, 0.3, 0.7, 0.15, 0.85):
                along = low + (high - low) * share
                target = self.paper.off(along, off)
                x, y = self.paper.off(along, self.height_at(along) + away)
                tx, ty = self.paper.tangent(self.chain.legs[self.paper.leg_at(along)])
                slant = (0.0, 0.6, -0.6)[steep] * away
                if self.labels.lead(letter, target, [(x + tx * slant, y + ty * slant + 4.4)]):
                    return True
        return False

    def _legend(self) -> None:
        say, layout = self.scene.label, self.scene.layout
        rows = [
            Row(
                say(
                    "resin",
                    base=self.scene.text(self.mils["base"]),
                    top=self.scene.text(self.mils["top"]),
                ),
                pattern="resin",
            ),
            Row(say("fleece"), style="fleece"),
            Row(say("tape"), style="tape-line"),
            *self.rows,
        ]
        for leg in self.chain.legs:
            for id in self.ground.surfaces(leg):
                row = Row(self.scene.surface(id), pattern=self.ground.hatch(id))
                if row not in rows:
                    rows.append(row)
        assert layout.fleece is not None
        shown = {piece.id for piece, _ in self.spans}
        rows += piece_rows(self.scene, [p for p in layout.fleece.pieces if p.id in shown])
        film = (self.mils["base"].value + self.mils["top"].value) / 1000.0 * self.paper.scale
        times = (self.base + self.top) / film
        rows.append(Row(say("film-scale", times=number(float(int(times + 0.5))))))
        low = max([self._roof_low() + 24.0, *(box[3] for box in self.labels.taken)])
        self.sheet.legend(rows, low + 14.0)
