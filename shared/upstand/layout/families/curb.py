"""Layout of a low curb: four sides, and the roof round them."""

from __future__ import annotations

import shapely

from upstand.edition import Edition
from upstand.formulas import areas, supply
from upstand.formulas import pieces as piece_formulas
from upstand.layout.builder import GROUND, Builder, seam
from upstand.layout.model import Frame, Layout, Line, Lying, Region
from upstand.layout.outlined import Outline, find_outline, lay_roof, list_roof
from upstand.layout.strips import Lay, Spread, lay_patches, lay_strip
from upstand.layout.uprights import Part
from upstand.quantity.traced import Traced, constant, reckon
from upstand.query.defaults import Settled

#: The sides in the order of laying: name, its corner on the left seen from outside, its direction.
SIDES = ("down", "right", "left", "up")


def lay_out_curb(settled: Settled, edition: Edition) -> Layout:
    """Lay out a curb: base strips down, both flanks, up; patches; the sides likewise."""
    b = Builder(settled, edition, ("corner-sharing",))
    a, c, h = b.size("width"), b.size("length"), b.size("height")
    outline = find_outline(b, "bar", {"width": a, "depth": c}, b.size("flange"), "curb")
    girth = outline.part.girth

    def cut(region: Region, part: Part, face: str) -> None:
        target = b.rectangle(region.width, region.length)
        b.zone.append(
            reckon(
                areas.zone_area,
                target_area=target,
                outline_area=part.area,
                girth=girth,
                height=h,
            )
        )
        _faces(b, outline, (a.value, c.value), h.value)
        _base(b, outline, a, c)
        half = b.given["corner-patch"].value / 2.0
        x, y = a.value / 2.0, c.value / 2.0
        lay_patches(b, *(_foot(x, y, half, *corner) for corner in CORNERS))
        _sides(b, a, c, h)

    inside = lay_roof(b, outline, cut)
    roof = reckon(areas.flat_area, mask_area=inside, outline_area=outline.part.area)
    list_roof(b, roof, outline.plates)
    up = reckon(areas.upright_area, girth=girth, height=h, reveal=b.reveal)
    b.surface("curb", "curb", "upright", up)
    b.tape.append(girth)
    line = reckon(areas.line_height, height=h, reveal=b.reveal)
    return b.layout("wall", line_height=line, girth=girth)


#: Corners of the outline: which way they lie, and the sides that meet there.
CORNERS = (
    (-1, -1, "left", "down"),
    (1, -1, "right", "down"),
    (-1, 1, "left", "up"),
    (1, 1, "right", "up"),
)


def _foot(
    x: float, y: float, half: float, east: int, north: int, flank: str, front: str
) -> list[tuple[str, float, float, float, float]]:
    """Say where the patch at one corner lies: on the roof outside it and on both sides."""
    left, low = east * x, north * y
    roof = sorted((left, left + east * half)), sorted((low, low + north * half))
    on_front = sorted((left, left - east * half))
    on_flank = sorted((low, low - north * half))
    return [
        ("roof-1", roof[0][0], roof[1][0], roof[0][1], roof[1][1]),
        (front, on_front[0], 0.0, on_front[1], half),
        (flank, on_flank[0], 0.0, on_flank[1], half),
    ]


def _faces(b: Builder, outline: Outline, sizes: tuple[float, float], h: float) -> None:
    """Draw the roof with the curb taken out, and the sides: along x or y, and up."""
    x, y = sizes[0] / 2.0, sizes[1] / 2.0
    top = h + b.reveal.value
    edges: dict[str, tuple[Line, Line]] = {
        "down": (((-x, -y), (x, -y)), ((-x, 0.0), (x, 0.0))),
        "right": (((x, -y), (x, y)), ((-y, 0.0), (y, 0.0))),
        "left": (((-x, -y), (-x, y)), ((-y, 0.0), (y, 0.0))),
        "up": (((-x, y), (x, y)), ((-x, 0.0), (x, 0.0))),
    }
    b.face(
        "roof-1", "roof", "flat",
        outline.region.mask.sheet(), outline.region.target.sheet(), GROUND,
        opening=shapely.box(-x, -y, x, y),
        folds=[(name, here, there) for name, (here, there) in edges.items()],
    )  # fmt: skip
    frames = {
        "down": Frame((0.0, -y, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0)),
        "right": Frame((x, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)),
        "left": Frame((-x, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)),
        "up": Frame((0.0, y, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0)),
    }
    for name in SIDES:
        here, there = edges[name]
        long = name in ("down", "up")
        half = x if long else y
        folds = [("roof-1", there, here)]
        # the two sides it meets, at its low and its high end
        for end, other in ((-half, "left" if long else "down"), (half, "right" if long else "up")):
            far = (y if name == "up" else -y) if long else (x if name == "right" else -x)
            folds.append(seam(other, (end, 0.0), (end, top), (far, 0.0), (far, top)))
        b.face(
            name, "curb", "upright",
            shapely.box(-half, 0.0, half, top), shapely.box(-half, 0.0, half, h),
            frames[name], folds=folds,
        )  # fmt: skip


