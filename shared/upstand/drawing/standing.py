"""What stands in the roof, on a plan: members, slits that reach them, letters led to them."""

from __future__ import annotations

import math
from collections.abc import Iterator

import shapely
from shapely import affinity
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from upstand.drawing.hollow import inside_of
from upstand.drawing.place import Labels, around
from upstand.drawing.scene import Scene
from upstand.drawing.slits import slit_lines
from upstand.drawing.svg import Pair, Row, Sheet
from upstand.drawing.view import View, polygons
from upstand.layout.uprights import placed_corners
from upstand.sections.model import group_near

SHORT = 0.05  # inches


class Standing:
    """Draws on the panel of the roof, whose axes are those of the mask."""

    def __init__(self, scene: Scene, sheet: Sheet, labels: Labels, view: View) -> None:
        """Keep what is drawn on."""
        self.scene, self.sheet, self.labels, self.view = scene, sheet, labels, view

    def slit(self) -> Iterator[Row]:
        """Draw where base pieces are slit to reach what stands in them."""
        fleece = self.scene.layout.fleece
        assert fleece is not None
        stands = unary_union([region.outline for region in self.scene.layout.regions])
        for piece in fleece.pieces:
            if piece.kind != "base" or not piece.slit or piece.sheet is None:
                continue
            left, low = piece.sheet.left, piece.sheet.low
            for line in slit_lines(self.scene, piece):
                placed = shapely.linestrings([(x + left, y + low) for x, y in line])
                seen = placed.difference(stands)
                if seen.length > SHORT:
                    self.sheet.path(self.view.edge(seen), "slit")
                    self.labels.lines += list(self.view.parts(seen))
                    yield Row(self.scene.label("slit"), style="slit")

    def draw(self) -> Iterator[Row]:
        """Draw what stands in the roof, hollow where it is hollow; yield what its hatches mean."""
        settled = self.scene.answer.settled
        for region in self.scene.layout.regions:
            if not region.members:
                continue
            self.sheet.path(self.view.fill(region.outline), "white")
            shape = region.outline
            for number in region.members:
                shape = shape.difference(inside_of(settled, number))
            names = dict.fromkeys(settled.members[n].substrate for n in region.members)
            hatch = self.scene.hatch(next(iter(names)))
            self.sheet.hatched(self.view.fill(shape), hatch)
            self.labels.lines += list(self.view.parts(region.outline.boundary))
            if self.scene.sleeve:
                yield self._sleeve(region.outline)
            yield Row(
                self.scene.label("member", substrate=self.scene.substrates(names)), pattern=hatch
            )

    def _sleeve(self, outline: BaseGeometry) -> Row:
        """Show that something runs in a sleeve, clear of it."""
        inner = affinity.scale(outline, 0.6, 0.6, origin="centroid")
        self.sheet.path(self.view.edge(inner), "sleeve")
        self.labels.lines += list(self.view.parts(inner.boundary))
        return Row(self.scene.label(f"sleeve-{self.scene.sleeve}"), style="sleeve")

    def write(self) -> Iterator[Row]:
        """Lead from each upright to the letters of its wraps, and from a corner to its patch."""
        fleece = self.scene.layout.fleece
        assert fleece is not None
        wraps = [piece for piece in fleece.pieces if piece.kind == "wrap"]
        outlines = [
            part
            for region in self.scene.layout.regions
            if region.members
            for part in polygons(region.outline)
        ]
        if len(wraps) == len(outlines):
            for wrap, outline in zip(wraps, outlines, strict=True):
                self._on_edge(wrap.letter, outline)
        elif wraps and outlines:  # cut in several, round one upright after the other
            letters = wraps[0].letter, wraps[-1].letter
            self._on_edge("–".join(letters), outlines[0])
        for piece in fleece.pieces:
            if piece.kind == "patch" and not piece.lies:
                self._corners(piece.letter)
                yield Row(self.scene.label("kind-patch"), mark="•")
            elif piece.kind == "top" and outlines:
                inside = next(self.view.parts(outlines[min(piece.number, len(outlines)) - 1]))
                self.labels.put_inside(piece.letter, inside)

    def _on_edge(self, text: str, outline: BaseGeometry) -> None:
        """Write a text beside an upright, with a leader to its edge."""
        for part in self.view.parts(outline):
            edge = part.boundary
            middle = part.centroid
            for n in (1, 9, 5, 13, 3, 7, 11, 15, 2, 4, 6, 8, 10, 12, 14, 0):
                target = edge.interpolate(n / 16.0, normalized=True)
                way = math.atan2(target.y - middle.y, target.x - middle.x)
                places = [
                    (target.x + far * math.cos(turn), target.y + far * math.sin(turn) + 4.4)
                    for far in (20.0, 26.0, 34.0)
                    for turn in (way, way + 0.5, way - 0.5)
                ]
                if self.labels.lead(text, (target.x, target.y), places):
                    return

    def _corners(self, letter: str) -> None:
        """Dot each corner that has a patch, and lead from one to its letter."""
        layout, members = self.scene.layout, self.scene.members
        share = layout.parameters["corner-sharing"].value
        found: list[Pair] = []
        for region in layout.regions:
            inside = region.outline.buffer(-0.05)
            points = [
                point
                for number in region.members
                for point in placed_corners(members[number])
                if not inside.covers(shapely.Point(point))
            ]
            found += [self.view.at(*group[0]) for group in group_near(points, share)]
        for at in found:
            self.sheet.dot(at, 3.5)
        if not any(self.labels.lead(letter, at, around(at)) for at in found):
            self.labels.put(letter, [place for at in found for place in around(at)], bold=True)
