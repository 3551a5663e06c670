"""Collects what a detail on plane faces is made of: faces, surfaces, tape, pieces, laps."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace

import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from upstand.edition import Edition, Value
from upstand.formulas import areas, supply
from upstand.layout.edges import free_edges
from upstand.layout.model import (
    Ask,
    Face,
    Fleece,
    Fold,
    Frame,
    Layout,
    Line,
    Lying,
    Marked,
    Masking,
    Orientation,
    Point,
    Surface,
)
from upstand.layout.parameters import read_parameter, read_parameters
from upstand.layout.pieces import Pieces
from upstand.layout.proof_of_faces import prove_faces
from upstand.quantity.traced import Traced, constant, measured, reckon, total
from upstand.query.defaults import Settled

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


class Builder:
    """Collects one detail; `layout` adds it up."""

    def __init__(self, settled: Settled, edition: Edition, names: Iterable[str] = ()) -> None:
        """Read what every such detail is made with, and the parameters named."""
        self.settled, self.edition = settled, edition
        self.given = read_parameters(edition, (*COMMON, *names))
        self.pieces = Pieces(settled, edition, self.given)
        self.lap, self.reveal = self.given["fleece-lap"], settled.sizes["reveal"]
        self.faces: list[Face] = []
        self.surfaces: list[Surface] = []
        self.zone: list[Traced] = []
        self.tape: list[Traced] = []
        self.corners = 0
        self.net: list[Traced] = []
        self.cut: list[Traced] = []
        self.laps: list[Traced] = []
        self.flat: list[tuple[Traced, Traced]] = []
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

    def counted(self, before: int) -> None:
        """Add up the pieces that were made since there were so many."""
        for piece in self.pieces.made[before:]:
            count = float(piece.count)
            self.net.append(self.times(piece.net, count, "pieces of one size"))
            area = self.rectangle(piece.width, piece.length)
            self.cut.append(self.times(area, count, "pieces of one size"))

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
                pieces=self.pieces.finished(),
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
