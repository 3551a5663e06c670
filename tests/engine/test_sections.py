"""Sections: expected figures are worked by hand beside each case."""

from __future__ import annotations

import math
from typing import Any

import pytest
from shapely.geometry import Point, box

from upstand.formulas import REGISTER
from upstand.sections import Section, SectionFault, build, build_polygon

W8X31 = {"depth": 8.0, "flange_width": 8.0, "web_thickness": 0.285, "flange_thickness": 0.435}
C6X8 = {"depth": 6.0, "flange_width": 1.92, "web_thickness": 0.2, "flange_thickness": 0.343}


def _angle(leg_a: float, leg_b: float, thickness: float) -> dict[str, float]:
    return {"leg_a": leg_a, "leg_b": leg_b, "thickness": thickness}


# kind, dimensions, box, girth, area, patches at 1 in, wraps, joint face, gap
CASES: list[tuple[str, dict[str, float], tuple[float, float], float, float, int, int, str, Any]] = [
    # 2 (3 + 3); 0.25 (3 + 3 - 0.25); heel and two toes
    ("angle", _angle(3, 3, 0.25), (3, 3), 12, 1.4375, 3, 1, "leg-a-back", None),
    ("angle", _angle(2, 5, 0.5), (2, 5), 14, 3.25, 3, 1, "leg-b-back", None),
    # toes 1 in thick are not under 1 in apart: 2 + 2 + heel
    ("angle", _angle(6, 6, 1), (6, 6), 24, 11, 5, 1, "leg-a-back", None),
    # 2 × 6 + 4 × 1.92 - 2 × 0.2; 6 × 0.2 + 2 × 1.72 × 0.343; two heels, two toes
    ("channel", C6X8, (1.92, 6), 19.28, 2.37992, 4, 1, "web-back", 5.314),
    # 2 × 8 + 4 × 8 - 2 × 0.285; 2 × 8 × 0.435 + 7.13 × 0.285; four flange ends
    ("i-section", W8X31, (8, 8), 47.43, 8.99205, 4, 2, "flange-low", 7.13),
    # 2 (4 + 6); 6 × 0.5 + 3.5 × 0.25; two flange ends, the web's end
    (
        "tee",
        {"depth": 4, "flange_width": 6, "web_thickness": 0.25, "flange_thickness": 0.5},
        (6, 4), 20, 3.875, 3, 1, "flange-back", None,
    ),
    # web side 9 - 0.5 = 8.5 is wider than the flange
    (
        "tee",
        {"depth": 9, "flange_width": 4, "web_thickness": 0.25, "flange_thickness": 0.5},
        (4, 9), 26, 4.125, 3, 1, "web-side", None,
    ),
    ("bar", {"width": 4, "depth": 0.5}, (4, 0.5), 9, 2, 2, 1, "long-side", None),
    ("bar", {"width": 4, "depth": 6}, (4, 6), 20, 24, 4, 1, "long-side", None),
    # corners 3/4 in apart all share one
    ("bar", {"width": 0.75, "depth": 0.75}, (0.75, 0.75), 3, 0.5625, 1, 1, "long-side", None),
]  # fmt: skip


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case[0]} {case[2]}")
def test_sharp_sections(case: Any) -> None:
    kind, dimensions, box, girth, area, patches, wraps, face, gap = case
    found = build(kind, dimensions)
    assert (found.width_in, found.depth_in) == pytest.approx(box)
    assert found.drawn_girth_in == pytest.approx(girth, abs=1e-9)
    assert found.drawn_area_in2 == pytest.approx(area, abs=1e-9)
    assert found.patch_count(1.0) == patches
    assert found.wrap_count == wraps
    assert found.joint_faces[0].id == face
    assert found.clear_gap_in == (None if gap is None else pytest.approx(gap))
    assert not found.round


def _by_formula(found: Section, name: str | None) -> float:
    inputs = {key: found.dimensions[named] for key, named in found.formula_inputs.items()}
    return REGISTER[str(name)](**inputs)


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case[0]} {case[2]}")
def test_formula_and_outline_agree(case: Any) -> None:
    found = build(case[0], case[1])
    assert _by_formula(found, found.girth_formula) == pytest.approx(found.drawn_girth_in)
    assert _by_formula(found, found.area_formula) == pytest.approx(found.drawn_area_in2)


