"""The section: the faces that one cut meets in a row, with film, fleece and tape on them."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import shapely

from upstand.drawing.chain import Chain, cut, levels, mirrored
from upstand.drawing.ground import BODY, SLEEVE, TAPE, Ground
from upstand.drawing.paper import Paper
from upstand.drawing.pieces import piece_rows
from upstand.drawing.place import Labels
from upstand.drawing.scene import NothingToDraw, Scene
from upstand.drawing.section_sizes import OFF, Sizes, upright
from upstand.drawing.svg import WIDTH, Pair, Row, Sheet, number, polyline
from upstand.drawing.upright import upright_chain, upright_levels
from upstand.layout.model import Piece
from upstand.telling.said import say

FILM = 15.0  # units that one layer of film is drawn thick
TALLEST, MOST = 330.0, 24.0  # units; units to an inch
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
        self.sizes = Sizes(scene, self.labels, self.paper, self.ground)

    def _paper(self) -> Paper:
        points = [point for leg in self.chain.legs for point in (leg.start, leg.end)]
        left, right = min(p[0] for p in points), max(p[0] for p in points)
        low, high = min(p[1] for p in points), max(p[1] for p in points)
        # room for the tape and the body on either side, in inches; for words, in units
        tall, wide = high - low + TAPE + BODY, right - left + TAPE + BODY
        legs = self.chain.legs
        before = OFF + 46.0 if any(upright(leg) for leg in legs[:-1]) else 30.0
        behind = 76.0 if upright(legs[-1]) else 14.0 + 8.0
        if self.scene.sleeve:
            behind += SLEEVE
        scale = min((WIDTH - before - behind) / wide, TALLEST / tall, MOST)
        x0 = before - (left - TAPE) * scale
        raised = any(leg.start[1] > 1e-6 and not upright(leg) for leg in legs)
        above = OFF + 34.0 if raised or not upright(legs[-1]) else 10.0
        return Paper(self.chain, scale, x0, above + (high + TAPE) * scale)

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
        self.sizes.draw()
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
        low = max([self.sizes.low() + 24.0, *(box[3] for box in self.labels.taken)])
        self.sheet.legend(rows, low + 14.0)
