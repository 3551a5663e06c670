"""Proves what lies on plane faces, written from the definitions: no formula is used here.

Every face says what lies within its tape, where fleece lies once, and where it meets the others.
All else is found again from those drawings and from where each piece is said to lie.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import combinations

import shapely
from shapely import STRtree
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from upstand.layout.model import Face, Fault, Fold, Layout, Line, Piece
from upstand.query.defaults import Settled

AREA_NOISE = 1e-6
LENGTH_NOISE = 1e-6
#: Round edges are drawn with straight sides; sums of many edges stray as well.
DRAWN = 2e-3
Interval = tuple[float, float]
#: Kinds whose pieces each lie for themselves: none is the continuation of another.
ALONE = ("cap", "cover", "patch")


def prove_faces(layout: Layout, settled: Settled) -> tuple[Fault, ...]:
    """Check what must hold of every such layout; returns what does not."""
    assert layout.fleece is not None and layout.masking is not None
    pieces = layout.fleece.pieces
    lap = layout.parameters["fleece-lap"].value
    faces = {face.id: face for face in layout.faces}
    faults = [*_counted(layout), *_pieces_hold(pieces, faces)]
    for face in layout.faces:
        shapes = [lying.shape for p in pieces for lying in p.lies if lying.face == face.id]
        faults += _covered(face, shapes)
        faults += _reveal(face, settled.sizes["reveal"].value, rounded=_rounded(layout))
        faults += _off_the_tape(face, shapes, layout.parameters["fleece-to-tape"].value)
        for kind in dict.fromkeys(p.kind for p in pieces if p.kind not in ALONE):
            faults += _joints(face, [p for p in pieces if p.kind == kind], lap)
        for fold in face.folds:
            if fold.face > face.id:
                faults += _fold_crossed(face, faces[fold.face], fold, pieces, lap)
    faults += _masks_apart(layout.faces)
    faults += _bonded(layout)
    return tuple(faults)


def _rounded(layout: Layout) -> bool:
    """Whether the fleece's corners are rounded off: then they stay farther from the tape."""
    return "patch-radius" in layout.parameters


def _near(found: float, drawn: float, what: str) -> list[Fault]:
    if abs(found - drawn) > DRAWN + 1e-5 * abs(drawn):
        return [Fault("counted-otherwise", what, found, drawn)]
    return []


def _inside(face: Face, sheet: BaseGeometry) -> BaseGeometry:
    return sheet if face.opening is None else sheet.difference(face.opening)


def _counted(layout: Layout) -> list[Fault]:
    """What was counted is what is drawn: surfaces, zone, tape and its corners."""
    assert layout.fleece is not None and layout.masking is not None
    faults = []
    drawn: dict[str, float] = {}
    for face in layout.faces:
        area = float(_inside(face, face.sheet).area)
        drawn[face.surface] = drawn.get(face.surface, 0.0) + area
    counted: dict[str, float] = {}
    for surface in layout.surfaces:
        if surface.area is not None:
            name = "roof" if surface.role == "plate" else surface.id
            counted[name] = counted.get(name, 0.0) + surface.area.value
    whole = math.fsum(drawn.values())
    bond = layout.bond_breaker.value if layout.bond_breaker is not None else 0.0
    faults += _near(math.fsum(counted.values()) + bond, whole, "surfaces")
    for name, area in drawn.items():
        if name:
            faults += _near(counted.get(name, 0.0), area, name)
    zone = math.fsum(_inside(face, face.zone).area for face in layout.faces)
    if _rounded(layout):
        # the corners that are off the patch are off its zone
        corner = layout.parameters["patch-radius"].value
        zone -= (4.0 - math.pi) * corner * corner
    faults += _near(layout.fleece.zone.value, zone, "zone")
    tape = math.fsum(line.length for face in layout.faces for line in face.tape)
    faults += _near(layout.masking.tape.value, tape, "tape")
    corners = sum(_corners(line) for face in layout.faces for line in face.tape)
    overlap = layout.parameters["tape-corner-overlap"].value
    faults += _near(layout.masking.corners.value, corners * overlap, "corners")
    return faults


