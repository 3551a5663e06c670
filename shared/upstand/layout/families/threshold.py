"""Layout of a low door: roof, riser, sill, jambs, the wall beside them and the back."""

from __future__ import annotations

import shapely
from shapely.ops import unary_union

from upstand.edition import Edition
from upstand.formulas import areas, runs
from upstand.formulas import pieces as piece_formulas
from upstand.layout.builder import GROUND, Builder, seam
from upstand.layout.families.wall_base import WALL, lay_base
from upstand.layout.model import Ask, Frame, Layout, LayoutRefusal, Line, Lying, Unanswerable
from upstand.layout.plates_of_runs import lay_plates
from upstand.layout.run_ends import Run, list_ground
from upstand.layout.strips import Lay, Spread, lay_patches, lay_strip
from upstand.quantity.traced import Traced, reaches, reckon
from upstand.query.defaults import Settled
from upstand.telling.said import say


def lay_out_threshold(settled: Settled, edition: Edition) -> Layout:
    """Lay out a low door: roof, riser and sill, both jambs, the wall beside them, the back."""
    b = Builder(settled, edition, ("jamb-over-sill", "least-sill"))
    width, s, d = b.size("length"), b.size("riser"), b.size("sill")
    t, p = b.size("returns"), b.size("back")
    h = _height(b, s)
    _sense(b, h, s, p, t)
    least = b.given["least-sill"]
    if d.value < least.value - 1e-9:
        raise Unanswerable(Ask("sill-too-shallow", "roof-designer", found=d, least=least))
    r = b.reveal
    run = Run(b, b.plus(width, b.times(t, 2.0, "returns")), -t.value)
    w, plates = lay_plates(b, b.size("flange"), run.length.value)
    deep = reckon(areas.line_height, height=w, reveal=r)
    tall = reckon(areas.line_height, height=h, reveal=r)
    back = p.value > 0.0
    reach = d if back else b.plus(d, r)
    jamb_height, jamb_zone = b.less(tall, s), b.less(h, s)
    sides = b.plus(b.times(t, 2.0, "returns"), *_free(b, run))
    b.flat.insert(0, (run.masked, deep))
    list_ground(b, b.rectangle(run.masked, deep), plates)
    b.surface("riser", "riser", "upright", b.rectangle(width, s))
    b.surface("sill", "sill", "flat", b.rectangle(width, reach))
    jambs = b.times(b.rectangle(reach, jamb_height), 2.0, "jambs")
    b.surface("jamb", "jamb", "upright", jambs)
    b.surface("wall", "wall", "upright", b.rectangle(sides, tall))
    above = b.less(jamb_zone, p) if back else jamb_zone
    if back:
        strips = b.times(b.rectangle(r, above), 2.0, "strips beside the jambs")
        b.surface("back", "back", "upright", b.plus(b.rectangle(width, b.plus(p, r)), strips))
    b.zone[:0] = [
        b.rectangle(run.length, w),
        b.rectangle(width, b.plus(s, d, p) if back else b.plus(s, d)),
        b.times(b.rectangle(d, jamb_zone), 2.0, "jambs"),
        b.times(b.rectangle(t, h), 2.0, "returns"),
    ]
    b.tape[:0] = [run.masked, sides, b.times(reach, 2.0, "jambs"), width]
    up_the_back = above if back else b.plus(above, r)
    b.tape.append(b.times(up_the_back, 2.0, "up the back"))
    run.end_tape(b, deep, tall)
    b.corners += 2 * round(run.ends.value) + (4 if back else 2)
    b.facts["riser"] = s
    _faces(b, run, (width.value, s.value, d.value, t.value, p.value), h.value, w.value)
    lay_base(b, run, w, "riser", _on_fronts(width.value))
    _pieces(b, run, width, s, d, t, p, h)
    return b.layout("wall", line_height=tall)