@pytest.mark.parametrize(
    ("kind", "dimensions"),
    [
        ("tube", {"width": 4, "depth": 6, "thickness": 0.233}),
        ("tube", {"width": 4, "depth": 4, "thickness": 0.25, "corner_radius": 0}),
        ("pipe", {"od": 4.5}),
        ("rod", {"diameter": 0.75}),
    ],
)
def test_formula_and_outline_agree_on_round_parts(kind: str, dimensions: dict[str, float]) -> None:
    found = build(kind, dimensions)
    # 64 segments to the quarter: girth short by (pi / 256)^2 / 6, 0.0025 %; area by four times that
    assert found.drawn_girth_in == pytest.approx(_by_formula(found, found.girth_formula), rel=3e-5)
    assert found.drawn_area_in2 == pytest.approx(_by_formula(found, found.area_formula), rel=1.2e-4)


def test_outlines_lie_as_said() -> None:
    angle = build("angle", {"leg_a": 4, "leg_b": 3, "thickness": 0.5})
    assert angle.points[0] == (-2, -1.5)  # heel, lower left
    assert angle.polygon.bounds == (-2, -1.5, 2, 1.5)
    assert not angle.polygon.intersects(Point(1.9, 1.4))  # nothing at upper right
    channel = build("channel", C6X8)
    assert channel.polygon.intersection(_left_strip(channel)).area == pytest.approx(0.1 * 6)
    tee = build("tee", CASES[5][1])
    assert max(y for x, y in tee.points if abs(x) == 3) == 2  # flange on top
    assert min(y for x, y in tee.points if abs(x) == 3) == 1.5


def _left_strip(section: Section) -> Any:
    left, low, _, high = section.polygon.bounds
    return box(left, low, left + 0.1, high)


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case[0]} {case[2]}")
def test_outlines_run_counter_clockwise_round_their_box(case: Any) -> None:
    found = build(case[0], case[1])
    assert found.polygon.exterior.is_ccw and found.polygon.is_valid
    half = (found.width_in / 2, found.depth_in / 2)
    assert found.polygon.bounds == pytest.approx((-half[0], -half[1], *half))


def test_i_section_has_a_joint_on_each_outer_flange_face() -> None:
    found = build("i-section", W8X31)
    assert [(face.start[1], face.end[1], face.width_in) for face in found.joint_faces] == [
        (-4, -4, 8),
        (4, 4, 8),
    ]


def test_tube_corners_are_twice_the_wall_unless_given() -> None:
    found = build("tube", {"width": 4, "depth": 4, "thickness": 0.233})
    assert found.dimensions["corner_radius"] == pytest.approx(0.466)
    assert found.defaulted == ("corner_radius",)
    assert (found.patch_count(1.0), found.wrap_count, found.round) == (4, 1, False)
    assert found.joint_faces[0].width_in == pytest.approx(4 - 2 * 0.466)
    given = build("tube", {"width": 4, "depth": 4, "thickness": 0.233, "corner_radius": 0.25})
    assert (given.dimensions["corner_radius"], given.defaulted) == (0.25, ())


@pytest.mark.parametrize(
    ("kind", "dimensions", "across"),
    [
        ("pipe", {"od": 4.5}, 4.5),
        ("rod", {"diameter": 1}, 1),
        ("tube", {"width": 2, "depth": 2, "thickness": 0.25, "corner_radius": 1}, 2),
    ],
)
def test_round_members_have_no_patch(
    kind: str, dimensions: dict[str, float], across: float
) -> None:
    found = build(kind, dimensions)
    assert found.round and found.corners == () and found.patch_count(1.0) == 0
    assert (found.width_in, found.depth_in, found.wrap_count) == (across, across, 1)
    assert found.joint_faces[0].width_in == pytest.approx(math.pi * across, rel=3e-5)


def test_sharing_distance_decides() -> None:
    flat = build("bar", {"width": 4, "depth": 0.5})
    assert [flat.patch_count(share) for share in (0.25, 0.5, 0.51, 4.5)] == [4, 4, 2, 1]


def test_polygon_is_centred_and_may_run_either_way() -> None:
    # a 3-4-5 triangle, clockwise, closed, with a point midway on one side
    found = build_polygon([(10, 10), (10, 13), (14, 10), (12, 10), (10, 10)])
    assert (found.width_in, found.depth_in) == (4, 3)
    assert (found.drawn_girth_in, found.drawn_area_in2) == pytest.approx((12, 6))
    assert len(found.points) == 3 and found.polygon.exterior.is_ccw
    assert found.girth_formula is None and found.patch_count(1.0) == 3
    assert found.joint_faces[0].width_in == pytest.approx(5)


