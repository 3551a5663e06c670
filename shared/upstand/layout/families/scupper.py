"""Layout of an overflow scupper: roof, the wall round the opening, and its throat."""

from __future__ import annotations

import shapely
from shapely.geometry.base import BaseGeometry

from upstand.edition import Edition
from upstand.formulas import areas, runs
from upstand.formulas import pieces as piece_formulas
from upstand.layout.builder import GROUND, Builder, seam
from upstand.layout.families.wall_base import WALL, lay_base
from upstand.layout.model import (
    Ask,
    Frame,
    Layout,
    LayoutRefusal,
    Line,
    Lying,
    Rectangle,
    Unanswerable,
)
from upstand.layout.plates_of_runs import lay_plates
from upstand.layout.run_ends import Run, list_ground
from upstand.layout.strips import Lay, Spread, lay_patches, lay_single, lay_strip
from upstand.quantity.traced import Traced, reckon
from upstand.query.defaults import Settled
from upstand.telling.said import say


def lay_out_scupper(settled: Settled, edition: Edition) -> Layout:
    """Lay out an overflow scupper: roof, wall round the opening, and the throat."""
    b = Builder(settled, edition, ("face-over-head", "least-reach", "least-opening"))
    width, high, lip = b.size("opening_width"), b.size("opening_height"), b.size("lip")
    reach = _reach(b)
    height = _height(b, high, lip)
    least = b.given["least-opening"]
    for size in (width, high):
        if size.value < least.value - 1e-9:
            b.asks.append(Ask("opening-small", "roof-designer", found=size, least=least))
    r, flange = b.reveal, b.size("flange")
    run = Run(b, b.plus(width, b.times(flange, 2.0, "beside the opening")))
    w, plates = lay_plates(b, flange, run.length.value)
    deep = reckon(areas.line_height, height=w, reveal=r)
    tall = reckon(areas.line_height, height=height, reveal=r)
    into = reckon(areas.line_height, height=reach, reveal=r)
    opening = b.rectangle(width, high)
    b.flat.insert(0, (run.masked, deep))
    list_ground(b, b.rectangle(run.masked, deep), plates)
    wall = b.rectangle(run.masked, tall)
    b.surface("wall", "wall", "upright", reckon(areas.difference, whole=wall, part=opening))
    around = b.plus(width, b.times(high, 2.0, "both sides"))
    b.surface("throat-floor", "throat", "flat", b.rectangle(width, into))
    b.surface("throat", "throat", "upright", b.rectangle(around, into))
    face = b.rectangle(run.length, height)
    girth = b.plus(around, width)
    b.zone[:0] = [
        b.rectangle(run.length, w),
        reckon(areas.difference, whole=face, part=opening),
        b.rectangle(girth, reach),
    ]
    b.tape[:0] = [run.masked, run.masked, girth]
    run.end_tape(b, deep, tall)
    b.corners += 2 * round(run.ends.value)
    sizes = (flange.value, width.value, lip.value, high.value, reach.value)
    _faces(b, run, sizes, height.value, w.value)
    _pieces(b, run, width, high, lip, reach, height, w, opening)
    return b.layout("opening", line_height=tall)


def _reach(b: Builder) -> Traced:
    """How far fleece goes into the throat: as asked, else so that the tape is at the drip edge."""
    most = b.less(b.size("depth"), b.reveal)
    least = b.given["least-reach"]
    reach = b.sizes.get("reach")
    if reach is None:
        reach = b.sizes["reach"] = most
    elif reach.value > most.value + 1e-9:
        raise LayoutRefusal(
            [
                (
                    "/reach",
                    say(
                        "reach-over-wall",
                        value=f"{reach.value:g} in",
                        depth=f"{b.size('depth').value:g} in",
                        most=f"{most.value:g} in",
                    ),
                )
            ]
        )
    if reach.value < least.value - 1e-9:
        raise Unanswerable(Ask("reach-too-short", "roof-designer", found=reach, least=least))
    return reach


def _height(b: Builder, high: Traced, lip: Traced) -> Traced:
    over = b.given["face-over-head"]
    head = b.plus(lip, high)
    if "height" not in b.sizes:
        limit = b.least_height()
        b.sizes["height"] = reckon(runs.default_line, least=limit, edge=head, margin=over)
    height = b.size("height")
    least = head.value + over.value
    if height.value < least - 1e-9:
        raise LayoutRefusal(
            [
                (
                    "/height",
                    say("line-under-head", value=f"{height.value:g} in", least=f"{least:g} in"),
                )
            ]
        )
    return height