def _height(b: Builder, riser: Traced) -> Traced:
    """Height of the one level line: as asked, else the least or a little over the sill."""
    limit = b.least_height()
    accepted = bool(b.settled.choices.get("accepted"))
    if not reaches(riser, limit):
        b.asks.append(
            Ask(
                "sill-low",
                "roof-designer",
                "confirm" if accepted else "ask",
                found=riser,
                least=limit,
            )
        )
    if "height" not in b.sizes:
        over = b.given["jamb-over-sill"]
        b.sizes["height"] = reckon(runs.default_line, least=limit, edge=riser, margin=over)
    return b.size("height")


def _sense(b: Builder, h: Traced, s: Traced, p: Traced, t: Traced) -> None:
    """Refuse sizes that contradict one another, all at once."""
    faults = []
    least = s.value + b.given["jamb-over-sill"].value
    if h.value < least - 1e-9:
        faults.append(
            (
                "/height",
                say(
                    "line-under-sill",
                    value=f"{h.value:g} in",
                    riser=f"{s.value:g} in",
                    least=f"{least:g} in",
                ),
            )
        )
    elif p.value > h.value - s.value + 1e-9:
        faults.append(
            (
                "/back",
                say("back-over-line", value=f"{p.value:g} in", most=f"{h.value - s.value:g} in"),
            )
        )
    if t.value < b.lap.value - 1e-9:
        faults.append(
            ("/returns", say("returns-short", value=f"{t.value:g} in", least=f"{b.lap.value:g} in"))
        )
    if faults:
        raise LayoutRefusal(faults)


def _free(b: Builder, run: Run) -> list[Traced]:
    if not run.ends.value:
        return []
    return [b.times(b.reveal, run.ends.value, "free ends")]


def _on_fronts(width: float) -> Lay:
    """Put what goes up the front on the wall beside the door and on the riser, by where it is."""

    def lay(face: str, along: tuple[float, float], out: tuple[float, float]) -> list[Lying]:
        if face == "roof":
            return [Lying("roof", shapely.box(along[0], out[0], along[1], out[1]))]
        found = []
        for name, low, high in (
            ("wall-left", -1e9, 0.0),
            ("riser", 0.0, width),
            ("wall-right", width, 1e9),
        ):
            first, last = max(along[0], low), min(along[1], high)
            if last > first:
                found.append(Lying(name, shapely.box(first, out[0], last, out[1])))
        return found

    return lay


