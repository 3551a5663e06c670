"""Where words go: a word is put only where it touches no other and leaves the sheet nowhere."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

import shapely
from shapely.geometry.base import BaseGeometry

from upstand.drawing.svg import SIZE, WIDTH, Pair, Sheet, polyline, text_width
from upstand.drawing.view import polygons

ASCENT, DESCENT = 0.76, 0.24  # of the size of a text
TOUCH, SHORTEST = 3.0, 4.0  # units: how near to its end a leader may meet a line; a leader

Box = tuple[float, float, float, float]


def text_box(x: float, y: float, text: str, bold: bool = False) -> Box:
    """Return the box of a text whose baseline's middle stands at x, y."""
    half = text_width(text, bold=bold) / 2.0
    return (x - half, y - ASCENT * SIZE, x + half, y + DESCENT * SIZE)


def meet(one: Box, other: Box, beside: float = 4.0, above: float = 1.0) -> bool:
    """Whether two boxes come nearer to each other than that, beside and above [units]."""
    return (
        one[0] < other[2] + beside
        and other[0] < one[2] + beside
        and one[1] < other[3] + above
        and other[1] < one[3] + above
    )


@dataclass(slots=True)
class Labels:
    """The words of one drawing, each in a box of its own, off the `lines` that are drawn."""

    sheet: Sheet
    taken: list[Box] = field(default_factory=list)
    boxes: list[BaseGeometry] = field(default_factory=list)
    lines: list[BaseGeometry] = field(default_factory=list)
    leaders: list[BaseGeometry] = field(default_factory=list)

    def free(self, box: Box, over_lines: bool = False) -> bool:
        """Whether a box lies on the sheet and touches no word, and no line either."""
        inside = box[0] >= 2.0 and box[2] <= WIDTH - 2.0 and box[1] >= 2.0
        if not inside or any(meet(box, other) for other in self.taken):
            return False
        lines = self.leaders if over_lines else [*self.leaders, *self.lines]
        return not _meet_any(shapely.box(*box), lines)

    def put(
        self, text: str, places: Iterable[Pair], *, bold: bool = False, over_lines: bool = False
    ) -> bool:
        """Write a text, its baseline's middle at the first place where it is free."""
        for x, y in places:
            box = text_box(x, y, text, bold)
            if self.free(box, over_lines):
                self._take(box)
                self.sheet.text(x, y, text, "middle", halo=True, bold=bold)
                return True
        return False

    def lead(self, text: str, target: Pair, places: Iterable[Pair], *, bold: bool = True) -> bool:
        """Write a text with a leader to a point of what it names, a dot on it.

        The leader crosses no word, no other leader and none of the `lines`, but at its end.
        """
        end = shapely.Point(target).buffer(TOUCH, quad_segs=4)
        for x, y in places:
            box = text_box(x, y, text, bold)
            middle = (x, (box[1] + box[3]) / 2.0)
            if not self.free(box):
                continue
            line = shapely.linestrings([middle, target]).difference(shapely.box(*box))
            if line.length < SHORTEST or self._crosses(line, end):
                continue
            self._take(box)
            self.leaders.append(line)
            self.sheet.text(x, y, text, "middle", halo=True, bold=bold)
            self.sheet.path(polyline(list(line.coords)), "leader")
            self.sheet.dot(target)
            return True
        return False

    def _crosses(self, line: BaseGeometry, end: BaseGeometry) -> bool:
        """Whether a leader crosses a word, another leader, or a line before its end."""
        return (
            _meet_any(line, self.boxes)
            or any(line.distance(other) < TOUCH for other in self.leaders)
            or _meet_any(line.difference(end), self.lines)
        )

    def _take(self, box: Box) -> None:
        self.taken.append(box)
        self.boxes.append(shapely.box(*box))

    def put_inside(
        self, text: str, shape: BaseGeometry, *, bold: bool = True, over_lines: bool = True
    ) -> bool:
        """Write a text within a shape (units of paper), best where it covers no line at all."""
        spots = list(_spots(text, shape))
        if self.put(text, spots, bold=bold):
            return True
        return over_lines and self.put(text, spots, bold=bold, over_lines=True)


def _meet_any(shape: BaseGeometry, others: list[BaseGeometry]) -> bool:
    return bool(others) and bool(shapely.intersects(shape, others).any())


def around(target: Pair, reaches: Iterable[float] = (22.0, 30.0, 40.0, 54.0)) -> Iterator[Pair]:
    """Yield places for a leader's word about a point, the nearest first."""
    for reach in reaches:
        for n in range(16):
            turn = math.pi * (2 * n + 1) / 16.0
            yield (target[0] + reach * math.cos(turn), target[1] + reach * math.sin(turn) + 4.4)


def _spots(text: str, shape: BaseGeometry) -> Iterator[Pair]:
    """Yield places within a shape that hold a text's whole box, the roomiest part first."""
    wide, tall = text_width(text), SIZE * (ASCENT + DESCENT)
    drop = SIZE * (ASCENT - DESCENT) / 2.0
    for polygon in sorted(polygons(shape), key=lambda part: -part.area):
        if polygon.area < wide * tall:
            continue
        left, top, right, low = polygon.bounds
        middle = polygon.representative_point()
        xs = [middle.x, (left + right) / 2.0, *_steps(left + wide / 2.0, right - wide / 2.0)]
        ys = [middle.y, (top + low) / 2.0, *_steps(top + tall / 2.0, low - tall / 2.0)]
        for y in ys:
            for x in xs:
                box = shapely.box(x - wide / 2, y - tall / 2, x + wide / 2, y + tall / 2)
                if polygon.covers(box):
                    yield (x, y + drop)


def _steps(low: float, high: float, most: int = 9) -> list[float]:
    if high <= low:
        return []
    return [low + (high - low) * n / (most - 1) for n in range(most)]