def test_polygon_counts_only_corners_that_stand_out() -> None:
    # an L drawn by hand: 5 corners out, 1 in; toes 0.25 in thick
    points = [(0, 0), (3, 0), (3, 0.25), (0.25, 0.25), (0.25, 3), (0, 3)]
    found = build_polygon(points)
    assert len(found.corners) == 5 and found.patch_count(1.0) == 3


@pytest.mark.parametrize(
    ("points", "words"),
    [
        ([], "has 0 different points"),
        ([(0, 0), (1, 0), (0, 0)], "has 2 different points"),
        ([(0, 0), (2, 0), (5, 0)], "lie on one line"),
        ([(0, 0), (2, 0), (1, 1e-6)], "lie on one line"),
        ([(0, 0), (2, 2), (2, 0), (0, 2)], r"cross or touch near \(1 in, 1 in\)"),
        ([(0, 0), (4, 0), (4, 4), (2, 0), (0, 4)], "cross or touch"),
        ([(0, 0), (4, 0), (math.nan, 4)], "must be pairs of lengths"),
    ],
)
def test_polygons_that_are_no_outline(points: list[tuple[float, float]], words: str) -> None:
    with pytest.raises(SectionFault, match=words) as fault:
        build_polygon(points)
    assert [one.field for one in fault.value.faults] == ["points"]


@pytest.mark.parametrize(
    ("kind", "dimensions", "faults"),
    [
        (
            "angle",
            _angle(3, 1, 2),
            [("thickness", "2 in is more than leg_b 1 in; an angle's thickness is under both")],
        ),
        ("angle", _angle(1, 1, 1), [
            ("thickness", "as much as leg_a"), ("thickness", "as much as leg_b")]),
        ("angle", {"leg_a": 3}, [("leg_b", "is missing"), ("thickness", "is missing")]),
        ("angle", {"leg_a": -3, "leg_b": 0, "thickness": math.inf, "od": 2}, [
            ("leg_a", "is -3 in; it must be more than 0 in"), ("leg_b", "is 0 in"),
            ("thickness", "must be a length"), ("od", "is not a field of an angle"),
        ]),
        ("channel", {**C6X8, "flange_thickness": 3, "web_thickness": 2}, [
            ("flange_thickness", "twice 3 in is as much as depth 6 in"),
            ("web_thickness", "2 in is more than flange_width 1.92 in; a channel's web"),
        ]),
        ("i-section", {**W8X31, "flange_thickness": 5}, [
            ("flange_thickness", "two flanges must fit in the depth of an i-section")]),
        ("tee", {**W8X31, "flange_thickness": 9, "web_thickness": 8}, [
            ("flange_thickness", "9 in is more than depth 8 in"), ("web_thickness", "as much as")]),
        ("tube", {"width": 1, "depth": 4, "thickness": 0.5}, [
            ("thickness", "twice 0.5 in is as much as width 1 in")]),
        ("tube", {"width": 2, "depth": 4, "thickness": 0.25, "corner_radius": 1.5}, [
            ("corner_radius", "1.5 in is more than half of the short side; give at most 1 in")]),
        ("tube", {"width": 2, "depth": 2, "thickness": 0.75}, [
            ("corner_radius", "by default 1.5 in is more than half of the short side")]),
        ("tube", {"width": 2, "depth": 4, "thickness": 0.25, "corner_radius": -1}, [
            ("corner_radius", "not under 0 in")]),
        ("pipe", {"od": 0}, [("od", "must be more than 0 in")]),
        ("beam", {"od": 1}, [("section", '"beam" is not a section; write one of angle, channel')]),
        ("polygon", {}, [("points", "is missing")]),
        ("polygon", {"width": 3}, [("width", "is not a field of a polygon, which takes points")]),
    ],
)  # fmt: skip
def test_impossible_sections_name_every_fault(
    kind: str, dimensions: dict[str, float], faults: list[tuple[str, str]]
) -> None:
    with pytest.raises(SectionFault) as raised:
        build(kind, dimensions)
    found = raised.value.faults
    assert [one.field for one in found] == [field for field, _ in faults]
    for one, (_, words) in zip(found, faults, strict=True):
        assert words in one.message


def test_messages_use_the_text_as_typed() -> None:
    with pytest.raises(SectionFault, match="20 mm is as much as leg_b 20 mm"):
        build(
            "angle",
            {"leg_a": 3, "leg_b": 0.7874, "thickness": 0.7874},
            shown={"leg_b": "20 mm", "thickness": "20 mm"},
        )