def _faces(
    b: Builder, run: Run, sizes: tuple[float, float, float, float, float], h: float, w: float
) -> None:
    """Draw the faces. In the throat: x along the wall or depth first, then depth or height."""
    side, width, lip, high, q = sizes
    x, r = run.length.value, b.reveal.value
    left, right = run.outer
    first, last, top = side, side + width, lip + high
    into = q + r

    foot = seam("wall", (left, 0.0), (right, 0.0))
    b.face(
        "roof", "roof", "flat",
        shapely.box(left, 0.0, right, w + r), shapely.box(0.0, 0.0, x, w), GROUND,
        folds=[foot], joined=run.goes_on(w + r),
    )  # fmt: skip
    floor: Line = ((first, lip), (last, lip))
    head: Line = ((first, top), (last, top))
    near: Line = ((0.0, 0.0), (width, 0.0))
    upright: Line = ((0.0, lip), (0.0, top))
    b.face(
        "wall", "wall", "upright",
        shapely.box(left, 0.0, right, h + r), shapely.box(0.0, 0.0, x, h), WALL,
        opening=shapely.box(first, lip, last, top),
        folds=[
            seam("roof", (left, 0.0), (right, 0.0)),
            ("throat-floor", floor, near),
            ("throat-head", head, near),
            ("throat-left", ((first, lip), (first, top)), upright),
            ("throat-right", ((last, lip), (last, top)), upright),
        ],
        joined=run.goes_on(h + r),
    )  # fmt: skip
    for name, level, edge in (("throat-floor", lip, floor), ("throat-head", top, head)):
        b.face(
            name, "throat-floor" if name == "throat-floor" else "throat",
            "flat" if name == "throat-floor" else "upright",
            shapely.box(0.0, 0.0, width, into), shapely.box(0.0, 0.0, width, q),
            Frame((first, 0.0, level), (1.0, 0.0, 0.0), (0.0, -1.0, 0.0)),
            folds=[
                ("wall", near, edge),
                seam("throat-left", (0.0, 0.0), (0.0, into), (0.0, level), (into, level)),
                seam("throat-right", (width, 0.0), (width, into), (0.0, level), (into, level)),
            ],
        )  # fmt: skip
    for name, at, x_at in (("throat-left", first, 0.0), ("throat-right", last, width)):
        b.face(
            name, "throat", "upright",
            shapely.box(0.0, lip, into, top), shapely.box(0.0, lip, q, top),
            Frame((at, 0.0, 0.0), (0.0, -1.0, 0.0), (0.0, 0.0, 1.0)),
            folds=[
                ("wall", upright, ((at, lip), (at, top))),
                seam("throat-floor", (0.0, lip), (into, lip), (x_at, 0.0), (x_at, into)),
                seam("throat-head", (0.0, top), (into, top), (x_at, 0.0), (x_at, into)),
            ],
        )  # fmt: skip


def _pieces(
    b: Builder,
    run: Run,
    width: Traced,
    high: Traced,
    lip: Traced,
    reach: Traced,
    height: Traced,
    w: Traced,
    opening: Traced,
) -> None:
    """Floor first, in one length from the roof; base; sides; head; patches; the wall last."""
    lap = b.lap
    k, side = lap.value, b.size("flange").value
    wide, tall, low, q = width.value, high.value, lip.value, reach.value
    first, last, top = side, side + wide, low + tall
    over = b.times(lap, 2.0, "past both sides of the opening")
    beyond = b.plus(width, over)
    spreads = [
        Spread("roof", k, 0.0, down=True),
        Spread("wall", low, 0.0),
        Spread("throat-floor", q, 0.0),
    ]
    lay = _in_throat(first, last, low, top)
    lay_strip(b, "floor", b.plus(lap, lip, reach), beyond, spreads, -k, shifted=True, lay=lay)
    lay_base(b, run, w)
    both = []
    for name, edge, outer in (
        ("throat-left", 0.0, (first - k, first)),
        ("throat-right", wide - k, (last, last + k)),
    ):
        both.append(
            [
                Lying(name, shapely.box(0.0, low, q, top)),
                Lying("throat-floor", shapely.box(edge, 0.0, edge + k, q)),
                Lying("wall", shapely.box(outer[0], low, outer[1], top)),
            ]
        )
    lay_single(b, "throat", b.plus(high, lap), b.plus(reach, lap), both)
    spreads = [Spread("wall", k, top, down=True), Spread("throat-head", q, 0.0)]
    lay_strip(b, "head", b.plus(reach, lap), beyond, spreads, -k, shifted=True, lay=lay)
    half = b.given["corner-patch"].value / 2.0
    half_high = min(half, tall)
    lay_patches(
        b,
        *(
            [
                ("wall", x - (half if at else 0.0), y, x + (0.0 if at else half), y + z),
                (name, 0.0, y0, half, y0 + half_high),
                (level, edge, 0.0, edge + half, half),
            ]
            for name, x, at, edge in (
                ("throat-left", first, True, 0.0),
                ("throat-right", last, False, wide - half),
            )
            for level, y, z, y0 in (
                ("throat-floor", low - min(half, low), min(half, low), low),
                ("throat-head", top, half, top - half_high),
            )
        ),
    )
    size = reckon(piece_formulas.wrap_width, height=height, foot=lap)
    at = run.past_left + first
    where = Rectangle(at, k + low, at + wide, k + top)
    hole = shapely.box(first, low, last, top)

    def around(face: str, along: tuple[float, float], out: tuple[float, float]) -> list[Lying]:
        shape: BaseGeometry = shapely.box(along[0], out[0], along[1], out[1])
        return [Lying(face, shape.difference(hole) if face == "wall" else shape)]

    lay_strip(
        b,
        "wall",
        size,
        run.fleece,
        [Spread("roof", k, 0.0, down=True), Spread("wall", height.value, 0.0)],
        -run.past_left,
        shifted=True,
        lay=around,
        opening=(where, opening),
    )


def _in_throat(first: float, last: float, low: float, top: float) -> Lay:
    """Put the floor or the head piece on its faces; what is wider goes on the throat's sides.

    Along the piece 0 is the left side of the opening.
    """
    wide = last - first

    def lay(face: str, along: tuple[float, float], out: tuple[float, float]) -> list[Lying]:
        if face in ("roof", "wall"):
            return [Lying(face, shapely.box(first + along[0], out[0], first + along[1], out[1]))]
        begin, end = max(along[0], 0.0), min(along[1], wide)
        found = [Lying(face, shapely.box(begin, out[0], end, out[1]))]
        for name, past in (
            ("throat-left", -min(along[0], 0.0)),
            ("throat-right", max(along[1], wide) - wide),
        ):
            if past <= 0.0:
                continue
            past = min(past, top - low)
            up = (low, low + past) if face == "throat-floor" else (top - past, top)
            found.append(Lying(name, shapely.box(out[0], up[0], out[1], up[1])))
        return found

    return lay
