"""Proves what lies on plane faces, written from the definitions: no formula is used here.

Every face says what lies within its tape, where fleece lies once, and where it meets the others.
All else is found again from those drawings and from where each piece is said to lie.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import pairwise
from typing import NamedTuple

import shapely
from shapely.geometry.base import BaseGeometry

from upstand.layout.edges import Interval, without
from upstand.layout.flat import NOTHING, Box, Flat, flat, flats
from upstand.layout.model import Face, Fault, Fold, Layout, Line, Piece
from upstand.layout.placed import apart
from upstand.query.defaults import Settled
from upstand.sections.near import near_pairs

AREA_NOISE = 1e-6
LENGTH_NOISE = 1e-6
#: Round edges are drawn with straight sides; sums of many edges stray as well.
DRAWN = 2e-3
#: Kinds whose pieces each lie for themselves: none is the continuation of another.
ALONE = ("cap", "cover", "patch")


class Laid(NamedTuple):
    """A part of a piece where it lies."""

    piece: Piece
    shape: BaseGeometry
    flat: Flat
    bounds: Box


class Drawn(NamedTuple):
    """A face as it is drawn, and what lies on it."""

    face: Face
    sheet: Flat
    zone: Flat
    opening: Flat
    laid: Sequence[Laid]


def draw_faces(layout: Layout) -> dict[str, Drawn]:
    """Take all faces and all that lies on them apart, measured at once."""
    assert layout.fleece is not None
    parts = [(piece, lying) for piece in layout.fleece.pieces for lying in piece.lies]
    faces = layout.faces
    shapes = [lying.shape for _, lying in parts] + [face.sheet for face in faces]
    taken = flats(shapes + [face.zone for face in faces])
    laid: dict[str, list[Laid]] = {}
    for (piece, lying), found in zip(parts, taken, strict=False):
        part = Laid(piece, lying.shape, found, found.bounds)
        laid.setdefault(lying.face, []).append(part)
    sheets, zones = taken[len(parts) : len(shapes)], taken[len(shapes) :]
    return {
        face.id: Drawn(
            face,
            sheet,
            zone,
            NOTHING if face.opening is None else flat(face.opening),
            laid.get(face.id, []),
        )
        for face, sheet, zone in zip(faces, sheets, zones, strict=True)
    }


def prove_faces(layout: Layout, settled: Settled) -> tuple[Fault, ...]:
    """Check what must hold of every such layout; returns what does not."""
    assert layout.fleece is not None and layout.masking is not None
    pieces = layout.fleece.pieces
    lap = layout.parameters["fleece-lap"].value
    faces = draw_faces(layout)
    faults = [*_counted(layout, faces.values()), *_pieces_hold(pieces, faces)]
    for here in faces.values():
        here = here._replace(laid=[_reaching(part, here.opening) for part in here.laid])
        faults += _covered(here)
        faults += _reveal(here, settled.sizes["reveal"].value)
        faults += _out_of_the_seat(here)
        faults += off_the_tape(here, layout.parameters["fleece-to-tape"].value)
        for kind in dict.fromkeys(p.piece.kind for p in here.laid if p.piece.kind not in ALONE):
            faults += _joints(here.face, [p for p in here.laid if p.piece.kind == kind], lap)
        for fold in here.face.folds:
            if fold.face > here.face.id:
                faults += _fold_crossed(here, faces[fold.face], fold, lap)
    faults += _plates_covered(layout, faces)
    faults += masks_apart(faces.values())
    faults += _bonded(layout)
    return tuple(faults)


def _near(found: float, drawn: float, what: str) -> list[Fault]:
    if abs(found - drawn) > DRAWN + 1e-5 * abs(drawn):
        return [Fault("counted-otherwise", what, found, drawn)]
    return []


def _counted(layout: Layout, faces: Iterable[Drawn]) -> list[Fault]:
    """What was counted is what is drawn: surfaces, zone, tape and its corners."""
    assert layout.fleece is not None and layout.masking is not None
    faults = []
    drawn: dict[str, float] = {}
    zone = 0.0
    for here in faces:
        area = here.sheet.area_without(here.opening)
        drawn[here.face.surface] = drawn.get(here.face.surface, 0.0) + area
        zone += here.zone.area_without(here.opening)
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
    if "patch-radius" in layout.parameters:
        # the corners that are off the patch are off its zone
        corner = layout.parameters["patch-radius"].value
        zone -= (4.0 - math.pi) * corner * corner
    faults += _near(layout.fleece.zone.value, zone, "zone")
    lines = [line for face in layout.faces for line in face.tape]
    tape = math.fsum(shapely.length(lines).tolist())
    faults += _near(layout.masking.tape.value, tape, "tape")
    overlap = layout.parameters["tape-corner-overlap"].value
    corners = sum(map(_corners, lines)) * overlap
    faults += _near(layout.masking.corners.value, corners, "corners")
    return faults


def _corners(line: BaseGeometry) -> int:
    """Count where two straight tapes meet within a face; a ring of many sides has none."""
    points = shapely.get_coordinates(line).tolist()
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


def _pieces_hold(pieces: Iterable[Piece], faces: Mapping[str, Drawn]) -> list[Fault]:
    """A piece is at least as large as what is laid of it, and lies on faces that there are."""
    faults = []
    areas: dict[str, float] = {}
    for here in faces.values():
        for part in here.laid:
            areas[part.piece.id] = areas.get(part.piece.id, 0.0) + part.flat.area
    for piece in pieces:
        laid = areas.get(piece.id, 0.0)
        cut = piece.width.value * piece.length.value
        if laid > cut + DRAWN or piece.net.value > cut + AREA_NOISE:
            faults.append(Fault("piece-too-small", piece.id, cut, max(laid, piece.net.value)))
        faults += [Fault("no-such-face", x.face) for x in piece.lies if x.face not in faces]
    return faults


def _reaching(part: Laid, opening: Flat) -> Laid:
    """Take a piece that is cut round the opening, and nothing else, for its whole rectangle."""
    sheet = part.piece.sheet
    if sheet is None or part.flat.boxes is not None:
        return part
    whole = Flat(((sheet.left, sheet.low, sheet.right, sheet.high),))
    cut = whole.minus(opening).drawn
    return part._replace(flat=whole) if cut.equals_exact(part.shape, LENGTH_NOISE) else part


def _covered(here: Drawn) -> list[Fault]:
    """Fleece lies on all of the face's zone."""
    bare = here.zone
    for part in sorted(here.laid, key=lambda part: -part.flat.area):
        if bare.area <= AREA_NOISE:
            return []
        bare = bare.minus(part.flat)
    area = bare.minus(here.opening).area
    # the corners off a patch are off its zone; they are a hundredth of it at most
    most = 1.0 if here.face.surface == "roof" and _is_patch(here.laid) else DRAWN * 0.1
    return [Fault("zone-bare", here.face.id, area)] if area > most else []


