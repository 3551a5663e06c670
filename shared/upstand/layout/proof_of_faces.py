"""Proves what lies on plane faces, written from the definitions: no formula is used here.

Every face says what lies within its tape, where fleece lies once, and where it meets the others.
All else is found again from those drawings and from where each piece is said to lie.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

import shapely
from shapely import STRtree
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from upstand.layout.model import Face, Fault, Fold, Layout, Line, Piece
from upstand.layout.placed import Bounds, apart
from upstand.query.defaults import Settled

AREA_NOISE = 1e-6
LENGTH_NOISE = 1e-6
#: Round edges are drawn with straight sides; sums of many edges stray as well.
DRAWN = 2e-3
Interval = tuple[float, float]
#: Kinds whose pieces each lie for themselves: none is the continuation of another.
ALONE = ("cap", "cover", "patch")


class Laid(NamedTuple):
    """A part of a piece where it lies; `rect` where it is its own bounding box."""

    piece: Piece
    shape: BaseGeometry
    bounds: Bounds
    rect: bool


def _laid(pieces: Sequence[Piece]) -> dict[str, list[Laid]]:
    """Sort the parts of all pieces by the face they lie on, measured at once."""
    found: dict[str, list[Laid]] = {}
    flat = [(piece, lying) for piece in pieces for lying in piece.lies]
    if not flat:
        return found
    shapes = [lying.shape for _, lying in flat]
    areas, boxes = shapely.area(shapes).tolist(), shapely.bounds(shapes).tolist()
    for (piece, lying), area, (left, low, right, high) in zip(flat, areas, boxes, strict=True):
        rect = abs((right - left) * (high - low) - area) <= 1e-9
        part = Laid(piece, lying.shape, (left, low, right, high), rect)
        found.setdefault(lying.face, []).append(part)
    return found


def prove_faces(layout: Layout, settled: Settled) -> tuple[Fault, ...]:
    """Check what must hold of every such layout; returns what does not."""
    assert layout.fleece is not None and layout.masking is not None
    pieces = layout.fleece.pieces
    lap = layout.parameters["fleece-lap"].value
    faces = {face.id: face for face in layout.faces}
    faults = [*_counted(layout), *_pieces_hold(pieces, faces)]
    laid = _laid(pieces)
    for face in layout.faces:
        here = laid.get(face.id, [])
        shapes = [part.shape for part in here]
        faults += _covered(face, shapes)
        faults += _reveal(face, settled.sizes["reveal"].value)
        faults += _out_of_the_seat(face, shapes)
        faults += _off_the_tape(face, shapes, layout.parameters["fleece-to-tape"].value)
        for kind in dict.fromkeys(p.piece.kind for p in here if p.piece.kind not in ALONE):
            faults += _joints(face, [p for p in here if p.piece.kind == kind], lap)
        for fold in face.folds:
            if fold.face > face.id:
                faults += _fold_crossed(face, faces[fold.face], fold, laid, lap)
    faults += _plates_covered(layout, laid, faces)
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
    bare = zone
    for shape in shapes:
        bare = bare.difference(shape)
        if bare.is_empty:
            return []
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


def _reveal(face: Face, reveal: float) -> list[Fault]:
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
    return [Fault("reveal-off", face.id, off, reveal)] if off > most else []


def _off_the_tape(face: Face, shapes: Sequence[BaseGeometry], least: float) -> list[Fault]:
    """No fleece comes nearer to the tape than allowed, or over it."""
    if not shapes:
        return []
    near = min(
        (float(shapely.distance(shapes, line).min()) for line in face.tape), default=math.inf
    )
    if near < least - LENGTH_NOISE:
        return [Fault("fleece-near-tape", face.id, near, least)]
    return []


def _out_of_the_seat(face: Face, shapes: Sequence[BaseGeometry]) -> list[Fault]:
    """Nothing lies within a ring's seat, which the tape goes round."""
    if not getattr(face.sheet, "interiors", ()):
        return []
    seat = [shapely.Polygon(ring) for ring in face.sheet.interiors]
    over = max((float(s.intersection(hole).area) for s in shapes for hole in seat), default=0.0)
    return [Fault("in-seat", face.id, over)] if over > AREA_NOISE else []


