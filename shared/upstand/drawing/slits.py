"""Where a base piece is slit round what stands in it; a slit takes nothing out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from shapely import affinity
from shapely.geometry import LineString, Point
from shapely.geometry.base import BaseGeometry
from shapely.ops import nearest_points

from upstand.drawing.cut_outs import SLIVER
from upstand.drawing.scene import Scene
from upstand.drawing.view import lines, polygons
from upstand.layout.model import Line, Piece, Region
from upstand.layout.placed import PlacedMember, turned

NEAR = 1e-3
Run = tuple[tuple[float, float], tuple[float, float], float]


def slit_lines(scene: Scene, piece: Piece) -> tuple[Line, ...]:
    """Return the slits of a base piece, from its own lower left corner [in].

    What shrinks to nothing when the turn-up is taken off it is slit along its middle; that, and an
    opening wholly inside the piece, is reached from an edge at which pieces meet.
    """
    region = region_of(scene, piece)
    if region is None or piece.sheet is None or piece.shape is None:
        return ()
    settled, sheet = scene.answer.settled, piece.sheet.sheet()
    thin = 2.0 * scene.layout.parameters["turn-up"].value + SLIVER
    mask_turn = settled.mask_turn.value
    runs = [
        run
        for number in region.members
        for middle in _middles(scene.members[number], thin, mask_turn)
        for run in [middle.intersection(sheet)]
        if not run.is_empty and (run.length > NEAR or middle.length == 0.0)
    ]
    holes = [LineString(hole) for part in polygons(piece.shape) for hole in part.interiors]
    ways = [_way(group, piece, region) for group in _groups([*runs, *holes])]
    left, low, _, _ = sheet.bounds
    return tuple(
        (
            (line.coords[0][0] - left, line.coords[0][1] - low),
            (line.coords[-1][0] - left, line.coords[-1][1] - low),
        )
        for one in [*runs, *ways]
        for line in lines(one)
        if line.length > NEAR
    )


def region_of(scene: Scene, piece: Piece) -> Region | None:
    """Return the masked rectangle in which a base piece lies, if anything stands in it."""
    if piece.sheet is None:
        return None
    for region in scene.layout.regions:
        if region.members and region.target.sheet().buffer(1e-6).covers(piece.sheet.sheet()):
            return region
    return None


def _middles(placed: PlacedMember, thin: float, mask_turn: float) -> Iterator[BaseGeometry]:
    """Yield the middle lines of a section's parts that are no thicker than `thin`."""
    centre = (placed.centre[0].value, placed.centre[1].value)
    section = placed.section
    if section.round:
        if section.width_in <= thin:
            yield Point(centre)
        return
    turn = (placed.member.turn.value if placed.member.turn else 0.0) - mask_turn
    for start, end, thick in _parts(section.kind, section.dimensions):
        if thick <= thin:
            yield affinity.translate(turned(LineString([start, end]), turn, (0.0, 0.0)), *centre)


def _parts(kind: str, size: Mapping[str, float]) -> Iterator[Run]:
    """Yield each straight part of a section: its middle from end to end, and how thick it is."""
    if kind == "angle":
        x, y, t = size["leg_a"] / 2, size["leg_b"] / 2, size["thickness"]
        yield (-x, t / 2 - y), (x, t / 2 - y), t
        yield (t / 2 - x, -y), (t / 2 - x, y), t
    elif kind in ("channel", "i-section", "tee"):
        x, y = size["flange_width"] / 2, size["depth"] / 2
        web, flange = size["web_thickness"], size["flange_thickness"]
        at = web / 2 - x if kind == "channel" else 0.0
        yield (at, -y), (at, y), web
        yield (-x, y - flange / 2), (x, y - flange / 2), flange
        if kind != "tee":
            yield (-x, flange / 2 - y), (x, flange / 2 - y), flange
    elif kind in ("bar", "tube"):
        x, y = size["width"] / 2, size["depth"] / 2
        if x >= y:
            yield (-x, 0.0), (x, 0.0), 2 * y
        else:
            yield (0.0, -y), (0.0, y), 2 * x


def _groups(shapes: Sequence[BaseGeometry]) -> list[BaseGeometry]:
    """Put together what touches."""
    groups: list[BaseGeometry] = []
    for shape in shapes:
        apart = []
        for group in groups:
            if group.distance(shape) < NEAR:
                shape = shape.union(group)
            else:
                apart.append(group)
        groups = [*apart, shape]
    return groups


def _way(group: BaseGeometry, piece: Piece, region: Region) -> BaseGeometry:
    """Return the slit that reaches what lies wholly inside a piece; empty where nothing does."""
    assert piece.sheet is not None
    here, whole = piece.sheet, region.target
    edges = {
        ((here.left, here.low), (here.right, here.low)): here.low - whole.low,
        ((here.left, here.high), (here.right, here.high)): whole.high - here.high,
        ((here.left, here.low), (here.left, here.high)): here.left - whole.left,
        ((here.right, here.low), (here.right, here.high)): whole.right - here.right,
    }
    meeting = [LineString(edge) for edge, inside in edges.items() if inside > NEAR]
    found = meeting or [LineString(edge) for edge in edges]
    edge = min(found, key=lambda line: line.distance(group))
    if edge.distance(group) < NEAR:
        return LineString()
    middle = group.centroid
    straight = nearest_points(edge, middle)[0]
    way = LineString([straight, middle])
    # from the edge to what is met first
    met = way.intersection(group)
    if met.is_empty:
        start, end = nearest_points(edge, group)
        return LineString([start, end])
    return LineString([straight, nearest_points(straight, met)[1]])
