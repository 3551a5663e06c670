"""Layout of a corner of two walls."""

from __future__ import annotations

import shapely
from shapely.ops import unary_union

from upstand.edition import Edition
from upstand.formulas import areas, runs
from upstand.formulas import pieces as piece_formulas
from upstand.layout.builder import GROUND, Builder, seam
from upstand.layout.model import Frame, Layout, LayoutRefusal, Line, Lying
from upstand.layout.plates_of_runs import lay_plates
from upstand.layout.run_ends import Run, list_ground
from upstand.layout.strips import Lay, Spread, lay_patches, lay_strip
from upstand.quantity.traced import Traced, reckon
from upstand.query.defaults import Settled
from upstand.telling.said import say


def lay_out_corner(settled: Settled, edition: Edition) -> Layout:
    """Lay out a corner of two walls: a strip through it on the roof, and one up each wall."""
    b = Builder(settled, edition, ("corner-arm",))
    inside = settled.choices["corner"] == "inside"
    b.mirrored = not inside
    # an island stands beside the first arm, clear of the second
    b.clear = b.size("flange").value + 3.0 * b.reveal.value if inside else 0.0
    drawn = b.sizes.get("length") or _arm(b, b.size("flange"))
    w, plates = lay_plates(b, b.size("flange"), drawn.value)
    if "length" in b.sizes:
        arm = b.size("length")
        least = b.plus(w, b.lap).value
        if arm.value < least - 1e-9:
            raise LayoutRefusal(
                [
                    (
                        "/length",
                        say("arm-short", value=f"{arm.value:g} in", least=f"{least:g} in"),
                    )
                ]
            )
    else:
        arm = b.sizes["length"] = _arm(b, w)
    run = Run(b, arm)
    h = b.size("height")
    deep = reckon(areas.line_height, height=w, reveal=b.reveal)
    tall = reckon(areas.line_height, height=h, reveal=b.reveal)
    # both arms in one: S of the definitions
    masked = b.plus(arm, run.masked)
    square = b.rectangle(deep, deep)
    strips = b.rectangle(deep, masked)
    roof = reckon(areas.difference, whole=strips, part=square) if inside else b.plus(strips, square)
    list_ground(b, roof, plates)
    b.surface("wall", "wall", "upright", b.rectangle(masked, tall))
    both = b.times(arm, 2.0, "arms")
    flat, inner = b.rectangle(w, both), b.rectangle(w, w)
    zone = reckon(areas.difference, whole=flat, part=inner) if inside else b.plus(flat, inner)
    b.zone[:0] = [zone, b.rectangle(both, h)]
    # the line on the walls, and the outer edge on the roof, which is shorter or longer by two a
    twice = b.times(deep, 2.0, "edges at the corner")
    b.tape[:0] = [masked, b.less(masked, twice) if inside else b.plus(masked, twice)]
    run.end_tape(b, deep, tall)
    b.corners += 1 + 2 * round(run.ends.value)
    _flat(b, run, deep, inside)
    _faces(b, run, arm.value, w.value, deep.value, tall.value, inside)
    _pieces(b, run, arm, w, inside)
    return b.layout("wall", line_height=tall)


def _arm(b: Builder, w: Traced) -> Traced:
    """Length of an arm where nobody gave one."""
    return reckon(runs.default_line, least=b.given["corner-arm"], edge=w, margin=b.lap)


def _arms(run: Run, reveal: float) -> tuple[float, float]:
    """How far each arm is masked past its end: the second one goes on first."""
    joined = round(run.joined.value)
    return (reveal if joined < 2 else 0.0), (reveal if joined < 1 else 0.0)


def _flat(b: Builder, run: Run, deep: Traced, inside: bool) -> None:
    joined = round(run.joined.value)
    arm = run.length
    through = b.plus(arm, b.reveal) if joined < 2 else arm
    other = b.plus(arm, b.reveal) if joined < 1 else arm
    if inside:
        other = b.less(other, deep)
    else:
        through = b.plus(through, deep)
    b.flat[:0] = [(through, deep), (other, deep)]