def _reach(b: Builder, region: Region, side: str, across: Traced) -> Traced:
    """How far fleece reaches on to the roof from one side: the flange, or to a plate's cover."""
    target = region.target
    along_x = side in ("left", "right")
    sides = region.width if along_x else region.length
    flange = b.size("flange")
    half = across.value / 2.0
    drawn = {
        "down": -half - target.low,
        "up": target.high - half,
        "left": -half - target.left,
        "right": target.right - half,
    }[side]
    if abs(drawn - flange.value) < 1e-7 or sides.working is None:
        return flange
    if sides.working.formula != "span":
        # one plate's cover reaches farther on both sides: half of what is left
        rest = reckon(areas.span, first=across, last=sides)
        return reckon(
            supply.scaled, amount=rest, count=constant(0.5, "1", "the same on both sides")
        )
    ends = dict(sides.working.inputs)
    if side in ("down", "left"):
        edge = b.times(across, -0.5, "the side of the curb")
        return reckon(areas.span, first=ends["first"], last=edge)
    edge = b.times(across, 0.5, "the side of the curb")
    return reckon(areas.span, first=edge, last=ends["last"])


def _base(b: Builder, outline: Outline, a: Traced, c: Traced) -> None:
    up, lap = b.given["turn-up"], b.lap
    region = outline.region
    x, y = a.value / 2.0, c.value / 2.0
    over = b.times(lap, 2.0, "laps at both ends")
    for side in SIDES:
        long = side in ("down", "up")
        reach = _reach(b, region, side, c if long else a)
        width = b.plus(reach, up)
        length = region.width if long else b.plus(c, over)
        start = region.target.left if long else -y - lap.value
        spreads = [
            Spread("roof-1", reach.value, 0.0, down=True),
            Spread(side, up.value, 0.0),
        ]
        lay_strip(b, "base", width, length, spreads, start, lay=_beside(side, x, y))
        if not long:
            # each flank laps on to the strips below and above
            b.laps.append(reckon(piece_formulas.lap_area, width=over, length=width))


def _sides(b: Builder, a: Traced, c: Traced, h: Traced) -> None:
    lap = b.lap
    tall = reckon(piece_formulas.wrap_width, height=h, foot=lap)
    over = b.times(lap, 2.0, "round both corners")
    x, y = a.value / 2.0, c.value / 2.0
    for side in SIDES:
        long = side in ("down", "up")
        length = b.plus(a, over) if long else c
        start = -x - lap.value if long else -y
        spreads = [Spread("roof-1", lap.value, 0.0, down=True), Spread(side, h.value, 0.0)]
        lay_strip(
            b,
            "side",
            tall,
            length,
            spreads,
            start,
            shifted=True,
            lay=_beside(side, x, y, round_it=True),
        )
        if long:
            b.laps.append(reckon(piece_formulas.lap_area, width=over, length=tall))


def _beside(side: str, x: float, y: float, round_it: bool = False) -> Lay:
    """Put a strip's parts on one side of the curb and on the roof beside it.

    With `round_it` what is longer than the side goes on round its corners.
    """
    long = side in ("down", "up")
    half, far = (x, y) if long else (y, x)
    sign = 1.0 if side in ("up", "right") else -1.0

    def on_roof(along: tuple[float, float], out: tuple[float, float]) -> Lying:
        low, high = sorted((sign * (far + out[0]), sign * (far + out[1])))
        if long:
            return Lying("roof-1", shapely.box(along[0], low, along[1], high))
        return Lying("roof-1", shapely.box(low, along[0], high, along[1]))

    def lay(face: str, along: tuple[float, float], out: tuple[float, float]) -> list[Lying]:
        if face == "roof-1" and not round_it:
            return [on_roof(along, out)]
        first, last = max(along[0], -half), min(along[1], half)
        found = []
        if face == "roof-1":
            found.append(on_roof((first, last), out))
        elif last > first:
            found.append(Lying(face, shapely.box(first, out[0], last, out[1])))
        if not round_it:
            return found
        for past, flank in ((-half - along[0], "left"), (along[1] - half, "right")):
            if past <= 0.0:
                continue
            ends = sorted((sign * y, sign * (y - past)))
            if face == "roof-1":
                edge = -x if flank == "left" else x
                outer = sorted((edge - out[1], edge - out[0]))
                if flank == "right":
                    outer = sorted((edge + out[0], edge + out[1]))
                found.append(Lying(face, shapely.box(outer[0], ends[0], outer[1], ends[1])))
            else:
                found.append(Lying(flank, shapely.box(ends[0], out[0], ends[1], out[1])))
        return found

    return lay