def _corners(line: BaseGeometry) -> int:
    """Count where two straight tapes meet within a face; a ring of many sides has none."""
    points = list(line.coords)
    closed = points[0] == points[-1]
    if closed:
        points = points[:-1]
    if len(points) > 40:
        return 0
    found = 0
    for n, (x, y) in enumerate(points):
        if not closed and n in (0, len(points) - 1):
            continue
        (ax, ay), (bx, by) = points[n - 1], points[(n + 1) % len(points)]
        turn = (x - ax) * (by - y) - (y - ay) * (bx - x)
        found += abs(turn) > 1e-9
    return found


def _pieces_hold(pieces: Iterable[Piece], faces: dict[str, Face]) -> list[Fault]:
    """A piece is at least as large as what is laid of it, and lies on faces that there are."""
    faults = []
    for piece in pieces:
        laid = math.fsum(float(lying.shape.area) for lying in piece.lies)
        cut = piece.width.value * piece.length.value
        if laid > cut + DRAWN or piece.net.value > cut + AREA_NOISE:
            faults.append(Fault("piece-too-small", piece.id, cut, max(laid, piece.net.value)))
        faults += [Fault("no-such-face", x.face) for x in piece.lies if x.face not in faces]
    return faults


def _covered(face: Face, shapes: Sequence[BaseGeometry]) -> list[Fault]:
    """Fleece lies on all of the face's zone."""
    zone = _inside(face, face.zone)
    bare = zone.difference(unary_union(shapes)) if shapes else zone
    area = float(bare.area)
    # the corners off a patch are off its zone; they are a hundredth of it at most
    most = 1.0 if face.surface == "roof" and _is_patch(shapes) else DRAWN * 0.1
    return [Fault("zone-bare", face.id, area)] if area > most else []


def _is_patch(shapes: Sequence[BaseGeometry]) -> bool:
    return any(
        len(shape.exterior.coords) > 60 and not shape.interiors
        for shape in shapes
        if shape.geom_type == "Polygon"
    )


def _reveal(face: Face, reveal: float, rounded: bool) -> list[Fault]:
    """The zone ends exactly the reveal before the tape, and nowhere else before the edge."""
    if not face.tape:
        taped = None
        wanted = face.sheet
    else:
        taped = unary_union(
            [
                line.buffer(reveal, cap_style="square", join_style="mitre", mitre_limit=5.0)
                for line in face.tape
            ]
        )
        wanted = face.sheet.difference(taped)
    zone, wanted = _inside(face, face.zone), _inside(face, wanted)
    off = float(zone.symmetric_difference(wanted).area)
    most = DRAWN + 1e-5 * float(zone.area)
    del rounded
    return [Fault("reveal-off", face.id, off, reveal)] if off > most else []


def _off_the_tape(face: Face, shapes: Sequence[BaseGeometry], least: float) -> list[Fault]:
    """No fleece comes nearer to the tape than allowed, or over it."""
    near = min(
        (float(shape.distance(line)) for shape in shapes for line in face.tape), default=math.inf
    )
    if near < least - LENGTH_NOISE:
        return [Fault("fleece-near-tape", face.id, near, least)]
    return []


def _joints(face: Face, pieces: Sequence[Piece], lap: float) -> list[Fault]:
    """Two pieces of a kind that meet on a face lap by the limit."""
    here = [(p, lying.shape) for p in pieces for lying in p.lies if lying.face == face.id]
    faults = []
    for (one, a), (other, b) in combinations(here, 2):
        if one is other or a.distance(b) > LENGTH_NOISE:
            continue
        both = a.intersection(b)
        left, low, right, high = both.bounds if not both.is_empty else (0.0, 0.0, 0.0, 0.0)
        wide = min(right - left, high - low)
        # a turn-up is narrower than any lap: what it is part of laps on the face beside it
        own = min(*_sides(a), *_sides(b))
        if wide < min(lap, own) - 1e-4 and not _carried(one, other, pieces, face, lap):
            faults.append(Fault("joint-short", face.id, wide, lap))
    return faults


def _sides(shape: BaseGeometry) -> tuple[float, float]:
    left, low, right, high = shape.bounds
    return right - left, high - low


def _carried(one: Piece, other: Piece, pieces: Sequence[Piece], face: Face, lap: float) -> bool:
    """Whether the two lap enough where they meet on another face, or a third carries them."""
    for lying in one.lies:
        for there in other.lies:
            if lying.face != there.face:
                continue
            both = lying.shape.intersection(there.shape)
            if not both.is_empty and min(*_sides(both)) >= lap - 1e-4:
                return True
    return False