def _joints(face: Face, here: Sequence[Laid], lap: float) -> list[Fault]:
    """Two pieces of a kind that meet on a face lap by the limit."""
    if len(here) < 2:
        return []
    shapes = [part.shape for part in here]
    met = STRtree(shapes).query(shapes, predicate="dwithin", distance=LENGTH_NOISE)
    pairs: dict[tuple[int, int], tuple[float, float]] = {}
    for i, j in met.T.tolist():
        a, b = here[i], here[j]
        if i >= j or a.piece is b.piece:
            continue
        # a turn-up is narrower than any lap: what it is part of laps on the face beside it
        least = min(lap, _thin(a.bounds), _thin(b.bounds))
        pair = (id(a.piece), id(b.piece))
        wide, before = pairs.get(pair, (0.0, least))
        # two pieces that go round a corner meet in several places: one whole lap joins them
        pairs[pair] = (max(wide, _overlap(a, b)), max(least, before))
    return [
        Fault("joint-short", face.id, wide, lap)
        for wide, least in pairs.values()
        if wide < least - 1e-4
    ]


def _overlap(a: Laid, b: Laid) -> float:
    """Width of what two parts share."""
    if a.rect and b.rect:
        (al, ab, ar, at), (bl, bb, br, bt) = a.bounds, b.bounds
        return max(0.0, min(min(ar, br) - max(al, bl), min(at, bt) - max(ab, bb)))
    both = a.shape.intersection(b.shape)
    return 0.0 if both.is_empty else _thin(both.bounds)


def _thin(bounds: Bounds) -> float:
    return min(bounds[2] - bounds[0], bounds[3] - bounds[1])


def _fold_crossed(
    face: Face, other: Face, fold: Fold, laid: Mapping[str, Sequence[Laid]], lap: float
) -> list[Fault]:
    """Where fleece lies on both sides of a fold, some piece crosses it, a lap on both sides."""
    here, there = _beside(face, fold.line, lap), _beside(other, fold.there, lap)
    if here is None or there is None:
        return []
    crossing: dict[int, tuple[list[Laid], list[Laid]]] = {}
    for side, strip, on in ((0, here, face.id), (1, there, other.id)):
        for part in laid.get(on, ()):
            if not apart(part.bounds, strip.bounds):
                crossing.setdefault(id(part.piece), ([], []))[side].append(part)
    wanted = _both(here.along, there.along)
    for a, b in crossing.values():
        if a and b and wanted:
            held = _both(here.held_by(a), there.held_by(b))
            wanted = _without(wanted, held)
    open_ = math.fsum(last - first for first, last in wanted)
    return [Fault("fold-not-crossed", face.id, open_, lap)] if open_ > 1e-3 else []


