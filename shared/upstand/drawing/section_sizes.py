"""The sizes in a section: under the roof, over a raised face, beside an upright one."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

import shapely

from upstand.drawing.chain import Leg
from upstand.drawing.ground import Ground
from upstand.drawing.paper import Paper
from upstand.drawing.place import Labels
from upstand.drawing.scene import Scene
from upstand.drawing.svg import Pair, polyline, text_width
from upstand.drawing.view import lines
from upstand.quantity.traced import Traced, measured

OFF = 48.0  # units from a face to its dimension line


def upright(leg: Leg) -> bool:
    """Whether a leg stands."""
    return abs(leg.end[0] - leg.start[0]) < 1e-6


class Sizes:
    """Writes the sizes of one section."""

    def __init__(self, scene: Scene, labels: Labels, paper: Paper, ground: Ground) -> None:
        """Keep what is written on."""
        self.scene, self.labels, self.sheet = scene, labels, labels.sheet
        self.paper, self.chain, self.ground = paper, paper.chain, ground

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

    def draw(self) -> None:
        """Write the sizes of every leg: under the roof, over what is raised, beside uprights."""
        roof_low = self.low()
        for index, leg in enumerate(self.chain.legs):
            for first, last, length in self._lengths(index):
                text = self.scene.text(length)
                (x1, y1), (x2, y2) = (
                    self.paper.off(first, 0.0, index),
                    self.paper.off(last, 0.0, index),
                )
                if upright(leg):
                    self._beside(index, x1, y1, y2, text)
                elif abs(leg.start[1]) < 1e-6:
                    self._under(x1, x2, y1, roof_low, text)
                else:
                    self._over(x1, x2, y1, text)

    def low(self) -> float:
        """Return how far down the line under the roof lies [units]."""
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