def _faces(
    b: Builder,
    run: Run,
    sizes: tuple[float, float, float, float, float],
    h: float,
    w: float,
) -> None:
    """Draw the faces. Heights are over the roof, depths from the wall's front inwards."""
    width, s, d, t, p = sizes
    r = b.reveal.value
    top, deep = h + r, w + r
    back = p > 0.0
    reach = d if back else d + r
    left, right = run.outer
    lines: dict[str, Line] = {
        "wall-left": ((left, 0.0), (0.0, 0.0)),
        "riser": ((0.0, 0.0), (width, 0.0)),
        "wall-right": ((width, 0.0), (right, 0.0)),
    }

    b.face(
        "roof", "roof", "flat",
        shapely.box(left, 0.0, right, deep),
        shapely.box(-t, 0.0, width + t, w),
        GROUND,
        folds=[(name, line, line) for name, line in lines.items()],
        joined=run.goes_on(deep),
    )  # fmt: skip
    b.face(
        "riser", "riser", "upright",
        shapely.box(0.0, 0.0, width, s), shapely.box(0.0, 0.0, width, s), WALL,
        folds=[
            seam("roof", (0.0, 0.0), (width, 0.0)),
            seam("wall-left", (0.0, 0.0), (0.0, s)),
            seam("wall-right", (width, 0.0), (width, s)),
            seam("sill", (0.0, s), (width, s), (0.0, 0.0), (width, 0.0)),
        ],
    )  # fmt: skip
    behind: list[tuple[str, Line, Line]] = []
    if back:
        behind = [seam("back", (0.0, d), (width, d), (0.0, s), (width, s))]
    b.face(
        "sill", "sill", "flat",
        shapely.box(0.0, 0.0, width, reach), shapely.box(0.0, 0.0, width, d),
        Frame((0.0, 0.0, s), (1.0, 0.0, 0.0), (0.0, -1.0, 0.0)),
        folds=[
            seam("riser", (0.0, 0.0), (width, 0.0), (0.0, s), (width, s)),
            seam("jamb-left", (0.0, 0.0), (0.0, reach), (0.0, s), (reach, s)),
            seam("jamb-right", (width, 0.0), (width, reach), (0.0, s), (reach, s)),
            *behind,
        ],
    )  # fmt: skip
    for side, at, outer, goes_on in (
        ("left", 0.0, left, not run.free[0]),
        ("right", width, right, not run.free[1]),
    ):
        low, high = min(at, outer), max(at, outer)
        zone = (-t, 0.0) if side == "left" else (width, width + t)
        b.face(
            f"wall-{side}", "wall", "upright",
            shapely.box(low, 0.0, high, top), shapely.box(zone[0], 0.0, zone[1], h), WALL,
            folds=[
                ("roof", lines[f"wall-{side}"], lines[f"wall-{side}"]),
                seam("riser", (at, 0.0), (at, s)),
                seam(f"jamb-{side}", (at, s), (at, top), (0.0, s), (0.0, top)),
            ],
            joined=[((outer, 0.0), (outer, top))] if goes_on else [],
        )  # fmt: skip
        there = []
        if back:
            there = [seam("back", (d, s), (d, top), (at, s), (at, top))]
        b.face(
            f"jamb-{side}", "jamb", "upright",
            shapely.box(0.0, s, reach, top), shapely.box(0.0, s, d, h),
            Frame((at, 0.0, 0.0), (0.0, -1.0, 0.0), (0.0, 0.0, 1.0)),
            folds=[
                seam(f"wall-{side}", (0.0, s), (0.0, top), (at, s), (at, top)),
                seam("sill", (0.0, s), (reach, s), (at, 0.0), (at, reach)),
                *there,
            ],
        )  # fmt: skip
    if back:
        sheet = unary_union(
            [
                shapely.box(0.0, s, width, s + p + r),
                shapely.box(0.0, s, r, top),
                shapely.box(width - r, s, width, top),
            ]
        )
        b.face(
            "back", "back", "upright",
            sheet, shapely.box(0.0, s, width, s + p),
            Frame((0.0, -d, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0)),
            folds=[
                seam("sill", (0.0, s), (width, s), (0.0, d), (width, d)),
                seam("jamb-left", (0.0, s), (0.0, top), (d, s), (d, top)),
                seam("jamb-right", (width, s), (width, top), (d, s), (d, top)),
            ],
        )  # fmt: skip


