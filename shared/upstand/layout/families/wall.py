"""Layout family `wall`: runs of roof and wall that meet in a fold."""

from __future__ import annotations

import shapely
from shapely.ops import unary_union

from upstand.edition import Edition
from upstand.formulas import areas, runs
from upstand.formulas import pieces as piece_formulas
from upstand.layout.model import Ask, Frame, Layout, LayoutRefusal, Line, Lying, Unanswerable
from upstand.layout.runs import GROUND, Builder, Lay, Spread, seam
from upstand.quantity.traced import Traced, constant, reaches, reckon
from upstand.query.defaults import Settled
from upstand.telling.said import say


class Run:
    """A run's two ends: which are free, and how long it is masked and in fleece."""

    def __init__(self, build: Builder, length: Traced, start: float = 0.0) -> None:
        """Read how many ends go on; the first that does is the right one."""
        self.start = start
        number = int(build.settled.choices.get("joined", 0))
        self.joined = constant(float(number), "1", "ends that go on")
        self.ends = reckon(runs.free_ends, joined=self.joined)
        self.free = number < 2, number < 1
        reveal, lap = build.reveal, build.lap
        self.length = length
        self.masked = reckon(runs.masked_run, length=length, ends=self.ends, reveal=reveal)
        self.fleece = reckon(runs.fleece_run, length=length, joined=self.joined, lap=lap)
        r, half = reveal.value, lap.value / 2.0
        self.left, self.right = (r if free else 0.0 for free in self.free)
        self.past_left, self.past_right = (0.0 if free else half for free in self.free)

    def end_tape(self, build: Builder, *heights: Traced) -> None:
        """Tape both free ends, across every face that ends there."""
        for height in heights:
            if self.ends.value:
                build.tape.append(build.times(height, self.ends.value, "free ends"))


def lay_out_wall_base(settled: Settled, edition: Edition) -> Layout:
    """Lay out the foot of a wall: a strip on the roof and one up the wall."""
    b = Builder(settled, edition)
    run = Run(b, b.size("length"))
    x, h, r = run.length.value, b.size("height").value, b.reveal.value
    w, plates = b.plates(b.size("flange"), x)
    deep = reckon(areas.line_height, height=w, reveal=b.reveal)
    tall = reckon(areas.line_height, height=b.size("height"), reveal=b.reveal)
    b.flat.insert(0, (run.masked, deep))
    roof = b.rectangle(run.masked, deep)
    wall = b.rectangle(run.masked, tall)
    list_ground(b, roof, plates)
    b.surface("wall", "wall", "upright", wall)
    b.zone[:0] = [b.rectangle(run.length, w), b.rectangle(run.length, b.size("height"))]
    b.tape[:0] = [run.masked, run.masked]
    run.end_tape(b, deep, tall)
    b.corners += 2 * round(run.ends.value)

    left, right = -run.left, x + run.right
    fold = seam("wall", (left, 0.0), (right, 0.0))
    ends = _ends(run, x, deep.value)
    b.face(
        "roof", "roof", "flat",
        shapely.box(left, 0.0, right, deep.value), shapely.box(0.0, 0.0, x, w.value), GROUND,
        folds=[fold], joined=ends,
    )  # fmt: skip
    b.face(
        "wall", "wall", "upright",
        shapely.box(left, 0.0, right, h + r), shapely.box(0.0, 0.0, x, h), WALL,
        folds=[seam("roof", (left, 0.0), (right, 0.0))], joined=_ends(run, x, h + r),
    )  # fmt: skip
    lay_base(b, run, w)
    _wall(b, run)
    return b.layout("wall", line_height=tall)


#: The wall stands on the roof's x axis, seen from the roof.
WALL = Frame((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0))


def _ends(run: Run, x: float, deep: float) -> list[Line]:
    """Lines of the ends that go on, across a face of the run."""
    found: list[Line] = []
    if not run.free[0]:
        found.append(((0.0, 0.0), (0.0, deep)))
    if not run.free[1]:
        found.append(((x, 0.0), (x, deep)))
    return found


def list_ground(b: Builder, area: Traced, plates: list[Traced]) -> None:
    """List the roof with its islands, its plates taken out."""
    whole = b.plus(area, *b.islands)
    if plates:
        taken = b.plus(*plates)
        whole = reckon(areas.difference, whole=whole, part=taken)
    b.ground(whole)


def lay_base(b: Builder, run: Run, w: Traced, wall: str = "wall", lay: Lay | None = None) -> None:
    """Lay the strip on the roof, turned up the wall a little."""
    up = b.given["turn-up"]
    width = b.plus(w, up)
    b.strip(
        "base",
        width,
        run.fleece,
        [Spread("roof", w.value, 0.0, down=True), Spread(wall, up.value, 0.0)],
        run.start - run.past_left,
        lay=lay,
    )


def _wall(b: Builder, run: Run) -> None:
    foot, height = b.lap, b.size("height")
    width = reckon(piece_formulas.wrap_width, height=height, foot=foot)
    b.strip(
        "wall",
        width,
        run.fleece,
        [Spread("roof", foot.value, 0.0, down=True), Spread("wall", height.value, 0.0)],
        run.start - run.past_left,
        shifted=True,
    )


