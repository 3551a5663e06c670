"""An independent proof: the layout found again from its definitions, with shapes drawn here.

Nothing of `upstand.layout` is used: outlines are drawn from the dimensions, grouped, masked and split by
the definitions, and what the engine counts by formula is measured off the drawing. Then its pieces
of fleece are laid on that drawing and looked at: nothing bare, every joint lapped, none near the tape.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import Any, NamedTuple

import pytest
from hypothesis import HealthCheck, assume, example, given, settings
from hypothesis import strategies as st
from shapely import affinity
from shapely.geometry import LineString, Point, Polygon, box
from shapely.geometry.base import BaseGeometry
from shapely.geometry.polygon import orient
from shapely.ops import unary_union
from upstand.answer import Answer
from upstand.query import QueryFaults

H, R, LAP, TURN_UP, PLATE, PATCH, SHARE, TO_TAPE = 8.0, 0.5, 2.0, 0.25, 2.0, 4.0, 1.0, 0.25
ROLL_WIDTH, ROLL_LENGTH = 40.0, 600.0


class Drawn(NamedTuple):
    """A group or an island: rectangles as (left, low, right, high) in the mask's axes."""

    target: tuple[float, float, float, float]
    outline: BaseGeometry
    members: list[int]
    plates: list[int]


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
                if overlap(grown(parts[i][0], R), grown(parts[j][0], R))
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
        found.append(Drawn(target, unary_union(rings) if rings else Polygon(), inside, touched))
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


def base_cut(drawn: Drawn, members: list[dict[str, Any]]) -> float:
    """Area of the base rectangles, in in²."""
    left, low, right, high = drawn.target
    wide, long = right - left, high - low
    if not drawn.members:
        return wide * long if len(drawn.plates) > 1 else 0.0
    shapes = [placed(members[i]) for i in drawn.members]
    bounds = hull([s.bounds for s in shapes])
    lines = {
        "x": LineString(
            [(left, (bounds[1] + bounds[3]) / 2), (right, (bounds[1] + bounds[3]) / 2)]
        ),
        "y": LineString([((bounds[0] + bounds[2]) / 2, low), ((bounds[0] + bounds[2]) / 2, high)]),
    }
    inner = [s.buffer(-1e-4) for s in shapes]
    cut = {"x": wide * (long + LAP), "y": long * (wide + LAP)}
    crossing = [a for a, line in lines.items() if all(line.intersects(s) for s in inner)]
    if crossing:
        return min(cut[a] for a in crossing)
    y_lines = {round((s.bounds[1] + s.bounds[3]) / 2, 6) for s in shapes}
    x_lines = {round((s.bounds[0] + s.bounds[2]) / 2, 6) for s in shapes}
    return min(wide * (long + LAP * len(y_lines)), long * (wide + LAP * len(x_lines)))


# What is asked, in eighths of an inch, so that every sum is exact.
def eighths(low: float, high: float) -> st.SearchStrategy[float]:
    return st.integers(round(low * 8), round(high * 8)).map(lambda n: n / 8)


def section() -> st.SearchStrategy[dict[str, Any]]:
    wall = st.sampled_from([0.25, 0.375, 0.5])
    rolled = {
        "depth": eighths(4, 10),
        "flange_width": eighths(3, 8),
        "web_thickness": wall,
        "flange_thickness": wall,
    }
    return st.one_of(
        st.fixed_dictionaries(
            {"section": st.just("bar"), "width": eighths(1, 9), "depth": eighths(1, 9)}
        ),
        st.fixed_dictionaries(
            {
                "section": st.just("angle"),
                "leg_a": eighths(2, 8),
                "leg_b": eighths(2, 8),
                "thickness": wall,
            }
        ),
        st.fixed_dictionaries(
            {"section": st.sampled_from(["tee", "i-section", "channel"]), **rolled}
        ),
        st.fixed_dictionaries({"section": st.just("pipe"), "od": eighths(1, 12)}),
    )