def _pieces(
    b: Builder,
    run: Run,
    width: Traced,
    s: Traced,
    d: Traced,
    t: Traced,
    p: Traced,
    h: Traced,
) -> None:
    """Patches at the foot of the jambs, the sill piece, the returns round the jambs, the jambs."""
    lap = b.lap
    k, wide, low, deep, up = lap.value, width.value, s.value, d.value, p.value
    places = [
        [
            ("sill", *edge, k),
            (f"jamb-{side}", 0.0, low, k, low + k),
            (f"wall-{side}", *front, low + k),
        ]
        for side, edge, front in (
            ("left", (0.0, 0.0, k), (-k, low, 0.0)),
            ("right", (wide - k, 0.0, wide), (wide, low, wide + k)),
        )
    ]
    if up:
        rise = low + min(up, k)
        places += [
            [
                ("sill", x, deep - k, x + k, deep),
                (f"jamb-{side}", deep - k, low, deep, low + k),
                ("back", x, low, x + k, rise),
            ]
            for side, x in (("left", 0.0), ("right", wide - k))
        ]
    lay_patches(b, *places)
    over = b.times(lap, 2.0, "up both jambs")
    sizes = [lap, s, d] + ([p] if up else [])
    spreads = [
        Spread("roof", k, 0.0, down=True),
        Spread("riser", low, 0.0),
        Spread("sill", deep, 0.0),
    ]
    if up:
        spreads.append(Spread("back", up, low))
    lay_strip(
        b,
        "sill",
        b.plus(*sizes),
        b.plus(width, over),
        spreads,
        -k,
        shifted=True,
        lay=_on_sill(wide, low, deep, k),
    )
    joined = round(run.joined.value)
    half = b.times(lap, 0.5, "half a lap past an end that goes on")
    tall = reckon(piece_formulas.wrap_width, height=h, foot=lap)
    for side, goes_on in (("left", joined > 1), ("right", joined > 0)):
        length = b.plus(t, lap, *((half,) if goes_on else ()))
        start = -(length.value - k) if side == "left" else -k
        spreads = [Spread("roof", k, 0.0, down=True), Spread(f"wall-{side}", h.value, 0.0)]
        lay = _on_return(side, wide, low, k)
        lay_strip(b, "wall", tall, length, spreads, start, shifted=True, lay=lay)
    for side in ("left", "right"):
        lay_strip(
            b,
            "jamb",
            b.less(h, s),
            d,
            [Spread(f"jamb-{side}", h.value - low, low)],
            0.0,
        )


def _on_sill(wide: float, low: float, deep: float, k: float) -> Lay:
    """Put the sill piece on its faces; what is wider than the sill goes up both jambs."""

    def lay(face: str, along: tuple[float, float], out: tuple[float, float]) -> list[Lying]:
        first, last = max(along[0], 0.0), min(along[1], wide)
        if face == "roof":
            return [Lying(face, shapely.box(along[0], out[0], along[1], out[1]))]
        found = [Lying(face, shapely.box(first, out[0], last, out[1]))]
        for side, past, front in (
            ("left", -min(along[0], 0.0), (-k, 0.0)),
            ("right", max(along[1], wide) - wide, (wide, wide + k)),
        ):
            if past <= 0.0:
                continue
            if face == "riser":
                box = shapely.box(front[0], out[0], front[1], out[1])
                found.append(Lying(f"wall-{side}", box))
            elif face == "sill":
                box = shapely.box(out[0], low, out[1], low + past)
                found.append(Lying(f"jamb-{side}", box))
            else:
                box = shapely.box(deep - past, out[0], deep, out[1])
                found.append(Lying(f"jamb-{side}", box))
        return found

    return lay


def _on_return(side: str, wide: float, low: float, k: float) -> Lay:
    """Put a return's piece on the wall, and what goes round on jamb and riser.

    Along the piece 0 is the jamb's edge, before it the wall on the left, behind it on the right.
    """
    left = side == "left"

    def lay(face: str, along: tuple[float, float], out: tuple[float, float]) -> list[Lying]:
        if not left:
            along = (along[0] + wide, along[1] + wide)
        if face == "roof":
            return [Lying(face, shapely.box(along[0], out[0], along[1], out[1]))]
        edge = 0.0 if left else wide
        on_wall = (min(along[0], edge), edge) if left else (edge, max(along[1], edge))
        found = [Lying(f"wall-{side}", shapely.box(on_wall[0], out[0], on_wall[1], out[1]))]
        past = along[1] - edge if left else edge - along[0]
        if past <= 0.0:
            return found
        if out[1] > low:
            box = shapely.box(0.0, max(out[0], low), past, out[1])
            found.append(Lying(f"jamb-{side}", box))
        if out[0] < low:
            over = (edge, edge + past) if left else (edge - past, edge)
            box = shapely.box(over[0], out[0], over[1], min(out[1], low))
            found.append(Lying("riser", box))
        return found

    return lay
