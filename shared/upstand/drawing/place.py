"""Where words go: a word is put only where it touches no other and leaves the sheet nowhere."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

import shapely
from shapely.geometry.base import BaseGeometry

from upstand.drawing.svg import SIZE, WIDTH, Pair, Sheet, text_width
from upstand.drawing.view import polygons

ASCENT, DESCENT = 0.76, 0.24  # of the size of a text

Box = tuple[float, float, float, float]


def text_box(x: float, y: float, text: str, size: float = SIZE) -> Box:
    """Return the box of a text whose baseline's middle stands at x, y."""
    half = text_width(text, size) / 2.0
    return (x - half, y - ASCENT * size, x + half, y + DESCENT * size)


def meet(one: Box, other: Box, apart: float = 1.0) -> bool:
    """Whether two boxes come nearer to each other than `apart` units."""
    return (
        one[0] < other[2] + apart
        and other[0] < one[2] + apart
        and one[1] < other[3] + apart
        and other[1] < one[3] + apart
    )


@dataclass(slots=True)
class Labels:
    """The words of one drawing, each in a box of its own, off the `lines` that are drawn."""

    sheet: Sheet
    taken: list[Box] = field(default_factory=list)
    lines: list[BaseGeometry] = field(default_factory=list)

    def free(self, box: Box, over_lines: bool = False) -> bool:
        """Whether a box lies on the sheet and touches no word, and no line either."""
        inside = box[0] >= 2.0 and box[2] <= WIDTH - 2.0 and box[1] >= 2.0
        if not inside or any(meet(box, other) for other in self.taken):
            return False
        return over_lines or not any(shapely.box(*box).intersects(line) for line in self.lines)

    def keep(self, box: Box) -> None:
        """Keep a box free of words that come later."""
        self.taken.append(box)

    def put(
        self, text: str, places: Iterable[Pair], *, bold: bool = False, over_lines: bool = False
    ) -> bool:
        """Write a text, its baseline's middle at the first place where it is free."""
        for x, y in places:
            box = text_box(x, y, text)
            if self.free(box, over_lines):
                self.taken.append(box)
                self.sheet.text(x, y, text, "middle", halo=True, bold=bold)
                return True
        return False

    def put_inside(
        self, text: str, shape: BaseGeometry, *, bold: bool = True, over_lines: bool = True
    ) -> bool:
        """Write a text within a shape (units of paper), best where it covers no line at all."""
        spots = list(_spots(text, shape))
        if self.put(text, spots, bold=bold):
            return True
        return over_lines and self.put(text, spots, bold=bold, over_lines=True)


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
