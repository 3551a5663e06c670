"""Layout family `strip`: fleece laid flat across a line, or over a hole."""

from __future__ import annotations

from typing import Literal

import shapely

from upstand.edition import Edition
from upstand.formulas import areas, runs
from upstand.layout.builder import GROUND, Builder
from upstand.layout.model import (
    Ask,
    Frame,
    Layout,
    Lying,
    Marked,
    Orientation,
    Region,
    Unanswerable,
)
from upstand.layout.outlined import find_outline, lay_roof, list_roof
from upstand.layout.run_ends import Run
from upstand.layout.strips import Spread, lay_strip, round_off
from upstand.layout.uprights import Part
from upstand.quantity.traced import Traced, reckon
from upstand.query.defaults import Settled

UPRIGHT = Frame((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0))


def lay_out_crack(settled: Settled, edition: Edition) -> Layout:
    """Lay out a crack: over a bond breaker where it moves, over the filled crack where not."""
    b = Builder(settled, edition)
    gap, w, length = b.size("gap"), b.size("flange"), b.size("length")
    if not settled.choices.get("moves", True):
        run = _along(b, length, w)
        width = b.plus(gap, b.times(w, 2.0, "both sides of the crack"))
        _mark(b, "crack", run, length.value, width.value, gap.value)
        return _strip(b, run, width, [("ground", "ground", 1.0)], None)
    _narrow_enough(b, gap)
    past = b.parameter("bond-breaker")
    run = _along(b, length, b.plus(past, w))
    breaker = b.plus(gap, b.times(past, 2.0, "both sides of the gap"))
    width = b.plus(breaker, b.times(w, 2.0, "both sides of the tape"))
    ends = run.ends.value
    long = b.plus(length, b.times(past, ends, "open ends")) if ends else length
    b.facts["bonded"] = w
    _mark(b, "crack", run, length.value, width.value, gap.value)
    return _strip(b, run, width, [("ground", "ground", 1.0)], (breaker, long))


def lay_out_metal_joint(settled: Settled, edition: Edition) -> Layout:
    """Lay out a joint of an edge, of gutter lips, or of metal along the sheet."""
    b = Builder(settled, edition)
    gap, w, length = b.size("gap"), b.size("flange"), b.size("length")
    joint = str(settled.choices.get("joint", "edge"))
    _narrow_enough(b, gap)
    past = b.parameter("bond-breaker")
    breaker = b.plus(gap, b.times(past, 2.0, "both sides of the gap"))
    width = b.plus(breaker, b.times(w, 2.0, "both sides of the tape"))
    run = Run(b, b.plus(length, w) if joint == "edge" else length)
    b.facts["bonded"] = w
    shares = {
        "edge": [("metal", "metal", 1.0), ("roof", "", 0.0)],
        "gutter": [("metal", "metal", 1.0)],
        "sheet": [("metal", "metal", 0.5), ("roof", "", 0.5)],
    }[joint]
    _mark(b, "joint", run, length.value, width.value, gap.value, begin=0.0)
    _share(b, run, width.value, shares, length.value if joint == "edge" else None)
    return _strip(b, run, width, shares, (breaker, length), edge=joint == "edge")


def lay_out_tie_in(settled: Settled, edition: Edition) -> Layout:
    """Lay out a tie-in: half of the strip on the old film, half on what lies beside it."""
    b = Builder(settled, edition)
    run = Run(b, b.size("length"))
    width = b.times(b.size("flange"), 2.0, "both sides of the old edge")
    shares = [("old-film", "old-film", 0.5), ("ground", "ground", 0.5)]
    _mark(b, "old-edge", run, run.length.value, width.value, 0.0)
    _share(b, run, width.value, shares, None)
    return _strip(b, run, width, shares, None)


def _mark(
    b: Builder,
    kind: Literal["crack", "joint", "old-edge"],
    run: Run,
    length: float,
    width: float,
    gap: float,
    begin: float | None = None,
) -> None:
    """Draw the line that the strip goes over, in the middle of it: as wide as it is open."""
    past = run.length.value - length
    if begin is None:
        begin = past / run.ends.value if run.free[0] and past else 0.0
    low, high = (width - gap) / 2.0, (width + gap) / 2.0
    if gap > 0.0:
        b.marked = Marked(kind, "strip", shapely.box(begin, low, begin + length, high))
    else:
        line = shapely.linestrings([(begin, low), (begin + length, low)])
        b.marked = Marked(kind, "strip", line)


def _share(
    b: Builder,
    run: Run,
    width: float,
    shares: list[tuple[str, str, float]],
    metal: float | None,
) -> None:
    """Draw which surface lies where: side by side, or the sheet past the end of the metal."""
    r = b.reveal.value
    left, right = run.outer
    if metal is not None:
        b.shared = [
            (shares[0][0], shapely.box(left, -r, metal, width + r)),
            (shares[1][0], shapely.box(metal, -r, right, width + r)),
        ]
    elif len(shares) == 2:
        b.shared = [
            (shares[0][0], shapely.box(left, -r, right, width / 2.0)),
            (shares[1][0], shapely.box(left, width / 2.0, right, width + r)),
        ]


