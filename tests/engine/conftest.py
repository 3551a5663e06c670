"""Layouts drawn anew from their definitions: nothing of `upstand.layout` is used here.

A member is a dict of its sizes in inches with `section`, `at` and `turn` (degrees), a plate one of
`side` and `at`, both in the axes of the mask.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Sequence
from typing import Any, NamedTuple

import pytest
from shapely import affinity
from shapely.geometry import LineString, Point, Polygon, box
from shapely.geometry.base import BaseGeometry
from shapely.geometry.polygon import orient
from shapely.ops import unary_union

#: The limits that the requests stand on: reveal, lap, cover past a plate, corners that share.
REVEAL, LAP, PLATE, SHARE = 0.5, 2.0, 2.0, 1.0


class Drawn(NamedTuple):
    """A group or an island; the target as (left, low, right, high) in the mask's axes, inches."""

    target: tuple[float, float, float, float]
    outline: BaseGeometry
    members: list[int]
    plates: list[int]
    patches: int
    base_cut: float


def outline_of(size: dict[str, Any]) -> Polygon:
    """Draw a section about the middle of its box."""
    kind = size["section"]
    if kind == "pipe":
        return Point(0, 0).buffer(size["od"] / 2, quad_segs=256)
    if kind == "bar":
        x, y = size["width"] / 2, size["depth"] / 2
        return box(-x, -y, x, y)
    if kind == "angle":
        a, b, t = size["leg_a"], size["leg_b"], size["thickness"]
        shape = unary_union([box(0, 0, a, t), box(0, 0, t, b)])
        return affinity.translate(shape, -a / 2, -b / 2)
    d, w = size["depth"], size["flange_width"]
    web, flange = size["web_thickness"], size["flange_thickness"]
    top, low = box(-w / 2, d / 2 - flange, w / 2, d / 2), box(-w / 2, -d / 2, w / 2, flange - d / 2)
    middle = box(-web / 2, -d / 2, web / 2, d / 2)
    if kind == "tee":
        return unary_union([top, middle])
    if kind == "i-section":
        return unary_union([top, low, middle])
    return unary_union([top, low, box(-w / 2, -d / 2, web - w / 2, d / 2)])


def placed(member: dict[str, Any]) -> BaseGeometry:
    """Draw a member where it stands, in the axes of the roof."""
    turn = 0 if member["section"] == "pipe" else member["turn"]
    return affinity.translate(affinity.rotate(outline_of(member), turn, (0, 0)), *member["at"])


def grouped(count: int, together: Callable[[int, int], bool]) -> list[list[int]]:
    """Put together what is together, passed on."""
    of = list(range(count))
    for i in range(count):
        for j in range(i):
            if of[i] != of[j] and together(i, j):
                of = [of[j] if g == of[i] else g for g in of]
    return [[i for i in range(count) if of[i] == g] for g in sorted(set(of))]


def hull(boxes: Sequence[tuple[float, float, float, float]]) -> tuple[float, float, float, float]:
    left, low, right, high = zip(*boxes, strict=True)
    return min(left), min(low), max(right), max(high)


def grown(sides: tuple[float, float, float, float], by: float) -> tuple[float, ...]:
    return sides[0] - by, sides[1] - by, sides[2] + by, sides[3] + by


def overlap(a: tuple[float, ...], b: tuple[float, ...]) -> bool:
    wide = min(a[2], b[2]) - max(a[0], b[0])
    long = min(a[3], b[3]) - max(a[1], b[1])
    return wide > 1e-6 and long > 1e-6


