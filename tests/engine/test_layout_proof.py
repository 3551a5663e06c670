"""An independent proof: the layout found again from its definitions (`conftest.py`) and compared.

What the engine counts by formula is measured off a drawing of its own. Then the engine's pieces of
fleece are laid on that drawing and looked at: nothing bare, every joint lapped, none near the tape.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import Any

import pytest
from hypothesis import HealthCheck, assume, example, given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon, box
from shapely.ops import unary_union

from upstand.answer import Answer
from upstand.query import QueryFaults

H, R, FLANGE, LAP, PLATE, TO_TAPE = 8.0, 0.5, 4.0, 2.0, 2.0, 0.25
Drawing = Callable[..., list[Any]]
Ask = Callable[..., Answer]


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


def grown(sides: tuple[float, ...], by: float) -> tuple[float, ...]:
    return sides[0] - by, sides[1] - by, sides[2] + by, sides[3] + by


def look_at(
    answer: Answer, members: list[dict[str, Any]], plates: list[dict[str, Any]], drawn: list[Any]
) -> None:
    """Compare an answer's layout with the drawing, and lay its pieces on it."""
    layout = answer.layout
    assert layout.unproved == ()
    assert layout.fleece is not None and layout.masking is not None
    fleece, masking = layout.fleece, layout.masking
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
    assert sum(p.count for p in by_kind["patch"]) == sum(d.patches for d in drawn)
    base_rectangles = math.fsum(p.width.value * p.length.value for p in by_kind["base"])
    assert base_rectangles == near(math.fsum(d.base_cut for d in drawn))
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
    drawn: list[Any],
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
        # along every edge that is not the target's own, a strip as wide as the lap lies on others
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


def answered(ask: Ask, members: Any, plates: Any) -> Answer | None:
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
def test_one_member(ask: Ask, drawing: Drawing, members: Any, plates: Any) -> None:
    answer = answered(ask, members, plates)
    if answer is not None:
        look_at(answer, members, plates, drawing(members, plates, FLANGE))


@RARE
@example(members=CLOSE_LINES, plates=[])
@given(members=members_of(4), plates=plates_of(3))
def test_several_members(
    ask: Ask,
    drawing: Drawing,
    just_touching: Callable[..., bool],
    members: Any,
    plates: Any,
) -> None:
    assume(not just_touching(members))
    answer = answered(ask, members, plates)
    if answer is not None:
        look_at(answer, members, plates, drawing(members, plates, FLANGE))
