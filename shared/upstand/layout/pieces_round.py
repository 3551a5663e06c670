"""Cuts pieces round what stands in a target: covers, base, wraps, patches, caps and tops."""

from __future__ import annotations

from collections.abc import Sequence

from shapely.affinity import translate
from shapely.geometry import MultiPolygon
from shapely.geometry.base import BaseGeometry

from upstand.formulas import areas, supply
from upstand.formulas import pieces as piece_formulas
from upstand.layout.model import Lying, PieceKind, Rectangle, Region
from upstand.layout.pieces import Pieces
from upstand.layout.placed import PlacedMember, PlacedPlate, apart, disc, turned
from upstand.layout.section_parts import taken
from upstand.layout.splitting import (
    Split,
    choose_split,
    fit_roll,
    lap_outside,
    lay_base,
    resized,
    split_target,
    vanished,
)
from upstand.layout.uprights import Part
from upstand.quantity.traced import Traced, constant, measured, reckon
from upstand.query.defaults import Settled

ORDER: tuple[PieceKind, ...] = ("cap", "cover", "base", "wrap", "patch", "top")


class PieceMaker:
    """Makes the pieces round uprights, lowest first."""

    def __init__(self, pieces: Pieces, settled: Settled) -> None:
        """Keep the settled question, and where the pieces are collected."""
        self.settled, self.pieces = settled, pieces
        self.given, self.roll, self.add = pieces.given, pieces.roll, pieces.add

    def covers(
        self,
        plates: Sequence[PlacedPlate],
        region: Region,
        parts: Sequence[Part],
        face: str,
    ) -> None:
        """Cut a cover for each plate, 2 in past it on every side, round an outline it meets.

        A cover wider than the widest roll is cut in parts that lap.
        """
        margin, lap = self.given["plate-margin"], self.given["fleece-lap"]
        for plate in plates:
            width = reckon(areas.grown_side, side=plate.plate.width, margin=margin)
            length = reckon(areas.grown_side, side=plate.plate.length, margin=margin)
            grid = fit_roll(width, length, *self.roll, lap)
            sheet = Rectangle(0.0, 0.0, width.value, length.value)
            if grid.count == 1:
                self._cover(width, length, plate.cover, parts, face)
                continue
            for part in grid.rectangles(sheet, lap.value):
                here = self._on_roof(part, sheet, plate)
                self._cover(grid.width, grid.length, here, parts, face)

    def _cover(
        self,
        width: Traced,
        length: Traced,
        shape: BaseGeometry,
        parts: Sequence[Part],
        face: str,
    ) -> None:
        net = reckon(areas.rectangle_area, width=width, length=length)
        bounds = shape.bounds
        for part in parts:
            if apart(bounds, part.outline.bounds):
                continue
            met = shape.intersection(part.outline).area
            if met <= 1e-9:
                continue
            shape = shape.difference(part.outline)
            inside = part.area
            if abs(met - part.outline.area) > 1e-9:
                inside = measured(met, "in^2", "outline inside the cover")
            net = reckon(areas.difference, whole=net, part=inside)
        self.add("cover", width, length, net=net, shape=shape, lies=[Lying(face, shape)])

    def _on_roof(self, part: Rectangle, sheet: Rectangle, plate: PlacedPlate) -> BaseGeometry:
        """Carry a part of a cover from the plate's own axes to where it lies."""
        at = plate.plate.at
        x, y = (at[0].value, at[1].value) if at else (0.0, 0.0)
        here = translate(part.sheet(), x - sheet.width / 2.0, y - sheet.length / 2.0)
        return turned(here, -self.settled.mask_turn.value, (0.0, 0.0))

    def base(
        self,
        region: Region,
        parts: Sequence[Part],
        members: Sequence[PlacedMember],
        face: str,
        turn_up: Traced | None = None,
        longest: Traced | None = None,
    ) -> list[Traced]:
        """Split the target into base pieces; returns the areas of their laps.

        An island of one plate has none but its cover. `turn_up` is how far the pieces turn up.
        """
        if not region.members and len(region.plates) == 1:
            return []
        lap = self.given["fleece-lap"]
        up = turn_up or self.given["turn-up"]
        split = choose_split(region, members, lap.value)
        halves = split_target(region.target, split, lap.value)
        sizes = self._sizes(region, members, split, halves)
        roll = (self.roll[0], longest or self.roll[1])
        grids = [fit_roll(width, length, *roll, lap) for width, length in sizes]
        openings = [self._opening(part, members, up.value) for part in parts]
        thin = [
            self._thin(part, opening, members, up.value)
            for part, opening in zip(parts, openings, strict=True)
        ]
        lone = members[region.members[0]] if len(region.members) == 1 else None
        whole = all(grid.count == 1 for grid in grids)
        cut = kept = None
        if lone is not None and split is not None and whole:
            cut = taken(lone, split.axis, lap, up if up.value else None)
            kept = taken(lone, split.axis, lap, None)
        rectangles = []
        for n, (half, grid) in enumerate(zip(halves, grids, strict=True)):
            for rectangle in grid.rectangles(half, lap.value):
                laid = lay_base(rectangle, openings, thin)
                rectangles.append(rectangle)
                net = reckon(areas.rectangle_area, width=grid.width, length=grid.length)
                if cut is not None:
                    part = cut.before if n == 0 else cut.after
                    if part.value:
                        net = reckon(areas.difference, whole=net, part=part)
                elif net.value - laid.shape.area > 1e-9:
                    net = measured(float(laid.shape.area), "in^2", "base piece as laid")
                self.add(
                    "base",
                    grid.width,
                    grid.length,
                    net=net,
                    slit=laid.slit,
                    shape=laid.shape,
                    sheet=rectangle,
                    lies=[Lying(face, laid.shape)],
                )
        if kept is not None and split is not None:
            joint = region.length if split.axis == "x" else region.width
            over = reckon(piece_formulas.lap_area, width=lap, length=joint)
            return [reckon(areas.difference, whole=over, part=kept.both)]
        overlap = lap_outside(rectangles, [part.outline for part in parts])
        return [measured(overlap, "in^2", "base laps outside the outline")] if overlap else []

    def _sizes(
        self,
        region: Region,
        members: Sequence[PlacedMember],
        split: Split | None,
        halves: Sequence[Rectangle],
    ) -> list[tuple[Traced, Traced]]:
        """Count the sides of the pieces on both sides of the lines."""
        if split is None:
            return [(region.width, region.length)]
        axis = 0 if split.axis == "x" else 1
        sides = self._across(region, members, axis, split, halves)
        if axis == 0:
            return [(side, region.length) for side in sides]
        return [(region.width, side) for side in sides]

    def _across(
        self,
        region: Region,
        members: Sequence[PlacedMember],
        axis: int,
        split: Split,
        halves: Sequence[Rectangle],
    ) -> list[Traced]:
        lap = self.given["fleece-lap"]
        side = (region.width, region.length)[axis]
        if len(region.members) == 1 and len(split.at) == 1:
            if abs(halves[0].width - halves[1].width) + abs(
                halves[0].length - halves[1].length
            ) < 1e-7 and side.origin.where in ("grown_side", "span"):
                two = constant(2.0, "1", "pieces on both sides of the member")
                part = reckon(piece_formulas.even_part, side=side, parts=two, lap=lap)
                return [part, part]
            if side.working is not None and side.working.formula == "span":
                first, last = (part for _, part in side.working.inputs)
                line = members[region.members[0]].centre[axis]
                return [
                    reckon(piece_formulas.piece_before, first=first, line=line, lap=lap),
                    reckon(piece_formulas.piece_after, line=line, last=last, lap=lap),
                ]
        what = "base piece as drawn"
        return [measured((h.width, h.length)[axis], "in", what) for h in halves]

    def _opening(self, part: Part, members: Sequence[PlacedMember], turn_up: float) -> BaseGeometry:
        if not turn_up:
            return part.outline
        if len(part.members) == 1 and members[part.members[0]].section.round:
            member = members[part.members[0]]
            left, low, right, high = member.bounds
            radius = (right - left) / 2.0 - turn_up
            if radius <= 0.0:
                return MultiPolygon()
            return disc((left + right) / 2.0, (low + high) / 2.0, radius)
        # corners stay sharp: the base is cut round them
        return resized(part.outline, -turn_up, part.sharpest)

    def _thin(
        self, part: Part, opening: BaseGeometry, members: Sequence[PlacedMember], turn_up: float
    ) -> BaseGeometry:
        if opening.is_empty:
            return part.outline
        if len(part.members) == 1 and members[part.members[0]].section.kind in (
            "pipe",
            "rod",
            "bar",
            "tube",
        ):
            return MultiPolygon()
        return vanished(part.outline, opening, turn_up, part.sharpest)

    def wraps(self, part: Part) -> list[Traced]:
        """Wrap one upright; returns the areas of its joints' laps."""
        lap = self.given["fleece-lap"]
        joints = constant(float(part.joints), "1", "joints of the wrap")
        all_round = reckon(piece_formulas.wrap_length, girth=part.girth, joints=joints, lap=lap)
        length = all_round
        if part.joints > 1:
            length = reckon(piece_formulas.wrap_part, length=all_round, parts=joints)
        width = reckon(piece_formulas.wrap_width, height=self.settled.height, foot=lap)
        laps = [reckon(piece_formulas.lap_area, width=lap, length=width)] * part.joints
        grid = fit_roll(width, length, *self.roll, lap)
        net = reckon(areas.rectangle_area, width=grid.width, length=grid.length)
        for _ in range(grid.count):
            self.add(
                "wrap",
                grid.width,
                grid.length,
                net=net,
                count=part.joints,
                joint=part.joint_face,
            )
        if grid.count == 1:
            return laps
        pieces = reckon(
            piece_formulas.split_area,
            width=width,
            length=length,
            columns=grid.columns,
            rows=grid.rows,
            lap=lap,
        )
        whole = reckon(areas.rectangle_area, width=width, length=length)
        more = reckon(areas.difference, whole=pieces, part=whole)
        return [*laps, reckon(supply.scaled, amount=more, count=joints)]

    def patches(self, parts: Sequence[Part]) -> None:
        """Count one patch a convex corner; none on round members."""
        count = sum(part.patch_count(self.given["corner-sharing"].value) for part in parts)
        if count:
            side = self.given["corner-patch"]
            self.add("patch", side, side, count=count)

    def caps(self, side: Traced, count: int) -> None:
        """Cut a square cap for each anchor."""
        self.add("cap", side, side, count=count)

    def tops(self, parts: Sequence[Part], members: Sequence[PlacedMember]) -> None:
        """Close each outline on top, folded down past its edges."""
        lap = self.given["fleece-lap"]
        for part in parts:
            sides = members[part.members[0]].sides if len(part.members) == 1 else None
            if sides is None:
                left, low, right, high = part.outline.bounds
                sides = (
                    measured(right - left, "in", "outline as drawn"),
                    measured(high - low, "in", "outline as drawn"),
                )
            width, length = (reckon(areas.grown_side, side=s, margin=lap) for s in sides)
            grid = fit_roll(width, length, *self.roll, lap)
            self.add("top", grid.width, grid.length, count=grid.count)
