"""Layout of the foot of a wall: a strip on the roof and one up the wall."""

from __future__ import annotations

import shapely

from upstand.edition import Edition
from upstand.formulas import areas
from upstand.formulas import pieces as piece_formulas
from upstand.layout.builder import GROUND, Builder, seam
from upstand.layout.model import Frame, Layout
from upstand.layout.plates_of_runs import lay_plates
from upstand.layout.run_ends import Run, list_ground
from upstand.layout.strips import Lay, Spread, lay_strip
from upstand.quantity.traced import Traced, reckon
from upstand.query.defaults import Settled


def lay_out_wall_base(settled: Settled, edition: Edition) -> Layout:
    """Lay out the foot of a wall: a strip on the roof and one up the wall."""
    b = Builder(settled, edition)
    run = Run(b, b.size("length"))
    x, h, r = run.length.value, b.size("height").value, b.reveal.value
    w, plates = lay_plates(b, b.size("flange"), x)
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

    left, right = run.outer
    fold = seam("wall", (left, 0.0), (right, 0.0))
    ends = run.goes_on(deep.value)
    b.face(
        "roof", "roof", "flat",
        shapely.box(left, 0.0, right, deep.value), shapely.box(0.0, 0.0, x, w.value), GROUND,
        folds=[fold], joined=ends,
    )  # fmt: skip
    b.face(
        "wall", "wall", "upright",
        shapely.box(left, 0.0, right, h + r), shapely.box(0.0, 0.0, x, h), WALL,
        folds=[seam("roof", (left, 0.0), (right, 0.0))], joined=run.goes_on(h + r),
    )  # fmt: skip
    lay_base(b, run, w)
    _wall(b, run)
    return b.layout("wall", line_height=tall)


#: The wall stands on the roof's x axis, seen from the roof.
WALL = Frame((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0))


def lay_base(b: Builder, run: Run, w: Traced, wall: str = "wall", lay: Lay | None = None) -> None:
    """Lay the strip on the roof, turned up the wall a little."""
    up = b.given["turn-up"]
    width = b.plus(w, up)
    lay_strip(
        b,
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
    lay_strip(
        b,
        "wall",
        width,
        run.fleece,
        [Spread("roof", foot.value, 0.0, down=True), Spread("wall", height.value, 0.0)],
        run.start - run.past_left,
        shifted=True,
    )