def _is_patch(laid: Iterable[Laid]) -> bool:
    shapes = [part.shape for part in laid if part.flat.boxes is None]
    return any(
        len(shape.exterior.coords) > 60 and not shape.interiors
        for shape in shapes
        if shape.geom_type == "Polygon"
    )


def _reveal(here: Drawn, reveal: float) -> list[Fault]:
    """The zone ends exactly the reveal before the tape, and nowhere else before the edge."""
    lines = here.face.tape
    if here.sheet.boxes is not None and here.zone.boxes is not None:
        wanted = here.sheet
        for line in lines:
            for beside in _beside_tape(line, reveal):
                wanted = wanted.minus(beside)
        off = here.zone.minus(wanted).area + wanted.minus(here.zone).area
    else:
        off = _ring_off(here, lines, reveal)
    most = DRAWN + 1e-5 * here.zone.area
    return [Fault("reveal-off", here.face.id, off, reveal)] if off > most else []


def _beside_tape(line: BaseGeometry, reveal: float) -> Iterator[Flat]:
    """Draw what lies nearer to a straight tape than the reveal, its ends and corners square."""
    for (ax, ay), (bx, by) in pairwise(shapely.get_coordinates(line).tolist()):
        low, high = (min(ax, bx), min(ay, by)), (max(ax, bx), max(ay, by))
        box = (low[0] - reveal, low[1] - reveal, high[0] + reveal, high[1] + reveal)
        yield Flat((box,))