class Strip:
    """The zone beside a fold, a lap deep; where along the fold there is any."""

    def __init__(self, zone: BaseGeometry, line: Line, rect: bool) -> None:
        """Keep the zone, and the fold's line in the axes of its face."""
        self.zone, self.rect = zone, rect
        (self.x, self.y), (bx, by) = line
        self.length = math.hypot(bx - self.x, by - self.y)
        self.ux, self.uy = (bx - self.x) / self.length, (by - self.y) / self.length
        self.bounds: Bounds = zone.bounds
        self.along = [self.span(p.bounds) for p in _parts(zone)]

    def span(self, bounds: Bounds) -> Interval:
        """Where along the fold a box lies."""
        left, low, right, high = bounds
        at = [
            (x - self.x) * self.ux + (y - self.y) * self.uy
            for x, y in ((left, low), (right, low), (left, high), (right, high))
        ]
        return max(0.0, min(at)), min(self.length, max(at))

    def held_by(self, parts: Sequence[Laid]) -> list[Interval]:
        """Where along the fold the parts of one piece lie over the whole depth."""
        if self.rect and all(part.rect for part in parts):
            left, low, right, high = self.bounds
            flat = abs(self.ux) > 0.5
            deep = (1, 3) if flat else (0, 2)
            first, last = (low, high) if flat else (left, right)
            whole = [
                self.span(p.bounds)
                for p in parts
                if p.bounds[deep[0]] <= first + 1e-6 and p.bounds[deep[1]] >= last - 1e-6
            ]
            if whole or len(parts) == 1:
                return whole
        shapes = [part.shape for part in parts]
        rest = self.zone.difference(shapes[0] if len(shapes) == 1 else unary_union(shapes))
        bare = [self.span(p.bounds) for p in _parts(rest) if p.area > AREA_NOISE]
        return _without(self.along, bare)


def _beside(face: Face, line: Line, lap: float) -> Strip | None:
    """Draw the zone beside a fold, a lap deep; None where there is none."""
    (ax, ay), (bx, by) = line
    level, plumb = ay == by, ax == bx
    strip = (
        shapely.box(
            min(ax, bx) - (lap if plumb else 0.0),
            min(ay, by) - (lap if level else 0.0),
            max(ax, bx) + (lap if plumb else 0.0),
            max(ay, by) + (lap if level else 0.0),
        )
        if level or plumb
        else shapely.linestrings(line).buffer(lap, cap_style="flat")
    )
    zone = _inside(face, face.zone).intersection(strip)
    if zone.is_empty or zone.area <= AREA_NOISE:
        return None
    # only what lies against the fold itself has to be held
    edge = shapely.linestrings(line)
    near = [part for part in _parts(zone) if part.distance(edge) <= LENGTH_NOISE]
    if not near:
        return None
    zone = near[0] if len(near) == 1 else unary_union(near)
    left, low, right, high = zone.bounds
    rect = len(near) == 1 and abs((right - left) * (high - low) - zone.area) <= 1e-9
    return Strip(zone, line, rect)


def _parts(shape: BaseGeometry) -> list[BaseGeometry]:
    return [p for p in getattr(shape, "geoms", [shape]) if not p.is_empty and p.area > 0.0]


def _both(one: Sequence[Interval], other: Sequence[Interval]) -> list[Interval]:
    """Find where two sets of intervals overlap."""
    return [
        (max(a, c), min(b, d)) for a, b in one for c, d in other if min(b, d) - max(a, c) > 1e-7
    ]


def _without(intervals: Sequence[Interval], taken: Iterable[Interval]) -> list[Interval]:
    """Take intervals out of others."""
    left = list(intervals)
    for first, last in taken:
        cut: list[Interval] = []
        for low, high in left:
            cut += [(low, min(high, first)), (max(low, last), high)]
        left = [(low, high) for low, high in cut if high - low > 1e-7]
    return left


def _plates_covered(
    layout: Layout, laid: Mapping[str, Sequence[Laid]], faces: Mapping[str, Face]
) -> list[Fault]:
    """Every plate is covered past its edges, but for what stands there or lies in a wall."""
    margin = layout.parameters["plate-margin"].value
    faults = []
    for number, plate in enumerate(layout.plates, 1):
        face = faces.get(plate.face)
        covers = [p.shape for p in laid.get(plate.face, ()) if p.piece.kind == "cover"]
        wanted = plate.shape.buffer(margin - LENGTH_NOISE, join_style="mitre")
        if face is not None:
            wanted = _inside(face, wanted.intersection(face.sheet))
        bare = wanted.difference(unary_union(covers)) if covers else wanted
        if bare.area > AREA_NOISE:
            faults.append(Fault("plate-bare", f"plate-{number}", float(bare.area), margin))
    return faults


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