def members_of(
    most: int, turns: Sequence[int] = (0, 90)
) -> st.SearchStrategy[list[dict[str, Any]]]:
    standing = st.tuples(
        section(), eighths(-20, 20), eighths(-20, 20), st.sampled_from(list(turns))
    ).map(lambda row: {**row[0], "at": (row[1], row[2]), "turn": row[3]})
    return st.lists(standing, min_size=1, max_size=most)


def plates_of(most: int) -> st.SearchStrategy[list[dict[str, Any]]]:
    lying = st.tuples(eighths(2, 4), eighths(-24, 24), eighths(-24, 24)).map(
        lambda row: {"side": row[0], "at": (row[1], row[2])}
    )
    return st.lists(lying, max_size=most)


def asked(members: list[dict[str, Any]], plates: list[dict[str, Any]]) -> dict[str, Any]:
    def length(value: float) -> str:
        return f"{value:g} in"

    return {
        "members": [
            {
                **{
                    k: v if k == "section" else length(v)
                    for k, v in m.items()
                    if k not in ("at", "turn")
                },
                "at": [length(m["at"][0]), length(m["at"][1])],
                "turn": f"{m['turn']} deg",
                "substrate": "carbon-steel",
            }
            for m in members
        ],
        "plates": [
            {
                "width": length(p["side"]),
                "length": length(p["side"]),
                "at": [length(p["at"][0]), length(p["at"][1])],
            }
            for p in plates
        ],
        "mask_turn": "0 deg",
    }


def rectangle(sides: tuple[float, ...]) -> Polygon:
    return box(*sides)


def look_at(
    answer: Answer, members: list[dict[str, Any]], plates: list[dict[str, Any]], flange: float = 4.0
) -> None:
    """Compare an answer's layout with the drawing, and lay its pieces on it."""
    layout = answer.layout
    assert layout.unproved == ()
    assert layout.fleece is not None and layout.masking is not None
    fleece, masking = layout.fleece, layout.masking
    drawn = draw(members, plates, flange)
    hair = 2e-3 * sum(1 for m in members if m["section"] == "pipe") * 12 + 1e-6

    def near(value: float) -> Any:
        return pytest.approx(value, abs=hair)

    sides = [(d.target[2] - d.target[0] + 2 * R, d.target[3] - d.target[1] + 2 * R) for d in drawn]
    assert sorted((w.value, h.value) for w, h in masking.flat) == [near(s) for s in sorted(sides)]
    outline = math.fsum(d.outline.area for d in drawn)
    girth = math.fsum(
        part.exterior.length
        for d in drawn
        for part in getattr(d.outline, "geoms", [d.outline])
        if not part.is_empty
    )
    mask = math.fsum(w * h for w, h in sides)
    target = math.fsum(rectangle(d.target).area for d in drawn)
    area = {
        o: math.fsum(
            s.area.value for s in layout.surfaces if s.orientation == o and s.area is not None
        )
        for o in ("flat", "upright")
    }
    assert area["flat"] == near(mask - outline)
    assert area["upright"] == near(girth * (H + R))
    assert fleece.zone.value == near(target - outline + girth * H)
    assert masking.tape.value == near(math.fsum(2 * (w + h) for w, h in sides) + girth)
    by_kind = {
        k: [p for p in fleece.pieces if p.kind == k] for k in ("cover", "base", "wrap", "patch")
    }
    assert sum(p.count for p in by_kind["cover"]) == len(plates)
    assert sum(p.count for p in by_kind["patch"]) == sum(patches(d.outline) for d in drawn)
    base_rectangles = math.fsum(p.width.value * p.length.value for p in by_kind["base"])
    assert base_rectangles == near(math.fsum(base_cut(d, members) for d in drawn))
    assert fleece.net.value == near(math.fsum(p.net.value * p.count for p in fleece.pieces))
    assert fleece.cut.value == near(
        math.fsum(p.width.value * p.length.value * p.count for p in fleece.pieces)
    )
    assert fleece.extra.value == near(fleece.net.value - fleece.zone.value)
    for piece in by_kind["base"] + by_kind["cover"]:
        assert piece.shape is not None
        assert piece.net.value == near(piece.shape.area)
    lay(by_kind["base"], by_kind["cover"], drawn, plates, hair)