def _ring_off(here: Drawn, rings: Sequence[BaseGeometry], reveal: float) -> float:
    """Area by which a zone about rings of tape is another than it should be.

    What lies within the sheet, nowhere nearer to a ring, and is as large as that leaves, is it.
    """
    sheet, zone, wanted = here.sheet.drawn, here.zone.drawn, here.sheet.area
    shapely.prepare(rings)
    near = shapely.dwithin(rings, zone, reveal - DRAWN).any()
    if near or not (_same_edge(sheet, zone) or sheet.covers(zone)):
        return math.inf
    for ring in rings:
        seat = shapely.Polygon(ring)
        wanted -= float(seat.buffer(reveal, join_style="mitre").area - seat.area)
    return abs(here.zone.area - wanted)


def _same_edge(one: BaseGeometry, other: BaseGeometry) -> bool:
    edges = [getattr(shape, "exterior", None) for shape in (one, other)]
    return None not in edges and bool(shapely.equals_exact(*edges, LENGTH_NOISE))


def off_the_tape(here: Drawn, least: float) -> list[Fault]:
    """No fleece comes nearer to the tape than allowed, or over it."""
    shapes = [part.shape for part in here.laid]
    if not shapes:
        return []
    for line in here.face.tape:
        shapely.prepare(line)
        if shapely.dwithin(line, shapes, least - LENGTH_NOISE).any():
            near = float(shapely.distance(line, shapes).min())
            return [Fault("fleece-near-tape", here.face.id, near, least)]
    return []


def _out_of_the_seat(here: Drawn) -> list[Fault]:
    """Nothing lies within a ring's seat, which the tape goes round."""
    seats = [flat(shapely.Polygon(ring)) for ring in getattr(here.face.sheet, "interiors", ())]
    met = [(p, s) for s in seats for p in here.laid if s.drawn.intersects(p.shape)]
    over = max((part.flat.common(seat).area for part, seat in met), default=0.0)
    return [Fault("in-seat", here.face.id, over)] if over > AREA_NOISE else []


def _joints(face: Face, here: Sequence[Laid], lap: float) -> list[Fault]:
    """Two pieces of a kind that meet on a face lap by the limit."""
    pairs: dict[tuple[int, int], tuple[float, float]] = {}
    for i, j in near_pairs([part.shape for part in here], LENGTH_NOISE):
        a, b = here[i], here[j]
        if a.piece is b.piece:
            continue
        # a turn-up is narrower than any lap: what it is part of laps on the face beside it
        least = min(lap, _thin(a.bounds), _thin(b.bounds))
        pair = (id(a.piece), id(b.piece))
        wide, before = pairs.get(pair, (0.0, least))
        both = a.flat.common(b.flat)
        over = _thin(both.bounds) if both.area else 0.0
        # two pieces that go round a corner meet in several places: one whole lap joins them
        pairs[pair] = (max(wide, over), max(least, before))
    return [
        Fault("joint-short", face.id, wide, lap)
        for wide, least in pairs.values()
        if wide < least - 1e-4
    ]


def _thin(bounds: Box) -> float:
    return min(bounds[2] - bounds[0], bounds[3] - bounds[1])


def _fold_crossed(here: Drawn, there: Drawn, fold: Fold, lap: float) -> list[Fault]:
    """Where fleece lies on both sides of a fold, some piece crosses it, a lap on both sides."""
    sides = (Strip(here, fold.line, lap), Strip(there, fold.there, lap))
    wanted = _both(sides[0].along, sides[1].along)
    if not wanted:
        return []
    crossing: dict[int, tuple[list[Laid], list[Laid]]] = {}
    for side, strip in enumerate(sides):
        for part in strip.on.laid:
            if not apart(part.bounds, strip.zone.bounds):
                crossing.setdefault(id(part.piece), ([], []))[side].append(part)
    for a, b in crossing.values():
        if a and b and wanted:
            wanted = without(wanted, _both(sides[0].held_by(a), sides[1].held_by(b)))
    open_ = math.fsum(last - first for first, last in wanted)
    return [Fault("fold-not-crossed", here.face.id, open_, lap)] if open_ > 1e-3 else []