def draw(members: list[dict[str, Any]], plates: list[dict[str, Any]], flange: float) -> list[Drawn]:
    """Group, mask and join, members and covers given in the mask's axes."""
    shapes = [placed(m) for m in members]
    covers = [
        grown((p["at"][0], p["at"][1], p["at"][0], p["at"][1]), p["side"] / 2 + PLATE)
        for p in plates
    ]
    near = 2 * flange + 1e-3  # circles are drawn a hair small
    parts = []
    left_over = set(range(len(plates)))
    for group in grouped(len(shapes), lambda i, j: shapes[i].distance(shapes[j]) <= near):
        touched = [
            n
            for n, c in enumerate(covers)
            if any(box(*c).distance(shapes[i]) <= flange + 1e-3 for i in group)
        ]
        left_over -= set(touched)
        sides = grown(hull([shapes[i].bounds for i in group]), flange)
        parts.append((hull([sides, *(covers[n] for n in touched)]), group, touched))
    parts += [(covers[n], [], [n]) for n in sorted(left_over)]
    while True:
        pair = next(
            (
                (i, j)
                for i in range(len(parts))
                for j in range(i)
                if overlap(grown(parts[i][0], REVEAL), grown(parts[j][0], REVEAL))
            ),
            None,
        )
        if pair is None:
            break
        a, b = parts.pop(pair[0]), parts.pop(pair[1])
        joined = sorted({*a[2], *b[2]})
        parts.append((hull([a[0], b[0]]), sorted(a[1] + b[1]), joined))
    found = []
    for target, inside, touched in parts:
        solid = unary_union([shapes[i] for i in inside]) if inside else Polygon()
        rings = [Polygon(g.exterior) for g in getattr(solid, "geoms", [solid]) if not g.is_empty]
        filled = unary_union(rings) if rings else Polygon()
        cut = base_cut(target, [shapes[i] for i in inside], len(touched))
        found.append(Drawn(target, filled, inside, touched, patches(filled), cut))
    return found


def convex_corners(outline: BaseGeometry) -> list[list[tuple[float, float]]]:
    """Corners that stand out, by upright; the small turns of a drawn circle are none."""
    found = []
    for part in getattr(outline, "geoms", [outline]):
        ring = list(orient(part).exterior.coords)[:-1]
        corners = []
        for i, (x, y) in enumerate(ring):
            (px, py), (nx, ny) = ring[i - 1], ring[(i + 1) % len(ring)]
            turn = math.atan2(ny - y, nx - x) - math.atan2(y - py, x - px)
            turn = math.degrees(math.remainder(turn, 2 * math.pi))
            if turn > 10:
                corners.append((x, y))
        found.append(corners)
    return found


def patches(outline: BaseGeometry) -> int:
    return sum(
        len(grouped(len(c), lambda i, j, c=c: math.dist(c[i], c[j]) < SHARE - 1e-6))
        for c in convex_corners(outline)
    )


def base_cut(
    target: tuple[float, float, float, float], shapes: list[BaseGeometry], plates: int
) -> float:
    """Area of the base rectangles, in in²."""
    left, low, right, high = target
    wide, long = right - left, high - low
    if not shapes:
        return wide * long if plates > 1 else 0.0
    bounds = hull([s.bounds for s in shapes])
    x, y = (bounds[0] + bounds[2]) / 2, (bounds[1] + bounds[3]) / 2
    lines = {
        "x": LineString([(left, y), (right, y)]),
        "y": LineString([(x, low), (x, high)]),
    }
    inner = [s.buffer(-1e-4) for s in shapes]
    cut = {"x": wide * (long + LAP), "y": long * (wide + LAP)}
    crossing = [a for a, line in lines.items() if all(line.intersects(s) for s in inner)]
    if crossing:
        return min(cut[a] for a in crossing)
    y_lines = {round((s.bounds[1] + s.bounds[3]) / 2, 6) for s in shapes}
    x_lines = {round((s.bounds[0] + s.bounds[2]) / 2, 6) for s in shapes}
    return min(wide * (long + LAP * len(y_lines)), long * (wide + LAP * len(x_lines)))


def tangent(members: list[dict[str, Any]]) -> bool:
    """Whether a pipe only just touches or misses: drawn circles can't tell which."""
    shapes = [placed(m) for m in members]
    return any(
        "pipe" in (members[i]["section"], members[j]["section"])
        and a.buffer(0.01).intersects(b)
        and not a.buffer(-0.01).intersects(b.buffer(-0.01))
        for i, a in enumerate(shapes)
        for j, b in enumerate(shapes[:i])
    )


