"""Which of many shapes lie near one another, and the groups that this makes of them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from shapely import STRtree
from shapely.geometry.base import BaseGeometry


def near_pairs(shapes: Sequence[BaseGeometry], within: float = 0.0) -> list[tuple[int, int]]:
    """Find the pairs at most `within` apart, each once, in order."""
    if len(shapes) < 2:
        return []
    found = STRtree(shapes).query(shapes, predicate="dwithin", distance=within)
    return sorted((i, j) for i, j in found.T.tolist() if i < j)


def connected(count: int, pairs: Iterable[tuple[int, int]]) -> list[list[int]]:
    """Group what pairs join, passed on; groups and what is in them keep their order.

    >>> connected(4, [(0, 3), (1, 3)])
    [[0, 1, 3], [2]]
    """
    group_of = list(range(count))

    def first(index: int) -> int:
        while group_of[index] != index:
            group_of[index] = index = group_of[group_of[index]]
        return index

    for pair in pairs:
        low, high = sorted(map(first, pair))
        group_of[high] = low
    groups: dict[int, list[int]] = {}
    for index in range(count):
        groups.setdefault(first(index), []).append(index)
    return list(groups.values())