def lay(
    bases: Sequence[Any],
    covers: Sequence[Any],
    drawn: list[Drawn],
    plates: list[dict[str, Any]],
    hair: float,
) -> None:
    """Lay the pieces that lie on the roof on the drawing."""
    for d in drawn:
        room = rectangle(grown(d.target, R - TO_TAPE + 1e-6))
        flat = rectangle(d.target).difference(d.outline)
        here = [
            p.shape
            for p in (*bases, *covers)
            if p.shape.intersects(rectangle(d.target).buffer(-0.01))
        ]
        assert all(room.covers(shape) for shape in here), "fleece near the tape"
        assert flat.difference(unary_union(here)).area < 1e-3 + 1e-3 * len(d.members), "bare roof"
        if not d.members:
            continue
        sheets = [
            box(*p.shape.bounds) for p in bases if rectangle(d.target).buffer(1e-3).covers(p.shape)
        ]
        assert rectangle(d.target).difference(unary_union(sheets)).area < hair
        # a strip as wide as half a lap laid anywhere along a joint finds two pieces, or none ends there
        for sheet in sheets:
            for edge in box_edges(sheet):
                if edge.distance(rectangle(d.target).exterior) < 1e-6 and rectangle(
                    d.target
                ).exterior.buffer(1e-6).covers(edge):
                    continue
                strip = edge.buffer(LAP - 1e-4, cap_style="flat").intersection(sheet)
                others = unary_union([s for s in sheets if s is not sheet])
                assert others.covers(strip.buffer(-1e-6)), "a joint laps less than 2 in"
    covered = unary_union([p.shape for p in covers]) if covers else Polygon()
    solid = unary_union([d.outline for d in drawn])
    for plate in plates:
        x, y = plate["at"]
        wanted = rectangle(grown((x, y, x, y), plate["side"] / 2 + PLATE)).difference(solid)
        assert wanted.difference(covered).area < 1e-3, "a plate is not covered"


def box_edges(sheet: Polygon) -> list[LineString]:
    ring = list(sheet.exterior.coords)
    return [LineString(ring[i : i + 2]) for i in range(4)]


RARE = settings(
    max_examples=60,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)


def tangent(members: list[dict[str, Any]]) -> bool:
    """A pipe that only just touches or misses: drawn circles can't tell which."""
    shapes = [placed(m) for m in members]
    return any(
        "pipe" in (members[i]["section"], members[j]["section"])
        and a.buffer(0.01).intersects(b)
        and not a.buffer(-0.01).intersects(b.buffer(-0.01))
        for i, a in enumerate(shapes)
        for j, b in enumerate(shapes[:i])
    )


def answered(ask: Callable[..., Answer], members: Any, plates: Any) -> Answer | None:
    try:
        return ask(**asked(members, plates))
    except QueryFaults as faults:
        # the one thing that may be refused: a plate drawn over a member
        assert all("overlaps member" in fault.detail for fault in faults.faults), faults
        return None


#: Split lines at x 2, 2.875 and 3.375: pieces whose laps lie over one another.
CLOSE_LINES = [
    {"section": "bar", "width": 8.5, "depth": 8.125, "at": (2.875, 8.0), "turn": 90},
    {"section": "bar", "width": 6.25, "depth": 8.25, "at": (2.0, -0.875), "turn": 0},
    {"section": "bar", "width": 7.375, "depth": 4.0, "at": (3.375, 14.25), "turn": 0},
    {"section": "bar", "width": 7.25, "depth": 8.375, "at": (20.0, 12.5), "turn": 90},
]


@RARE
@given(members=members_of(1, (0, 30, 90, 225)), plates=plates_of(2))
def test_one_member(ask: Callable[..., Answer], members: Any, plates: Any) -> None:
    answer = answered(ask, members, plates)
    if answer is not None:
        look_at(answer, members, plates)


@RARE
@example(members=CLOSE_LINES, plates=[])
@given(members=members_of(4), plates=plates_of(3))
def test_several_members(ask: Callable[..., Answer], members: Any, plates: Any) -> None:
    assume(not tangent(members))
    answer = answered(ask, members, plates)
    if answer is not None:
        look_at(answer, members, plates)
