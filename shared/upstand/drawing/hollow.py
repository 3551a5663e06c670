"""What is hollow in a member: pipes and tubes have walls, and a sleeve has something in it."""

from __future__ import annotations

from typing import Final

from shapely import affinity
from shapely.geometry import Point, Polygon, box
from shapely.geometry.base import BaseGeometry

from upstand.layout.placed import turned
from upstand.query.defaults import Settled

#: A wall that nobody told is drawn this thin [in], and no wider than a tenth of the member.
THIN_IN: Final = 0.2


def wall_of(settled: Settled, number: int) -> float | None:
    """Return the wall of a pipe or tube [in], as told or drawn thin; None for a solid member."""
    member = settled.members[number]
    sizes = member.dimensions
    if member.section == "pipe":
        across = sizes["od"].value
    elif member.section == "tube":
        across = min(sizes["width"].value, sizes["depth"].value)
    else:
        return None
    told = sizes.get("thickness")
    return told.value if told is not None else min(THIN_IN, across / 10.0)


def inside_of(settled: Settled, number: int) -> BaseGeometry:
    """Return the hollow of a member in the axes of the mask; empty where it is solid."""
    wall = wall_of(settled, number)
    if wall is None:
        return Polygon()
    member = settled.members[number]
    sizes = member.dimensions
    if member.section == "pipe":
        shape: BaseGeometry = Point(0.0, 0.0).buffer(sizes["od"].value / 2.0 - wall, quad_segs=32)
    else:
        x, y = sizes["width"].value / 2.0 - wall, sizes["depth"].value / 2.0 - wall
        shape = box(-x, -y, x, y)
    turn = member.turn.value if member.turn is not None else 0.0
    x, y = (at.value for at in member.at) if member.at is not None else (0.0, 0.0)
    own = turned(shape, turn, (0.0, 0.0))
    placed = affinity.translate(own, x, y)
    return turned(placed, -settled.mask_turn.value, (0.0, 0.0))