def lay_out_corner(settled: Settled, edition: Edition) -> Layout:
    """Lay out a corner of two walls: a strip through it on the roof, and one up each wall."""
    b = Builder(settled, edition, ("corner-arm",))
    inside = settled.choices["corner"] == "inside"
    b.mirrored = not inside
    # an island stands beside the first arm, clear of the second
    b.clear = b.size("flange").value + 3.0 * b.reveal.value if inside else 0.0
    drawn = b.sizes.get("length") or _arm(b, b.size("flange"))
    w, plates = b.plates(b.size("flange"), drawn.value)
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
    _corner_flat(b, run, deep, inside)
    _corner_faces(b, run, arm.value, w.value, deep.value, tall.value, inside)
    _corner_pieces(b, run, arm, w, inside)
    return b.layout("wall", line_height=tall)


def _arm(b: Builder, w: Traced) -> Traced:
    """Length of an arm where nobody gave one."""
    return reckon(runs.default_line, least=b.given["corner-arm"], edge=w, margin=b.lap)


def _arms(run: Run, reveal: float) -> tuple[float, float]:
    """How far each arm is masked past its end: the second one goes on first."""
    joined = round(run.joined.value)
    return (reveal if joined < 2 else 0.0), (reveal if joined < 1 else 0.0)


def _corner_flat(b: Builder, run: Run, deep: Traced, inside: bool) -> None:
    joined = round(run.joined.value)
    arm = run.length
    through = b.plus(arm, b.reveal) if joined < 2 else arm
    other = b.plus(arm, b.reveal) if joined < 1 else arm
    if inside:
        other = b.less(other, deep)
    else:
        through = b.plus(through, deep)
    b.flat[:0] = [(through, deep), (other, deep)]


def _corner_faces(
    b: Builder, run: Run, x: float, w: float, a: float, tall: float, inside: bool
) -> None:
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


def _corner_pieces(b: Builder, run: Run, arm: Traced, w: Traced, inside: bool) -> None:
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
        b.strip("base", width, length, spreads, start, lay=_on_arm(number, inside, base=True))
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
        b.strip("wall", tall, length, spreads, start, shifted=True, lay=lay)
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
    b.patch([("roof", *roof), *((f"wall-{n}", 0.0, 0.0, half, half) for n in (1, 2))])


def lay_out_threshold(settled: Settled, edition: Edition) -> Layout:
    """Lay out a low door: roof, riser and sill, both jambs, the wall beside them, the back."""
    b = Builder(settled, edition, ("jamb-over-sill", "least-sill"))
    width, s, d = b.size("length"), b.size("riser"), b.size("sill")
    t, p = b.size("returns"), b.size("back")
    h = _threshold_height(b, s)
    _threshold_sense(b, h, s, p, t)
    least = b.given["least-sill"]
    if d.value < least.value - 1e-9:
        raise Unanswerable(Ask("sill-too-shallow", "roof-designer", found=d, least=least))
    r = b.reveal
    run = Run(b, b.plus(width, b.times(t, 2.0, "returns")), -t.value)
    w, plates = b.plates(b.size("flange"), run.length.value)
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
    _threshold_faces(b, run, (width.value, s.value, d.value, t.value, p.value), h.value, w.value)
    lay_base(b, run, w, "riser", _on_fronts(width.value))
    _threshold_pieces(b, run, width, s, d, t, p, h)
    return b.layout("wall", line_height=tall)


def _threshold_height(b: Builder, riser: Traced) -> Traced:
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


def _threshold_sense(b: Builder, h: Traced, s: Traced, p: Traced, t: Traced) -> None:
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


def _threshold_faces(
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
    left, right = -t - run.left, width + t + run.right
    lines: dict[str, Line] = {
        "wall-left": ((left, 0.0), (0.0, 0.0)),
        "riser": ((0.0, 0.0), (width, 0.0)),
        "wall-right": ((width, 0.0), (right, 0.0)),
    }

    def ends(high: float) -> list[Line]:
        found: list[Line] = []
        if not run.free[0]:
            found.append(((left, 0.0), (left, high)))
        if not run.free[1]:
            found.append(((right, 0.0), (right, high)))
        return found

    b.face(
        "roof", "roof", "flat",
        shapely.box(left, 0.0, right, deep),
        shapely.box(-t, 0.0, width + t, w),
        GROUND,
        folds=[(name, line, line) for name, line in lines.items()],
        joined=ends(deep),
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


def _threshold_pieces(
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
    b.patch(*places)
    over = b.times(lap, 2.0, "up both jambs")
    sizes = [lap, s, d] + ([p] if up else [])
    spreads = [
        Spread("roof", k, 0.0, down=True),
        Spread("riser", low, 0.0),
        Spread("sill", deep, 0.0),
    ]
    if up:
        spreads.append(Spread("back", up, low))
    b.strip(
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
        b.strip("wall", tall, length, spreads, start, shifted=True, lay=lay)
    for side in ("left", "right"):
        b.strip(
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