def _fold_crossed(
    face: Face, other: Face, fold: Fold, pieces: Sequence[Piece], lap: float
) -> list[Fault]:
    """Where fleece lies on both sides of a fold, some piece crosses it, a lap on both sides."""
    here = _beside(face, fold.line, lap)
    there = _beside(other, fold.there, lap)
    length = math.dist(*fold.line)
    wanted = _without([(0.0, length)], _bare(here, None, fold.line))
    wanted = _without(wanted, _bare(there, None, fold.there))
    for piece in pieces:
        a = [x.shape for x in piece.lies if x.face == face.id]
        b = [x.shape for x in piece.lies if x.face == other.id]
        if a and b:
            held = _without([(0.0, length)], _bare(here, unary_union(a), fold.line))
            held = _without(held, _bare(there, unary_union(b), fold.there))
            wanted = _without(wanted, held)
    open_ = math.fsum(last - first for first, last in wanted)
    return [Fault("fold-not-crossed", face.id, open_, lap)] if open_ > 1e-3 else []


def _beside(face: Face, line: Line, lap: float) -> BaseGeometry:
    """Draw the zone beside a fold, a lap deep."""
    strip = shapely.linestrings(line).buffer(lap, cap_style="flat")
    return _inside(face, face.zone).intersection(strip)


def _bare(zone: BaseGeometry, laid: BaseGeometry | None, line: Line) -> list[Interval]:
    """Find where along a fold the zone beside it is missing, or what is laid does not cover it."""
    (ax, ay), (bx, by) = line
    length = math.hypot(bx - ax, by - ay)
    ux, uy = (bx - ax) / length, (by - ay) / length
    if laid is None:
        edge = shapely.linestrings(line).buffer(1e-3, cap_style="flat")
        touching = zone.intersection(edge)
        there = [_along(part, (ax, ay), (ux, uy)) for part in _parts(touching)]
        return _without([(0.0, length)], there)
    rest = zone.difference(laid)
    return [_along(part, (ax, ay), (ux, uy)) for part in _parts(rest) if part.area > AREA_NOISE]


def _parts(shape: BaseGeometry) -> list[BaseGeometry]:
    return [p for p in getattr(shape, "geoms", [shape]) if not p.is_empty and p.area > 0.0]


def _along(shape: BaseGeometry, start: tuple[float, float], way: tuple[float, float]) -> Interval:
    at = [(x - start[0]) * way[0] + (y - start[1]) * way[1] for x, y in shape.exterior.coords]
    return min(at), max(at)


def _without(intervals: Sequence[Interval], taken: Iterable[Interval]) -> list[Interval]:
    """Take intervals out of others."""
    left = list(intervals)
    for first, last in taken:
        cut: list[Interval] = []
        for low, high in left:
            cut += [(low, min(high, first)), (max(low, last), high)]
        left = [(low, high) for low, high in cut if high - low > 1e-7]
    return left


def _masks_apart(faces: Sequence[Face]) -> list[Fault]:
    """No masked rectangle on the roof lies over another."""
    masks = [face.sheet for face in faces if face.surface == "roof"]
    if len(masks) < 2:
        return []
    found = STRtree(masks).query(masks, predicate="intersects")
    over = [
        int(i) for i, j in found.T if i < j and masks[i].intersection(masks[j]).area > AREA_NOISE
    ]
    return [Fault("masks-overlap", f"roof-{over[0] + 1}")] if over else []


def _bonded(layout: Layout) -> list[Fault]:
    """Fleece reaches past a bond breaker on both sides as far as is said."""
    if layout.breaker is None or layout.fleece is None or "bonded" not in layout.facts:
        return []
    left, low, right, high = layout.breaker.bounds
    bonded = layout.facts["bonded"].value
    laid = unary_union([x.shape for p in layout.fleece.pieces for x in p.lies])
    wanted = shapely.box(left, low - bonded, right, high + bonded)
    bare = float(wanted.difference(laid).area)
    return [Fault("not-bonded", "strip", bare, bonded)] if bare > AREA_NOISE else []