def lay_out_patch(settled: Settled, edition: Edition) -> Layout:
    """Lay out a patch: a piece over the damage, and one past it with round corners on top."""
    b = Builder(settled, edition, ("patch-radius", "corner-sharing"))
    a, c, w = b.size("width"), b.size("length"), b.size("flange")
    outline = find_outline(b, "bar", {"width": a, "depth": c}, w, None)
    b.marked = Marked("damage", "roof-1", outline.part.outline)
    lost = reckon(runs.round_corners, radius=b.given["patch-radius"])
    over = b.times(b.lap, 2.0, "past the damage on both sides")
    small = b.plus(a, over), b.plus(c, over)
    x, y = small[0].value / 2.0, small[1].value / 2.0
    # the damage is covered first, plates after it
    lay_strip(
        b,
        "cover",
        small[1],
        small[0],
        [Spread("roof-1", 2.0 * y, -y)],
        -x,
        longest=b.pieces.roll[1],
    )

    def cut(region: Region, part: Part, face: str) -> None:
        target = b.rectangle(region.width, region.length)
        b.zone.append(reckon(areas.difference, whole=target, part=lost))
        _rounded_base(b, region, lost, face)

    inside = lay_roof(b, outline, cut, hole=False)
    list_roof(b, inside, outline.plates)
    return b.layout("strip", line_height=None)


def _rounded_base(b: Builder, region: Region, lost: Traced, face: str) -> None:
    """Lay the patch over it all, its corners rounded."""
    target, radius = region.target, b.given["patch-radius"].value
    core = target.grown(-radius)
    shape = core.sheet().buffer(radius, quad_segs=64)

    def lay(on: str, along: tuple[float, float], out: tuple[float, float]) -> list[Lying]:
        here = (along[0], out[0], along[1], out[1])
        sides = (target.left, target.low, target.right, target.high)
        whole = all(abs(a - b) < 1e-9 for a, b in zip(here, sides, strict=True))
        return [Lying(on, shape if whole else shapely.box(*here).intersection(shape))]

    before = len(b.pieces.made)
    lay_strip(
        b,
        "base",
        region.length,
        region.width,
        [Spread(face, target.length, target.low)],
        target.left,
        lay=lay,
    )
    round_off(b, before, lost)


def _narrow_enough(b: Builder, gap: Traced) -> None:
    most = b.parameter("widest-moving-gap")
    if gap.value > most.value + 1e-9:
        raise Unanswerable(Ask("gap-too-wide", "roof-designer", found=gap, least=most))


def _along(b: Builder, length: Traced, past: Traced) -> Run:
    """Take the run of a crack: fleece goes past each end that is open."""
    ends = Run(b, length).ends.value
    return Run(b, b.plus(length, b.times(past, ends, "open ends")) if ends else length)


def _strip(
    b: Builder,
    run: Run,
    width: Traced,
    shares: list[tuple[str, str, float]],
    breaker: tuple[Traced, Traced] | None,
    *,
    edge: bool = False,
) -> Layout:
    """Lay one strip across a line: surfaces by their share of what lies within the tape."""
    if width.value > b.pieces.roll[0].value + 1e-9:
        raise Unanswerable(
            Ask("strip-too-wide", "product-maker", found=width, least=b.pieces.roll[0])
        )
    r = b.reveal
    wide = reckon(areas.grown_side, side=width, margin=r)
    b.flat.append((run.masked, wide))
    bond = None if breaker is None else b.rectangle(*breaker)
    if edge:
        # the metal ends where its length does; fleece and tape go on to the sheet
        on_metal = b.plus(b.size("length"), r)
        pieces = [b.rectangle(on_metal, wide), b.rectangle(b.plus(b.size("flange"), r), wide)]
        if bond is not None:
            pieces[0] = reckon(areas.difference, whole=pieces[0], part=bond)
    else:
        whole = b.rectangle(run.masked, wide)
        if bond is not None:
            whole = reckon(areas.difference, whole=whole, part=bond)
        pieces = [b.times(whole, share, "share of the strip") for _, _, share in shares]
    for (id, part, _), area in zip(shares, pieces, strict=True):
        if not part:
            b.ground(area)
        else:
            b.surface(id, part, _orientation(b, part), area)
    b.zone.append(b.rectangle(run.length, width))
    b.tape += [run.masked, run.masked]
    run.end_tape(b, wide)
    b.corners += 2 * round(run.ends.value)
    _face(b, run, width.value, wide.value)
    lay_strip(b, "strip", width, run.fleece, [Spread("strip", width.value, 0.0)], -run.past_left)
    if breaker is not None:
        at = (run.length.value - breaker[1].value) / 2.0
        if edge:
            at = 0.0
        middle, half = width.value / 2.0, breaker[0].value / 2.0
        b.breaker = shapely.box(at, middle - half, at + breaker[1].value, middle + half)
    return b.layout("strip", line_height=None, bond_breaker=bond)


def _orientation(b: Builder, part: str) -> Orientation:
    """How the strip lies: as an entry of its part says, else as any entry does, else flat."""
    given = [s for s in b.settled.query.surfaces if s.orientation is not None]
    own = [s for s in given if s.part == part] or given
    found = own[0].orientation if own else None
    return found or "flat"


def _face(b: Builder, run: Run, width: float, wide: float) -> None:
    r, x = b.reveal.value, run.length.value
    left, right = run.outer
    orientation = b.surfaces[-1].orientation
    b.face(
        "strip",
        "",
        orientation,
        shapely.box(left, -r, right, wide - r),
        shapely.box(0.0, 0.0, x, width),
        GROUND if orientation == "flat" else UPRIGHT,
        joined=run.goes_on(width + r, -r),
    )