@pytest.fixture(scope="session")
def drawing() -> Callable[..., list[Drawn]]:
    """Draw members and plates: `drawing(members, plates, flange)`."""
    return draw


@pytest.fixture(scope="session")
def just_touching() -> Callable[[list[dict[str, Any]]], bool]:
    """Tell drawings that hang on the last digit of a circle."""
    return tangent


@pytest.fixture(scope="session")
def any_detail() -> Callable[[random.Random], dict[str, Any]]:
    """Make up a question about a detail of any kind, its sizes in eighths of an inch."""
    return _any_detail


SHAPES = ("L3x3x1/4", "W8x31", "HSS4x4x1/4", "Pipe 4 STD", "C6x8.2", "WT5x15")


def _any_detail(chance: random.Random) -> dict[str, Any]:
    def inch(low: float, high: float) -> str:
        return f"{round(chance.uniform(low, high) * 8) / 8} in"

    kind = chance.choice(["post", "pipe", "hot-pipe", "cluster", "support", "wall-base", "corner",
                          "threshold", "curb", "drain", "scupper", "crack", "metal-joint",
                          "tie-in", "patch"])  # fmt: skip
    body: dict[str, Any] = {"detail": kind, "roof": chance.choice(["tpo", "epdm", "sbs-cap"])}
    body |= {"units": chance.choice(["us", "si"]), "lang": chance.choice(["en", "es"])}
    if kind in ("post", "cluster"):
        body["members"] = [
            {
                "designation": chance.choice(SHAPES),
                "substrate": "carbon-steel",
                "at": [f"{14 * n} in", inch(0, 3)],
                "turn": f"{chance.choice([0, 0, 30, 90])} deg",
            }
            for n in range(1 if kind == "post" else chance.randint(2, 4))
        ]
        body["height"] = inch(8, 20)
    elif kind in ("pipe", "hot-pipe"):
        od = inch(0.5 if kind == "pipe" else 4, 14)
        body["members"] = [{"section": "pipe", "od": od, "substrate": "galvanized-steel"}]
    elif kind == "support" and chance.random() < 0.5:
        sleeper = {"section": "bar", "width": inch(12, 60), "depth": inch(3, 8)}
        body["members"] = [{**sleeper, "substrate": "lumber"}]
        body |= {"top": "covered", "height": inch(2, 8)}
    elif kind == "support":
        body["members"] = [{"designation": "HSS4x4x1/4", "substrate": "carbon-steel"}]
        body["plates"] = [{"width": inch(6, 14), "length": inch(6, 14)}]
    elif kind in ("wall-base", "crack", "tie-in"):
        body["length"] = inch(12, 600)
        if kind == "crack":
            body |= {"gap": inch(0, 1), "moves": chance.choice([True, False])}
    elif kind == "corner":
        body |= {"corner": chance.choice(["inside", "outside"]), "joined": chance.choice([0, 1, 2])}
    elif kind == "threshold":
        body |= {"length": inch(24, 96), "riser": inch(1, 7), "sill": inch(2, 9)}
        body |= {"back": chance.choice(["0 in", "0.5 in", "1 in"]), "accepted": True}
    elif kind == "curb":
        body |= {"width": inch(12, 90), "length": inch(12, 150)}
    elif kind == "drain":
        body |= {"bowl": inch(13, 20), "seat": inch(6, 8), "sump": inch(36, 48)}
    elif kind == "scupper":
        body |= {"opening": {"width": inch(4, 24), "height": inch(3, 8)}, "depth": inch(4, 14)}
    elif kind == "metal-joint":
        body |= {"length": inch(6, 30), "joint": chance.choice(["edge", "gutter", "sheet"])}
    else:
        body |= {"width": inch(1, 20), "length": inch(1, 30)}
    return body
