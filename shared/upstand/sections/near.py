"""Which of many shapes lie near one another, and the groups that this makes of them."""

from __future__ import annotations

from collections.abc import Sequence

import shapely
from shapely import STRtree
from shapely.geometry.base import BaseGeometry


def near_pairs(shapes: Sequence[BaseGeometry], within: float = 0.0) -> list[tuple[int, int]]:
    """Find the pairs at most `within` apart, each once, in order."""
    if len(shapes) < 2:
        return []
    found = STRtree(shapes).query(shapes, predicate="dwithin", distance=within)
    return sorted((i, j) for i, j in found.T.tolist() if i < j)


def near_groups(shapes: Sequence[BaseGeometry], within: float = 0.0) -> list[list[int]]:
    """Group shapes at most `within` apart, passed on; groups and what is in them keep their order.

    >>> near_groups([shapely.Point(x, 0) for x in (0, 9, 3, 2)], 2.0)
    [[0, 2, 3], [1]]
    """
    if len(shapes) < 2:
        return [[index] for index in range(len(shapes))]
    group_of = list(range(len(shapes)))

    def first(index: int) -> int:
        while group_of[index] != index:
            group_of[index] = index = group_of[group_of[index]]
        return index

    left, low, right, high = shapely.bounds(shapes).T
    around = shapely.box(left - within, low - within, right + within, high + within)
    for i, j in STRtree(shapes).query(around).T.tolist():
        # what is in one group already need not be measured
        if i >= j or (a := first(i)) == (b := first(j)):
            continue
        if shapes[i].distance(shapes[j]) <= within:
            group_of[max(a, b)] = min(a, b)
    groups: dict[int, list[int]] = {}
    for index in range(len(shapes)):
        groups.setdefault(first(index), []).append(index)
    return list(groups.values())
