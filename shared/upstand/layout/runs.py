"""Collects what a detail on plane faces is made of: faces, surfaces, tape, pieces, laps."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

import shapely
from shapely import affinity
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from upstand.edition import Edition, Value
from upstand.formulas import areas, runs, supply
from upstand.formulas import pieces as piece_formulas
from upstand.layout.edges import SAME, free_edges
from upstand.layout.model import (
    Ask,
    Band,
    Face,
    Fleece,
    Fold,
    Frame,
    Layout,
    LayoutRefusal,
    Line,
    Lying,
    Marked,
    Masking,
    Orientation,
    Piece,
    PieceKind,
    Point,
    Rectangle,
    Surface,
)
from upstand.layout.parameters import read_parameter, read_parameters
from upstand.layout.pieces import longest_roll
from upstand.layout.proof_of_faces import prove_faces
from upstand.layout.splitting import Grid, fit_roll, refuse_many
from upstand.quantity.traced import Traced, constant, measured, reckon, total
from upstand.query.defaults import Settled
from upstand.telling.said import say

COMMON = (
    "plate-margin",
    "fleece-lap",
    "turn-up",
    "corner-patch",
    "fleece-to-tape",
    "tape-corner-overlap",
    "longest-piece",
    "joint-shift",
)
#: Puts a part of a strip on a face: which, from where to where along the run, and out on it.
Lay = Callable[[str, tuple[float, float], tuple[float, float]], list[Lying]]


@dataclass(frozen=True, slots=True)
class Spread:
    """Where a piece lies across its width: up to `last` of it on a face, from `at` there on.

    `down` lies against the face's own direction, as a foot does: the piece's first edge is the
    one farthest from the fold.
    """

    face: str
    size: float
    at: float
    down: bool = False


class Builder:
    """Collects one detail; `layout` adds it up."""

    def __init__(self, settled: Settled, edition: Edition, names: Iterable[str] = ()) -> None:
        """Read what every such detail is made with, and the parameters named."""
        self.settled, self.edition = settled, edition
        self.given = read_parameters(edition, (*COMMON, *names))
        self.roll = longest_roll(settled, edition)
        self.lap, self.reveal = self.given["fleece-lap"], settled.sizes["reveal"]
        self.faces: list[Face] = []
        self.pieces: list[Piece] = []
        self.surfaces: list[Surface] = []
        self.zone: list[Traced] = []
        self.tape: list[Traced] = []
        self.corners = 0
        self.net: list[Traced] = []
        self.cut: list[Traced] = []
        self.laps: list[Traced] = []
        self.flat: list[tuple[Traced, Traced]] = []
        self.numbers: dict[str, int] = {}
        self.count = 0
        self.asks: list[Ask] = []
        self.facts: dict[str, Traced] = {}
        self.sizes: dict[str, Traced] = dict(settled.sizes)
        self.islands: list[Traced] = []
        self.breaker: BaseGeometry | None = None
        self.marked: Marked | None = None
        self.shared: list[tuple[str, BaseGeometry]] = []
        self.drawn: list[Lying] = []
        #: Where on the roof's own axes a run is drawn: mirrored where the roof lies below its line,
        #: islands no nearer to its beginning than this.
        self.mirrored, self.clear = False, -math.inf

    # sizes

    def size(self, name: str) -> Traced:
        """Return a size of the question."""
        return self.sizes[name]

    def least_height(self) -> Traced:
        """Read the least height that fleece reaches up; of several sources the first."""
        least = self.edition.record("limits/upright-height").get("at_least")
        value: Value = least[0] if isinstance(least, tuple) else least
        return value.traced("in")

    def parameter(self, name: str, unit: str = "in") -> Traced:
        """Read one more parameter."""
        return read_parameter(self.edition, name, unit)

    def times(self, amount: Traced, count: float, what: str) -> Traced:
        """Take an amount so many times."""
        if count == 1.0:
            return amount
        return reckon(supply.scaled, amount=amount, count=constant(count, "1", what))

    def plus(self, *lengths: Traced) -> Traced:
        """Add lengths up."""
        return lengths[0] if len(lengths) == 1 else total("length", lengths)

    def less(self, whole: Traced, part: Traced) -> Traced:
        """Take one length off another."""
        return reckon(areas.span, first=part, last=whole)

    def rectangle(self, width: Traced, length: Traced) -> Traced:
        """Area of a rectangle."""
        return reckon(areas.rectangle_area, width=width, length=length)

    # faces

    def face(
        self,
        id: str,
        surface: str,
        orientation: Orientation,
        sheet: Polygon,
        zone: BaseGeometry,
        frame: Frame,
        *,
        opening: BaseGeometry | None = None,
        folds: Sequence[tuple[str, Line, Line]] = (),
        joined: Sequence[Line] = (),
        edge_held: bool = False,
    ) -> None:
        """Draw a face; what of its edge is neither a fold nor a joined end is taped.

        An opening's edge lies in folds. With `edge_held` the whole outer edge does, and what is
        taped is the holes in the sheet.
        """
        rows = [ring.coords[:] for ring in sheet.interiors]
        if not edge_held:
            held = [*(line for _, line, _ in folds), *joined]
            rows += free_edges(sheet.exterior.coords[:], held)
        tape = tuple(shapely.linestrings(row) for row in rows)
        self.faces.append(
            Face(
                id,
                surface,
                orientation,
                sheet,
                zone,
                tape,
                opening,
                tuple(Fold(face, line, there) for face, line, there in folds),
                tuple(joined),
                frame,
            )
        )

    def surface(self, id: str, part: str, orientation: Orientation, area: Traced) -> None:
        """List a surface of the detail's own; its material is that of its part."""
        substrate = self.settled.parts.get(part)
        self.surfaces.append(Surface(id, "part", 1, substrate, orientation, area))
        if substrate is None and not any(ask.name == part for ask in self.asks):
            self.asks.append(Ask("surface-not-given", "crew-lead", name=part))

    def ground(self, area: Traced) -> None:
        """List the roof's surface, its plates taken out where there are any."""
        self.surfaces.insert(0, Surface("roof", "roof", 1, self.settled.roof.id, "flat", area))

    # pieces

    def add(
        self,
        kind: PieceKind,
        width: Traced,
        length: Traced,
        *,
        count: int = 1,
        net: Traced | None = None,
        lies: Sequence[Lying] = (),
        across: Sequence[Band] = (),
        slits: Sequence[Line] = (),
        shape: BaseGeometry | None = None,
    ) -> None:
        """Add a piece, or a number of equal ones that lie alike, in the order of laying."""
        self.count += count
        refuse_many(self.count)
        number = self.numbers[kind] = self.numbers.get(kind, 0) + 1
        if shape is None:
            shape = shapely.box(0.0, 0.0, length.value, width.value)
        self.pieces.append(
            Piece(
                id=f"{kind}-{number}",
                kind=kind,
                number=number,
                width=width,
                length=length,
                count=count,
                order=0,
                net=net or self.rectangle(width, length),
                slit=bool(slits),
                shape=shape,
                lies=tuple(lies),
                across=tuple(across),
                slits=tuple(slits),
            )
        )

    def take(self, piece: Piece) -> None:
        """Take over a piece made elsewhere, and count it."""
        self.count += piece.count
        refuse_many(self.count)
        number = self.numbers[piece.kind] = self.numbers.get(piece.kind, 0) + 1
        self.pieces.append(replace(piece, number=number, id=f"{piece.kind}-{number}"))
        count = float(piece.count)
        self.net.append(self.times(piece.net, count, "pieces of one size"))
        area = self.rectangle(piece.width, piece.length)
        self.cut.append(self.times(area, count, "pieces of one size"))

    def round_off(self, before: int, lost: Traced) -> None:
        """Take the rounded corners off the strip just laid"""
        self.net[-1] = reckon(areas.difference, whole=self.net[-1], part=lost)
        made = range(before, len(self.pieces))
        for n in made:
            piece = self.pieces[n]
            part = lost
            drawn = piece.lies[0].shape
            if len(made) > 1:
                whole = piece.width.value * piece.length.value
                part = measured(whole - float(drawn.area), "in^2", "corners of this piece")
            net = reckon(
                areas.difference, whole=self.rectangle(piece.width, piece.length), part=part
            )
            left, low, _, _ = drawn.bounds
            own = affinity.translate(drawn, -left, -low)
            self.pieces[n] = replace(piece, net=net, shape=own)

    def single(
        self,
        kind: PieceKind,
        width: Traced,
        length: Traced,
        lies: Sequence[Sequence[Lying]],
        *,
        slits: Sequence[Line] = (),
    ) -> None:
        """Add pieces of one size, one for each place where they lie, none of them to be split."""
        for place in lies:
            self.add(kind, width, length, lies=place, slits=slits)
        area = self.times(self.rectangle(width, length), float(len(lies)), "pieces of one size")
        self.net.append(area)
        self.cut.append(area)

    def patch(self, *places: Sequence[tuple[str, float, float, float, float]]) -> None:
        """Add corner patches; each place lists (face, left, low, right, high)."""
        side = self.given["corner-patch"]
        lies = [[Lying(f, shapely.box(*bounds)) for f, *bounds in place] for place in places]
        half = side.value / 2.0
        self.single("patch", side, side, lies, slits=[((half, 0.0), (half, half))])

    def strip(
        self,
        kind: PieceKind,
        width: Traced,
        length: Traced,
        spreads: Sequence[Spread],
        start: float,
        *,
        shifted: bool = False,
        lay: Lay | None = None,
        longest: Traced | None = None,
        opening: tuple[Rectangle, Traced] | None = None,
    ) -> Grid:
        """Lay a strip along a run, split where it is too long or too wide, lowest edge first.

        `spreads` says how its width lies on the faces, `start` where its length begins on them.
        `shifted` moves the joints off those of the base. `opening` is cut out of it: where it
        lies in the strip (x along, y across), and its area. `lay` puts a part of it on the faces
        where they don't lie side by side along the run.
        """
        most = longest or self.given["longest-piece"]
        shift = None
        if shifted and max(width.value, length.value) > most.value + SAME:
            shift = self.given["joint-shift"]
            most = self.less(most, shift)
        grid = fit_roll(width, length, self.roll[0], most, self.lap)
        lay = lay or straight
        self._strip(kind, grid, shift, spreads, start, opening, lay)
        columns, rows = grid.columns, grid.rows
        sizes = {"width": width, "length": length, "columns": columns, "rows": rows}
        cut = self.rectangle(width, length)
        if grid.count > 1:
            cut = reckon(piece_formulas.split_area, **sizes, lap=self.lap)
            self.laps.append(reckon(areas.joint_area, **sizes, lap=self.lap))
        self.cut.append(cut)
        self.net.append(
            reckon(areas.difference, whole=cut, part=opening[1]) if opening is not None else cut
        )
        return grid

    def _strip(
        self,
        kind: PieceKind,
        grid: Grid,
        shift: Traced | None,
        spreads: Sequence[Spread],
        start: float,
        opening: tuple[Rectangle, Traced] | None,
        lay: Lay,
    ) -> None:
        columns, rows = round(grid.columns.value), round(grid.rows.value)
        lap = self.lap.value
        lengths = [grid.length] * rows
        if shift is not None and rows > 1:
            lengths[0] = self.less(grid.length, shift)
            lengths[-1] = self.plus(grid.length, shift)
        across_at = 0.0
        for _ in range(columns):
            along_at = 0.0
            for piece_length in lengths:
                last = along_at + piece_length.value
                high = across_at + grid.width.value
                lies, bands = [], []
                for spread, low, top, first, end in spread_over(spreads, across_at, high):
                    lies += lay(spread.face, (start + along_at, start + last), (first, end))
                    bands.append(Band(spread.face, low, top))
                net, shape = None, None
                if opening is not None:
                    here = Rectangle(along_at, across_at, last, high).sheet()
                    shape = here.difference(opening[0].sheet())
                    taken = here.area - shape.area
                    if taken > SAME:
                        part = opening[1]
                        if abs(taken - part.value) > SAME:
                            part = measured(taken, "in^2", "opening in this piece")
                        whole = self.rectangle(grid.width, piece_length)
                        net = reckon(areas.difference, whole=whole, part=part)
                    shape = affinity.translate(shape, -along_at, -across_at)
                self.add(
                    kind,
                    grid.width,
                    piece_length,
                    net=net,
                    lies=lies,
                    across=bands,
                    shape=shape,
                )
                along_at = last - lap
            across_at += grid.width.value - lap

    # plates along a run

    def plates(
        self, flange: Traced, length: float, face: str = "roof"
    ) -> tuple[Traced, list[Traced]]:
        """Cover the plates along a run.

        Returns how far fleece reaches on to the roof with them, and their areas. A plate far out
        is an island with a mask of its own.
        """
        margin = self.given["plate-margin"]
        outs = [self._out(number) for number in range(len(self.settled.plates))]
        reach, pending, here = flange, list(range(len(outs))), []
        grew = True
        while grew:
            grew = False
            for n in list(pending):
                plate = self.settled.plates[n]
                near = reckon(
                    areas.edge_before, middle=outs[n], side=plate.length, margin=margin
                ).value
                # touching the fleece, or its own mask over the run's
                if near > reach.value + SAME and near - self.reveal.value >= (
                    reach.value + self.reveal.value - SAME
                ):
                    continue
                far = reckon(areas.edge_after, middle=outs[n], side=plate.length, margin=margin)
                pending.remove(n)
                here.append(n)
                if far.value > reach.value:
                    reach, grew = far, True
        for n in sorted(here):
            self._cover(n, outs[n], length, face)
        for n in pending:
            self._island(n, outs[n])
        taken = []
        earlier: list[BaseGeometry] = []
        for n, plate in enumerate(self.settled.plates):
            area = self.rectangle(plate.width, plate.length)
            box = self._plate_box(n, outs[n], 0.0)
            seen = box.difference(unary_union(earlier)).area if earlier else box.area
            if box.area - seen > SAME:
                area = measured(seen, "in^2", "plate, seen part")
            earlier.append(box)
            taken.append(area)
            self.surfaces.append(
                Surface(f"plate-{n + 1}", "plate", n + 1, str(plate.substrate), "flat", area)
            )
        return reach, taken

    def _out(self, number: int) -> Traced:
        plate = self.settled.plates[number]
        asked = (self.settled.query.plates or ())[number].at
        half = self.times(plate.length, 0.5, "a plate's edge on the wall")
        out = half if asked is None else asked[1]
        if out.value < half.value - SAME:
            raise LayoutRefusal(
                [
                    (
                        f"/plates/{number}/at",
                        say("plate-in-wall", number=str(number + 1), half=f"{half.value:g} in"),
                    )
                ]
            )
        return out

    def _plate_box(
        self, number: int, out: Traced, margin: float, length: float | None = None
    ) -> BaseGeometry:
        """Draw a plate, or its cover, on the roof; along the run it may be drawn anywhere."""
        plate = self.settled.plates[number]
        x = plate.at[0].value if plate.at else 0.0
        half, deep = plate.width.value / 2.0 + margin, plate.length.value / 2.0 + margin
        # the cover decides where both are drawn
        room = plate.width.value / 2.0 + self.given["plate-margin"].value
        if length is not None:
            x = length / 2.0 if 2.0 * room > length else min(max(x, room), length - room)
        else:
            x = max(x, self.clear + room)
        low, high = out.value - deep, out.value + deep
        if self.mirrored:
            low, high = -high, -low
        return shapely.box(x - half, low, x + half, high)

    def _cover(self, number: int, out: Traced, length: float, face: str) -> None:
        margin = self.given["plate-margin"]
        plate = self.settled.plates[number]
        width = reckon(areas.grown_side, side=plate.width, margin=margin)
        deep = reckon(areas.grown_side, side=plate.length, margin=margin)
        before = reckon(areas.edge_before, middle=out, side=plate.length, margin=margin)
        behind = None
        if before.value < 0.0:
            behind = reckon(runs.behind_wall, before=before, width=width)
        box = self._plate_box(number, out, margin.value, length)
        self.drawn.append(Lying(face, self._plate_box(number, out, 0.0, length)))
        left, low, right, high = box.bounds
        self._covers(width, deep, Rectangle(left, low, right, high), behind, face)

    def _covers(
        self,
        width: Traced,
        deep: Traced,
        where: Rectangle,
        behind: Traced | None,
        face: str,
    ) -> None:
        grid = fit_roll(width, deep, *self.roll, self.lap)
        for part in grid.rectangles(where, self.lap.value):
            on_roof = part
            if behind is not None and self.mirrored:
                low, high = min(part.low, 0.0), min(part.high, 0.0)
                on_roof = Rectangle(part.left, low, part.right, high)
            elif behind is not None:
                low, high = max(part.low, 0.0), max(part.high, 0.0)
                on_roof = Rectangle(part.left, low, part.right, high)
            area = self.rectangle(grid.width, grid.length)
            net = area
            lost = (part.length - on_roof.length) * part.width
            if lost > SAME and behind is not None:
                inside = behind
                if grid.count > 1:
                    inside = measured(lost, "in^2", "cover in the wall")
                net = reckon(areas.difference, whole=area, part=inside)
            if net.value <= SAME:
                continue
            shape = shapely.box(0.0, 0.0, part.width, part.length)
            self.add(
                "cover",
                grid.width,
                grid.length,
                net=net,
                lies=[Lying(face, on_roof.sheet())],
                across=[Band(face, 0.0, part.width)],
                shape=shape,
            )
            self.net.append(net)
            self.cut.append(area)

    def _island(self, number: int, out: Traced) -> None:
        """Mask a plate that lies far out by itself."""
        margin = self.given["plate-margin"]
        plate = self.settled.plates[number]
        width = reckon(areas.grown_side, side=plate.width, margin=margin)
        deep = reckon(areas.grown_side, side=plate.length, margin=margin)
        cover = self._plate_box(number, out, margin.value)
        face = f"island-{number + 1}"
        self.drawn.append(Lying(face, self._plate_box(number, out, 0.0)))
        left, low, right, high = cover.bounds
        self._covers(width, deep, Rectangle(left, low, right, high), None, face)
        sides = [reckon(areas.grown_side, side=side, margin=self.reveal) for side in (width, deep)]
        self.islands.append(self.rectangle(*sides))
        self.zone.append(self.rectangle(width, deep))
        self.tape.append(reckon(areas.rectangle_perimeter, width=sides[0], length=sides[1]))
        self.corners += 4
        self.flat.append((sides[0], sides[1]))
        r = self.reveal.value
        sheet = shapely.box(left - r, low - r, right + r, high + r)
        self.face(face, "roof", "flat", sheet, cover, GROUND)

    # the whole

    def layout(
        self,
        family: str,
        *,
        line_height: Traced | None,
        bond_breaker: Traced | None = None,
        girth: Traced | None = None,
    ) -> Layout:
        """Add it all up."""
        net = total("fleece as laid", self.net)
        zone = total("zone", self.zone)
        overlap = self.given["tape-corner-overlap"]
        found = [s.area for s in self.surfaces if s.area is not None]
        if bond_breaker is not None:
            found.append(bond_breaker)
        kinds = {
            kind: chr(ord("A") + n)
            for n, kind in enumerate(dict.fromkeys(p.kind for p in self.pieces))
        }
        pieces = tuple(
            replace(piece, order=n, letter=f"{kinds[piece.kind]}{piece.number}")
            for n, piece in enumerate(self.pieces, 1)
        )
        layout = Layout(
            family=family,
            built=True,
            surfaces=tuple(self.surfaces),
            masking=Masking(
                tape=total("tape", self.tape),
                corners=reckon(
                    supply.scaled,
                    amount=overlap,
                    count=constant(float(self.corners), "1", "corners of the tape"),
                ),
                flat=tuple(self.flat),
                line_height=line_height,
            ),
            fleece=Fleece(
                pieces=pieces,
                zone=zone,
                net=net,
                cut=total("fleece as cut", self.cut),
                lap_area=total("laps", self.laps) if self.laps else measured(0.0, "in^2", "laps"),
                extra=reckon(areas.difference, whole=net, part=zone),
            ),
            coated=total("area coated, out to the tape", found),
            girth=girth,
            faces=tuple(self.faces),
            plates=tuple(self.drawn),
            bond_breaker=bond_breaker,
            breaker=self.breaker,
            marked=self.marked,
            shared=tuple(self.shared),
            asks=tuple(self.asks),
            facts=dict(self.facts),
            sizes=dict(self.sizes),
            parameters=self.given,
        )
        return replace(layout, unproved=prove_faces(layout, self.settled))


GROUND = Frame((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0))


def seam(
    face: str, a: Point, b: Point, c: Point | None = None, d: Point | None = None
) -> tuple[str, Line, Line]:
    """Name a fold: the other face, the line here, and the same line there (else the same)."""
    return (face, (a, b), (c or a, d or b))


def straight(face: str, along: tuple[float, float], out: tuple[float, float]) -> list[Lying]:
    """Put a part of a strip on a face whose first axis runs along the strip."""
    return [Lying(face, shapely.box(along[0], out[0], along[1], out[1]))]


def spread_over(
    spreads: Sequence[Spread], first: float, last: float
) -> Iterator[tuple[Spread, float, float, float, float]]:
    """Take a part of a strip's width apart by the faces it lies on.

    Yields the spread, from where to where in that part, and from where to where on the face.
    """
    edge = 0.0
    for spread in spreads:
        low, high = max(first, edge), min(last, edge + spread.size)
        if high - low > SAME:
            at = spread.at + (spread.size - (high - edge) if spread.down else low - edge)
            yield spread, low - first, high - first, at, at + high - low
        edge += spread.size
