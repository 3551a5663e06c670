"""The outline of each kind of section from its dimensions in inches.

Angle: leg_a along x, leg_b along y, heel at lower left. Channel: web at left. Tee: flange on top.
Depth of channel, i-section, tee and tube runs along y. Holes are filled: only the outside counts.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from types import MappingProxyType
from typing import NamedTuple

import shapely
from shapely.geometry import MultiPoint, Polygon
from shapely.geometry import Point as Dot
from shapely.geometry.polygon import orient

from upstand.sections.model import (
    NOISE,
    QUAD_SEGMENTS,
    Face,
    Fault,
    Point,
    Section,
    SectionFault,
    convex_corners,
    sides,
    turns,
)
from upstand.sections.validity import distinct, polygon_faults, section_faults
from upstand.telling.said import say

Sizes = Mapping[str, float]


def build(
    kind: str,
    dimensions: Sizes,
    *,
    shown: Mapping[str, str] | None = None,
    radius_in_walls: float = 2.0,
) -> Section:
    """Build a section from its dimensions.

    ``dimensions`` are inches by field name (see ``FIELDS``); ``shown`` is a field's text as typed,
    for messages; ``radius_in_walls`` is a tube's outside corner radius in wall thicknesses where
    ``corner_radius`` is not given. Raises ``SectionFault`` with every fault at once.

    >>> angle = build("angle", {"leg_a": 3, "leg_b": 3, "thickness": 0.25})
    >>> angle.girth_formula, angle.drawn_girth_in, angle.patch_count(share_in=1.0)
    ('angle_girth', 12.0, 3)
    """
    found = section_faults(kind, dimensions, shown)
    if kind == "polygon" and not found:
        found = [Fault("points", say("points-missing"))]
    if found:
        raise SectionFault(found)
    sizes = dict(dimensions)
    defaulted: tuple[str, ...] = ()
    if kind == "tube" and "corner_radius" not in sizes:
        sizes["corner_radius"] = radius_in_walls * sizes["thickness"]
        defaulted = ("corner_radius",)
        again = section_faults(kind, sizes, shown)
        if again:
            raise SectionFault(
                [Fault(one.field, say("by-default", fault=one.message)) for one in again]
            )
    shape = _SHAPES[kind](sizes)
    stem, feeds = _FORMULAS[kind]
    return Section(
        kind=kind,
        width_in=shape.width_in,
        depth_in=shape.depth_in,
        points=_ring(shape.outline),
        polygon=shape.outline,
        dimensions=MappingProxyType(sizes),
        defaulted=defaulted,
        girth_formula=f"{stem}_girth",
        area_formula=f"{stem}_area",
        formula_inputs=MappingProxyType(feeds),
        box=_BOX[kind],
        corners=shape.corners,
        round=not shape.corners,
        joint_faces=shape.faces,
        clear_gap_in=shape.gap_in,
    )


def build_polygon(points: Sequence[Point]) -> Section:
    """Build a section from the corner points of its outline, in inches, in either direction round.

    Raises ``SectionFault`` where they are no outline. Girth and area are those of the drawn shape.

    >>> build_polygon([(0, 0), (4, 0), (4, 3)]).drawn_girth_in
    12.0
    """
    found = polygon_faults(points)
    if found:
        raise SectionFault(found)
    ring = _ring(orient(Polygon(distinct(points))))
    straight = [point for point, turn in zip(ring, turns(ring), strict=True) if turn]
    left, low, right, high = Polygon(straight).bounds
    middle_x, middle_y = (left + right) / 2, (low + high) / 2
    outline = Polygon([(x - middle_x, y - middle_y) for x, y in straight])
    centred = _ring(outline)
    start, end = max(sides(centred), key=lambda side: Dot(side[0]).distance(Dot(side[1])))
    return Section(
        kind="polygon",
        width_in=right - left,
        depth_in=high - low,
        points=centred,
        polygon=outline,
        dimensions=MappingProxyType({}),
        defaulted=(),
        girth_formula=None,
        area_formula=None,
        formula_inputs=MappingProxyType({}),
        box=None,
        corners=convex_corners(centred),
        round=False,
        joint_faces=(_face("longest-side", start, end),),
        clear_gap_in=None,
    )


class _Shape(NamedTuple):
    width_in: float
    depth_in: float
    outline: Polygon
    corners: tuple[Point, ...]
    faces: tuple[Face, ...]
    gap_in: float | None = None


def _sharp(
    width_in: float,
    depth_in: float,
    points: Sequence[Point],
    faces: Sequence[Face],
    gap_in: float | None = None,
) -> _Shape:
    return _Shape(width_in, depth_in, Polygon(points), convex_corners(points), tuple(faces), gap_in)


def _angle(size: Sizes) -> _Shape:
    x, y, t = size["leg_a"] / 2, size["leg_b"] / 2, size["thickness"]
    points = [(-x, -y), (x, -y), (x, t - y), (t - x, t - y), (t - x, y), (-x, y)]
    backs = [_face("leg-a-back", (-x, -y), (x, -y)), _face("leg-b-back", (-x, y), (-x, -y))]
    return _sharp(2 * x, 2 * y, points, [_widest(backs)])


def _channel(size: Sizes) -> _Shape:
    x, y = size["flange_width"] / 2, size["depth"] / 2
    web, flange = size["web_thickness"], size["flange_thickness"]
    points = [
        (-x, -y), (x, -y), (x, flange - y), (web - x, flange - y),
        (web - x, y - flange), (x, y - flange), (x, y), (-x, y),
    ]  # fmt: skip
    faces = [_face("web-back", (-x, y), (-x, -y)), _face("flange-back", (-x, -y), (x, -y))]
    return _sharp(2 * x, 2 * y, points, [_widest(faces)], 2 * (y - flange))


def _i_section(size: Sizes) -> _Shape:
    x, y = size["flange_width"] / 2, size["depth"] / 2
    web, flange = size["web_thickness"] / 2, size["flange_thickness"]
    points = [
        (-x, -y), (x, -y), (x, flange - y), (web, flange - y), (web, y - flange), (x, y - flange),
        (x, y), (-x, y), (-x, y - flange), (-web, y - flange), (-web, flange - y), (-x, flange - y),
    ]  # fmt: skip
    faces = [_face("flange-low", (-x, -y), (x, -y)), _face("flange-high", (x, y), (-x, y))]
    return _sharp(2 * x, 2 * y, points, faces, 2 * (y - flange))


def _tee(size: Sizes) -> _Shape:
    x, y = size["flange_width"] / 2, size["depth"] / 2
    web, flange = size["web_thickness"] / 2, size["flange_thickness"]
    points = [
        (-web, -y), (web, -y), (web, y - flange), (x, y - flange),
        (x, y), (-x, y), (-x, y - flange), (-web, y - flange),
    ]  # fmt: skip
    faces = [
        _face("flange-back", (x, y), (-x, y)),
        _face("web-side", (web, -y), (web, y - flange)),
    ]
    return _sharp(2 * x, 2 * y, points, [_widest(faces)])


def _bar(size: Sizes) -> _Shape:
    x, y = size["width"] / 2, size["depth"] / 2
    points = [(-x, -y), (x, -y), (x, y), (-x, y)]
    faces = [_face("long-side", (-x, -y), (x, -y)), _face("long-side", (-x, y), (-x, -y))]
    return _sharp(2 * x, 2 * y, points, [_widest(faces)])


def _tube(size: Sizes) -> _Shape:
    x, y, r = size["width"] / 2, size["depth"] / 2, size["corner_radius"]
    box = [(-x, -y), (x, -y), (x, y), (-x, y)]
    if r <= NOISE:
        return _bar(size)
    inner_x, inner_y = max(x - r, 0.0), max(y - r, 0.0)
    if max(inner_x, inner_y) <= NOISE:
        return _circle(2 * r)
    middles = MultiPoint([(sx * inner_x, sy * inner_y) for sx in (-1, 1) for sy in (-1, 1)])
    outline = orient(middles.convex_hull.buffer(r, quad_segs=QUAD_SEGMENTS))
    faces = [
        _face("long-side", (-inner_x, -y), (inner_x, -y)),
        _face("long-side", (-x, inner_y), (-x, -inner_y)),
    ]
    # Corners stand where the sides would meet: the radius must not decide which share a patch.
    return _Shape(2 * x, 2 * y, outline, tuple(box), (_widest(faces),))


def _circle(diameter_in: float) -> _Shape:
    outline = orient(Dot(0.0, 0.0).buffer(diameter_in / 2, quad_segs=QUAD_SEGMENTS))
    foot = (0.0, -diameter_in / 2)
    face = Face("round", foot, foot, float(outline.length))
    return _Shape(diameter_in, diameter_in, outline, (), (face,))


_SHAPES: Mapping[str, Callable[[Sizes], _Shape]] = MappingProxyType(
    {
        "angle": _angle,
        "channel": _channel,
        "i-section": _i_section,
        "tee": _tee,
        "tube": _tube,
        "pipe": lambda size: _circle(size["od"]),
        "bar": _bar,
        "rod": lambda size: _circle(size["diameter"]),
    }
)


def _same(*names: str) -> dict[str, str]:
    return {name: name for name in names}


_ROLLED = _same("depth", "flange_width", "web_thickness", "flange_thickness")

#: kind -> the first part of its formulas' names, and parameter -> field
_FORMULAS: Mapping[str, tuple[str, dict[str, str]]] = MappingProxyType(
    {
        "angle": ("angle", _same("leg_a", "leg_b", "thickness")),
        "channel": ("channel", _ROLLED),
        "i-section": ("i_section", _ROLLED),
        "tee": ("tee", _ROLLED),
        "tube": ("tube", _same("width", "depth", "corner_radius")),
        "pipe": ("round", {"diameter": "od"}),
        "bar": ("bar", _same("width", "depth")),
        "rod": ("round", {"diameter": "diameter"}),
    }
)

#: kind -> the fields that are its width (along x) and its depth (along y)
_BOX: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "angle": ("leg_a", "leg_b"),
        "channel": ("flange_width", "depth"),
        "i-section": ("flange_width", "depth"),
        "tee": ("flange_width", "depth"),
        "tube": ("width", "depth"),
        "pipe": ("od", "od"),
        "bar": ("width", "depth"),
        "rod": ("diameter", "diameter"),
    }
)


def _face(id: str, start: Point, end: Point) -> Face:
    return Face(id, start, end, Dot(start).distance(Dot(end)))


def _widest(faces: Sequence[Face]) -> Face:
    return max(faces, key=lambda face: face.width_in)


def _ring(outline: Polygon) -> tuple[Point, ...]:
    return tuple([(x, y) for x, y in shapely.get_coordinates(outline.exterior).tolist()[:-1]])
