"""Which edges of a face are free: neither in a fold nor where the run goes on."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise

from upstand.layout.model import Line, Point

#: Edges that lie nearer than this are the same edge [in].
SAME = 1e-6
Interval = tuple[float, float]


def without(intervals: Sequence[Interval], taken: Iterable[Interval]) -> list[Interval]:
    """Take intervals out of others."""
    left = list(intervals)
    for first, last in taken:
        cut: list[Interval] = []
        for low, high in left:
            cut += [(low, min(high, first)), (max(low, last), high)]
        left = [(low, high) for low, high in cut if high - low > 1e-7]
    return left


def free_edges(ring: Sequence[Point], held: Sequence[Line]) -> list[list[Point]]:
    """Find what of a closed ring is not held, as rows of points; where nothing is, a closed one."""
    rows: list[list[Point]] = []
    for start, end in pairwise(ring):
        length = math.dist(start, end)
        along = ((end[0] - start[0]) / length, (end[1] - start[1]) / length)
        taken = [span for line in held if (span := _on(start, along, line)) is not None]
        for low, high in without([(0.0, length)], taken):
            first, last = (
                end if at == length else (start[0] + along[0] * at, start[1] + along[1] * at)
                for at in (low, high)
            )
            if rows and rows[-1][-1] == first:
                rows[-1].append(last)
            else:
                rows.append([first, last])
    if len(rows) > 1 and rows[-1][-1] == rows[0][0]:
        rows[0] = rows.pop()[:-1] + rows[0]
    return [row for row in rows if math.fsum(math.dist(*ab) for ab in pairwise(row)) > 10 * SAME]


def _on(start: Point, along: Point, line: Line) -> Interval | None:
    """Where along an edge a line lies on it, if it does."""
    spans = []
    for x, y in line:
        x, y = x - start[0], y - start[1]
        if abs(x * along[1] - y * along[0]) > SAME:
            return None
        spans.append(x * along[0] + y * along[1])
    return min(spans), max(spans)
