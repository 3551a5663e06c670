"""What the film of a section lies on: roof, wall or upright, a crack or joint in it, a sleeve."""

from __future__ import annotations

from collections.abc import Iterator

import shapely

from upstand.drawing.chain import Leg
from upstand.drawing.hollow import wall_of
from upstand.drawing.paper import Paper
from upstand.drawing.scene import Scene
from upstand.drawing.svg import Pair, Row, Sheet, polyline

BODY = 1.4  # inches drawn of what the film lies on
TAPE = 0.7  # inches drawn of the tape
GAP, SLEEVE = 16.0, 34.0  # units: the gap in a sleeve, and that with what runs in it
NARROWEST = 4.0  # units that a crack or joint is drawn wide


class Ground:
    """Draws what is under the film; `beside` is how far past an upright it reaches [units]."""

    def __init__(self, scene: Scene, sheet: Sheet, paper: Paper) -> None:
        """Keep what it is drawn from."""
        self.scene, self.sheet, self.paper = scene, sheet, paper
        self.legs = paper.chain.legs
        self.beside = SLEEVE if scene.sleeve else 0.0

    def draw(self) -> list[Row]:
        """Draw it all; returns what its lines mean."""
        starts, last_leg = self.paper.chain.starts, len(self.legs) - 1
        for index, leg in enumerate(self.legs):
            deep = self.depth(leg) * self.paper.scale
            first = self.paper.off(starts[index], 0.0, index)
            last = self.paper.off(starts[index + 1], 0.0, index)
            ends = []
            for at, fold in ((index, index > 0), (index + 1, index < last_leg)):
                if fold and self.depth(self.legs[at - 1]) == self.depth(self.legs[at]):
                    ends.append(self.paper.corner(at, -deep))
                else:
                    ends.append(self.paper.off(starts[at], -deep, index))
            # what lies flat goes on under its tape
            tx, ty = self.paper.tangent(leg)
            out = TAPE * self.paper.scale + 8.0
            if index == 0:
                first, ends[0] = ((x - tx * out, y - ty * out) for x, y in (first, ends[0]))
            if index == last_leg and (index == 0 or leg.face.orientation == "flat"):
                last, ends[1] = ((x + tx * out, y + ty * out) for x, y in (last, ends[1]))
            self._body(leg, [first, last, ends[1], ends[0]])
            if leg.face.surface == "roof" or index == 0:
                self.sheet.path(polyline([first, last]), "membrane")
        return [*self._marked(), *self._sleeve()]

    def depth(self, leg: Leg) -> float:
        """How deep what a face is of is drawn [in]."""
        if leg.face.unrolled:
            settled = self.scene.answer.settled
            number = int(leg.face.surface.rpartition("-")[2]) - 1
            wall = wall_of(settled, number)
            if wall is not None:
                return max(wall, 4.0 / self.paper.scale)
            sizes = settled.members[number].dimensions
            thin = sizes.get("thickness") or sizes.get("flange_thickness") or sizes.get("width")
            return min(BODY, max(thin.value if thin else BODY, 4.0 / self.paper.scale))
        return min(BODY, *(0.45 * one.length for one in self.legs))

    def surfaces(self, leg: Leg) -> list[str]:
        """Return the surfaces that a leg is drawn of."""
        if leg.face.surface:
            return [leg.face.surface]
        met = [id for id, _, _ in self._grounds(leg)]
        return met or [surface.id for surface in self.scene.layout.surfaces]

    def hatch(self, id: str) -> str:
        """Return the hatch of a surface; a roof is told by the insulation under its sheet."""
        if id.startswith("roof"):
            return "insulation"
        found = (s.substrate for s in self.scene.layout.surfaces if s.id == id)
        return self.scene.hatch(next(found, None))

    def _body(self, leg: Leg, corners: list[Pair]) -> None:
        self.sheet.path(polyline(corners, True), "white")
        grounds = self._grounds(leg)
        if not grounds:
            self.sheet.hatched(polyline(corners, True), self.hatch(self.surfaces(leg)[0]))
        deep = self.depth(leg) * self.paper.scale
        for id, low, high in grounds:
            a, d = self.paper.off(low, 0.0), self.paper.off(low, -deep)
            b, c = self.paper.off(high, 0.0), self.paper.off(high, -deep)
            if low <= 1e-6:
                a, d = corners[0], corners[3]
            if high >= leg.length - 1e-6:
                b, c = corners[1], corners[2]
            self.sheet.hatched(polyline([a, b, c, d], True), self.hatch(id))

    def _grounds(self, leg: Leg) -> list[tuple[str, float, float]]:
        """Return (surface, from, to) along a leg whose face several surfaces share [in]."""
        if leg.face.surface:
            return []
        found = [
            (id, low, high)
            for id, shape in self.scene.layout.shared
            for low, high in self.paper.chain.spans([(leg.face.id, shape)])
        ]
        return sorted(found, key=lambda one: one[1])

    def _marked(self) -> Iterator[Row]:
        """Draw the crack, the joint, the old edge or the damage that the film goes over."""
        marked = self.scene.layout.marked
        if marked is None:
            return
        for leg, start in zip(self.legs, self.paper.chain.starts, strict=False):
            if leg.face.id != marked.face:
                continue
            trace = shapely.linestrings(leg.trace)
            met = trace.intersection(marked.shape)
            if met.is_empty:
                continue
            ends = [trace.project(shapely.Point(at)) for at in shapely.get_coordinates(met)]
            low, high = start + min(ends), start + max(ends)
            if marked.kind == "old-edge":
                self._edge([low])
            elif marked.kind == "damage":
                self._hole(low, high, 6.0)
            else:
                spread = max(0.0, NARROWEST / self.paper.scale - (high - low)) / 2.0
                deep = self.depth(leg) * self.paper.scale
                self._hole(low - spread, high + spread, deep, marked.kind == "crack")
            yield Row(self.scene.label(f"marked-{marked.kind}"), style="cleft")

    def _edge(self, places: list[float]) -> None:
        for at in places:
            deep = self.depth(self.legs[self.paper.leg_at(at)]) * self.paper.scale
            ends = [self.paper.off(at, 0.0), self.paper.off(at, -deep)]
            self.sheet.path(polyline(ends), "cleft")

    def _hole(self, low: float, high: float, deep: float, jagged: bool = False) -> None:
        """Draw an opening from the face down; the sides of a crack are jagged."""
        steps = 6 if jagged else 1
        shift = 3.0 / self.paper.scale if jagged else 0.0
        sides = []
        for at in (low, high):
            sides.append(
                [
                    self.paper.off(at + (shift if n % 2 else 0.0), -deep * n / steps)
                    for n in range(steps + 1)
                ]
            )
        self.sheet.path(polyline([*sides[0], *reversed(sides[1])], True), "white")
        for side in sides:
            self.sheet.path(polyline(side), "cleft")

    def _sleeve(self) -> Iterator[Row]:
        """Draw what runs in a sleeve, clear of it, beside the sleeve's wall."""
        if not self.beside:
            return
        leg, along = self.legs[-1], self.paper.chain.starts[-1]
        deep = self.depth(leg) * self.paper.scale
        for away in (GAP, SLEEVE - 2.0):
            index = len(self.legs) - 1
            ends = [self.paper.off(at, -deep - away, index) for at in (along - leg.length, along)]
            (x, low), (_, top) = ends
            self.sheet.path(polyline([(x, low + 12.0), (x, max(top - 12.0, 2.0))]), "sleeve")
        yield Row(self.scene.label(f"sleeve-{self.scene.sleeve}"), style="sleeve")
