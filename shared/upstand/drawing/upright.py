"""The cut through an upright: from the tape on the roof to its face, and up it to the line."""

from __future__ import annotations

import math
from dataclasses import replace

import shapely

from upstand.drawing.chain import Chain, Leg, levels
from upstand.drawing.view import polygons
from upstand.layout.model import Layout, Lying, Piece
from upstand.query.defaults import Settled


def upright_chain(settled: Settled, layout: Layout) -> Chain | None:
    """Return the cut at the left side of the first upright; None where there is none."""
    faces = [face for face in layout.faces if face.unrolled]
    regions = [region for region in layout.regions if region.members]
    if not faces or not regions:
        return None
    region = regions[0]
    roof = next(
        (f for f in layout.faces if not f.unrolled and f.opening is region.outline),
        layout.faces[0],
    )
    outline = min(polygons(region.outline), key=lambda part: part.bounds[0])
    left, low, right, high = outline.bounds
    face = faces[list(polygons(region.outline)).index(outline)]
    side = shapely.clip_by_rect(outline, left, low, left + 0.02, high).bounds
    foot = shapely.clip_by_rect(outline, left, low, right, low + 0.02).bounds
    y, x = (side[1] + side[3]) / 2.0, (foot[0] + foot[2]) / 2.0
    edge = roof.sheet.bounds
    ways = [((edge[0], y), (left, y)), ((x, edge[1]), (x, low))]
    # where base pieces lap there is more to see than anywhere else, so the other side is better
    start, end = min(ways, key=lambda way: _bases(layout, way[1]))
    far = math.dist(start, end)
    middle, tall = face.sheet.bounds[2] / 2.0, face.sheet.bounds[3]
    return Chain(
        (
            Leg(roof, (-far, 0.0), (0.0, 0.0), (start, end)),
            Leg(face, (0.0, 0.0), (0.0, tall), ((middle, 0.0), (middle, tall))),
        )
    )


def _bases(layout: Layout, at: tuple[float, float]) -> int:
    point = shapely.Point(at).buffer(0.05)
    pieces = layout.fleece.pieces if layout.fleece else ()
    return sum(
        1 for p in pieces if p.kind == "base" for one in p.lies if one.shape.intersects(point)
    )


def upright_levels(
    chain: Chain, layout: Layout
) -> list[tuple[Piece, list[tuple[float, float, int]]]]:
    """Return what lies along the cut; wraps and turned-up edges are put on the upright here."""
    roof, upright = chain.legs
    girth, foot = upright.face.sheet.bounds[2], layout.parameters["fleece-lap"].value
    x, y = roof.trace[1]
    pieces: list[Piece] = []
    assert layout.fleece is not None
    for piece in layout.fleece.pieces:
        lies = list(piece.lies)
        if piece.kind == "wrap" and not lies:
            high = upright.face.zone.bounds[3]
            lies = [
                Lying(roof.face.id, shapely.box(x - foot, y - foot, x + 0.1, y + 0.1)),
                Lying(upright.face.id, shapely.box(0.0, 0.0, girth, high)),
            ]
            if any(other.kind == "wrap" for other in pieces):
                continue  # one of them is met: they go round side by side
        elif piece.kind == "base" and any(
            one.face == roof.face.id and one.shape.buffer(1e-6).intersects(shapely.Point(x, y))
            for one in lies
        ):
            up = layout.parameters["turn-up"].value
            lies.append(Lying(upright.face.id, shapely.box(0.0, 0.0, girth, up)))
        if lies:
            pieces.append(replace(piece, lies=tuple(lies)))
    return levels(chain, pieces)