class Strip:
    """The zone beside a fold, a lap deep; where along the fold there is any.

    A fold lies along one of its face's axes; a zone that is drawn otherwise has none of it held.
    """

    def __init__(self, on: Drawn, line: Line, lap: float) -> None:
        """Find the side of the fold's line on which the zone lies against it."""
        self.on = on
        self.axis = 0 if line[0][1] == line[1][1] else 1
        self.start, self.back = line[0][self.axis], line[1][self.axis] < line[0][self.axis]
        level = line[0][1 - self.axis]
        first, last = sorted((line[0][self.axis], line[1][self.axis]))
        zone = on.zone.minus(on.opening)
        self.zone = NOTHING
        for low in (level - lap, level):
            side = (first, low, last, low + lap)
            if self.axis:
                side = (low, first, low + lap, last)
            found = zone.common(Flat((side,)))
            across = 1 - self.axis
            if any(
                min(abs(box[across] - level), abs(box[across + 2] - level)) <= LENGTH_NOISE
                for box in found.boxes or ()
            ):
                self.zone = found
        self.along = _merged(self.spans(self.zone))

    def spans(self, part: Flat) -> list[Interval]:
        """Where along the fold, from its beginning, the boxes of a part lie."""
        sign = -1.0 if self.back else 1.0
        found = []
        for box in part.boxes if part.boxes is not None else (part.bounds,):
            ends = [sign * (box[n] - self.start) for n in (self.axis, self.axis + 2)]
            found.append((min(ends), max(ends)))
        return found

    def held_by(self, parts: Sequence[Laid]) -> list[Interval]:
        """Where along the fold the parts of one piece lie over the whole depth."""
        zone, one = self.zone.boxes or (), parts[0].flat
        if len(zone) == len(parts) == 1 and one.boxes is not None and len(one.boxes) == 1:
            across, (box,) = 1 - self.axis, one.boxes
            low, high = zone[0][across] + LENGTH_NOISE, zone[0][across + 2] - LENGTH_NOISE
            return self.spans(one) if box[across] <= low and box[across + 2] >= high else []
        bare = self.zone
        for part in parts:
            bare = bare.minus(part.flat)
        return without(self.along, self.spans(bare))


def _merged(intervals: Iterable[Interval]) -> list[Interval]:
    """Join intervals that overlap or meet."""
    found: list[Interval] = []
    for low, high in sorted(intervals):
        if found and low <= found[-1][1] + 1e-7:
            found[-1] = (found[-1][0], max(found[-1][1], high))
        else:
            found.append((low, high))
    return found


def _both(one: Sequence[Interval], other: Sequence[Interval]) -> list[Interval]:
    """Find where two sets of intervals overlap."""
    return [
        (max(a, c), min(b, d)) for a, b in one for c, d in other if min(b, d) - max(a, c) > 1e-7
    ]


def _plates_covered(layout: Layout, faces: Mapping[str, Drawn]) -> list[Fault]:
    """Every plate is covered past its edges, but for what stands there or lies in a wall."""
    margin = layout.parameters["plate-margin"].value
    faults = []
    for number, plate in enumerate(layout.plates, 1):
        bare = flat(plate.shape.buffer(margin - LENGTH_NOISE, join_style="mitre"))
        here = faces.get(plate.face)
        if here is not None:
            bare = bare.common(here.sheet).minus(here.opening)
            for part in here.laid:
                if part.piece.kind == "cover":
                    bare = bare.minus(part.flat)
        if bare.area > AREA_NOISE:
            faults.append(Fault("plate-bare", f"plate-{number}", bare.area, margin))
    return faults


def masks_apart(faces: Iterable[Drawn]) -> list[Fault]:
    """No masked rectangle on the roof lies over another."""
    masks = [here.sheet for here in faces if here.face.surface == "roof"]
    over = [
        i
        for i, j in near_pairs([mask.drawn for mask in masks])
        if masks[i].common(masks[j]).area > AREA_NOISE
    ]
    return [Fault("masks-overlap", f"roof-{over[0] + 1}")] if over else []


def _bonded(layout: Layout) -> list[Fault]:
    """Fleece reaches past a bond breaker on both sides as far as is said."""
    if layout.breaker is None or layout.fleece is None or "bonded" not in layout.facts:
        return []
    left, low, right, high = layout.breaker.bounds
    bonded = layout.facts["bonded"].value
    bare = Flat(((left, low - bonded, right, high + bonded),))
    for lying in flats([x.shape for p in layout.fleece.pieces for x in p.lies]):
        bare = bare.minus(lying)
    return [Fault("not-bonded", "strip", bare.area, bonded)] if bare.area > AREA_NOISE else []