def _faces(b: Builder, run: Run, x: float, w: float, a: float, tall: float, inside: bool) -> None:
    first, second = _arms(run, b.reveal.value)
    one, two = x + first, x + second
    h = tall - b.reveal.value
    joined = round(run.joined.value)
    if inside:
        sheet = unary_union([shapely.box(0, 0, one, a), shapely.box(0, 0, a, two)])
        zone = unary_union([shapely.box(0, 0, x, w), shapely.box(0, 0, w, x)])
    else:
        sheet = unary_union([shapely.box(-a, -a, one, 0), shapely.box(-a, -a, 0, two)])
        zone = unary_union([shapely.box(-w, -w, x, 0), shapely.box(-w, -w, 0, x)])
    far = a if inside else -a
    ends: list[Line] = []
    if joined > 1:
        ends.append(((x, 0.0), (x, far)))
    if joined > 0:
        ends.append(((0.0, x), (far, x)))
    b.face(
        "roof", "roof", "flat", sheet, zone, GROUND,
        folds=[
            seam("wall-1", (0.0, 0.0), (one, 0.0)),
            seam("wall-2", (0.0, 0.0), (0.0, two), (0.0, 0.0), (two, 0.0)),
        ],
        joined=ends,
    )  # fmt: skip
    corner: Line = ((0.0, 0.0), (0.0, tall))
    for name, other, end, goes_on, along in (
        ("wall-1", "wall-2", one, joined > 1, (1.0, 0.0, 0.0)),
        ("wall-2", "wall-1", two, joined > 0, (0.0, 1.0, 0.0)),
    ):
        there = (0.0, end) if name == "wall-2" else (end, 0.0)
        b.face(
            name, "wall", "upright",
            shapely.box(0.0, 0.0, end, tall), shapely.box(0.0, 0.0, x, h),
            Frame((0.0, 0.0, 0.0), along, (0.0, 0.0, 1.0)),
            folds=[
                seam("roof", (0.0, 0.0), (end, 0.0), (0.0, 0.0), there),
                (other, corner, corner),
            ],
            joined=[((x, 0.0), (x, tall))] if goes_on else [],
        )  # fmt: skip


def _pieces(b: Builder, run: Run, arm: Traced, w: Traced, inside: bool) -> None:
    """Lay two base strips, a patch, two wall strips and a second patch on top."""
    up, lap, height = b.given["turn-up"], b.lap, b.size("height")
    joined = round(run.joined.value)
    half = b.times(lap, 0.5, "half a lap past an end that goes on")
    more = [(half,) if joined > 1 else (), (half,) if joined > 0 else ()]
    width, wide = b.plus(w, up), w.value
    # the strip on the roof that runs through the corner, and the one that laps on to it
    through = b.plus(arm, up if inside else w, *more[0])
    other = b.plus(b.less(arm, w), lap, *more[1]) if inside else b.plus(arm, lap, *more[1])
    starts = (-up.value, wide - lap.value) if inside else (-wide, -lap.value)
    for number, length, start in ((1, through, starts[0]), (2, other, starts[1])):
        spreads = [
            Spread("roof", wide, 0.0, down=True),
            Spread(f"wall-{number}", up.value, 0.0),
        ]
        lay_strip(b, "base", width, length, spreads, start, lay=_on_arm(number, inside, base=True))
    b.laps.append(reckon(piece_formulas.lap_area, width=lap, length=width))
    _point(b, inside)
    tall = reckon(piece_formulas.wrap_width, height=height, foot=lap)
    first, second = b.plus(arm, lap, *more[0]), b.plus(arm, *more[1])
    for number, length, start in ((1, first, -lap.value), (2, second, 0.0)):
        spreads = [
            Spread("roof", lap.value, 0.0, down=True),
            Spread(f"wall-{number}", height.value, 0.0),
        ]
        lay = _on_arm(number, inside, base=False)
        lay_strip(b, "wall", tall, length, spreads, start, shifted=True, lay=lay)
    b.laps.append(reckon(piece_formulas.lap_area, width=lap, length=tall))
    _point(b, inside)


def _on_arm(number: int, inside: bool, base: bool) -> Lay:
    """Put a strip's parts on an arm: the first lies along x, the second along y.

    What of a base strip goes past the corner stays on the roof; what of a wall strip does goes
    round on the other wall, and its foot with it.
    """

    def roof(arm: int, along: tuple[float, float], out: tuple[float, float]) -> Lying:
        low, high = out if inside else (-out[1], -out[0])
        if arm == 1:
            return Lying("roof", shapely.box(along[0], low, along[1], high))
        return Lying("roof", shapely.box(low, along[0], high, along[1]))

    def lay(face: str, along: tuple[float, float], out: tuple[float, float]) -> list[Lying]:
        here = (max(along[0], 0.0), along[1])
        if face == "roof" and base:
            if not inside:
                return [roof(number, along, out)]
            found = [roof(number, here, out)]
            if along[0] < 0.0:  # its end turns up the other wall
                up = shapely.box(out[0], 0.0, out[1], -along[0])
                found.append(Lying(f"wall-{3 - number}", up))
            return found
        round_it = (0.0, -along[0])
        if face == "roof":
            found = [roof(number, here, out)]
            return [*found, roof(3 - number, round_it, out)] if along[0] < 0.0 else found
        found = [Lying(face, shapely.box(here[0], out[0], here[1], out[1]))]
        if along[0] < 0.0 and not base:
            other = f"wall-{3 - number}"
            found.append(Lying(other, shapely.box(0.0, out[0], round_it[1], out[1])))
        return found

    return lay


def _point(b: Builder, inside: bool) -> None:
    """Patch the point of the corner: a quarter of it on each of the three faces."""
    half = b.given["corner-patch"].value / 2.0
    roof = (0.0, 0.0, half, half) if inside else (-half, -half, 0.0, 0.0)
    lay_patches(b, [("roof", *roof), *((f"wall-{n}", 0.0, 0.0, half, half) for n in (1, 2))])
