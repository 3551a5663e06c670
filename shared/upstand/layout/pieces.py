"""Makes the pieces of fleece of a layout, lowest first, and names them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from shapely.affinity import translate
from shapely.geometry import MultiPolygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from upstand.edition import Edition
from upstand.formulas import areas
from upstand.formulas import pieces as piece_formulas
from upstand.layout.model import Piece, PieceKind, Rectangle, Region
from upstand.layout.placed import PlacedMember, PlacedPlate, disc, turned
from upstand.layout.splitting import (
    choose_split,
    fit_roll,
    lay_base,
    refuse_many,
    shrunk,
    split_target,
    vanished,
)
from upstand.layout.uprights import Part
from upstand.quantity.traced import Traced, constant, measured, reckon
from upstand.query.defaults import Settled

ORDER: tuple[PieceKind, ...] = ("cover", "base", "wrap", "patch")


class PieceMaker:
    """Collects pieces; `finished` puts them in the order in which they are laid."""

    def __init__(self, settled: Settled, edition: Edition, given: dict[str, Traced]) -> None:
        """Keep the settled question, the limits' lengths, and the widest roll of the fleece."""
        self.settled, self.given = settled, given
        rolls = [
            (pack.value("width").magnitude("in"), pack.value("length").magnitude("in"))
            for pack in edition.kind("packs").values()
            if pack.get("of") == settled.fleece.path
        ]
        self.roll_width, self.roll_length = max(rolls, default=(float("inf"), float("inf")))
        self.pieces: list[Piece] = []
        self.count = 0

    def _add(
        self,
        kind: PieceKind,
        width: Traced,
        length: Traced,
        net: Traced,
        *,
        count: int = 1,
        slit: bool = False,
        joint: str | None = None,
        shape: BaseGeometry | None = None,
        sheet: Rectangle | None = None,
    ) -> None:
        self.count += count
        refuse_many(self.count)
        number = sum(1 for p in self.pieces if p.kind == kind) + 1
        self.pieces.append(
            Piece(
                id=f"{kind}-{number}",
                kind=kind,
                number=number,
                width=width,
                length=length,
                count=count,
                order=0,
                net=net,
                slit=slit,
                joint=joint,
                shape=shape,
                sheet=sheet,
            )
        )

    def covers(self, plates: Sequence[PlacedPlate], region: Region) -> None:
        """Cut a cover for each plate, 2 in past it on every side, round an outline it meets.

        A cover wider than the widest roll is cut in parts that lap.
        """
        margin = self.given["plate-margin"]
        for plate in plates:
            width = reckon(areas.grown_side, side=plate.plate.width, margin=margin)
            length = reckon(areas.grown_side, side=plate.plate.length, margin=margin)
            sheet = Rectangle(0.0, 0.0, width.value, length.value)
            cut = fit_roll(sheet, self.roll_width, self.roll_length, self.given["fleece-lap"].value)
            if len(cut) == 1:
                self._cover(width, length, plate.cover, region)
                continue
            for part in cut:
                width = measured(part.width, "in", "cover split to the widest roll")
                length = measured(part.length, "in", "cover split to the widest roll")
                self._cover(width, length, self._on_roof(part, sheet, plate), region)

    def _cover(self, width: Traced, length: Traced, shape: BaseGeometry, region: Region) -> None:
        net = reckon(areas.rectangle_area, width=width, length=length)
        met = shape.intersection(region.outline).area if region.members else 0.0
        if met > 1e-9:
            shape = shape.difference(region.outline)
            part = measured(met, "in^2", "outline inside the cover")
            net = reckon(areas.difference, whole=net, part=part)
        self._add("cover", width, length, net, shape=shape)

    def _on_roof(self, part: Rectangle, sheet: Rectangle, plate: PlacedPlate) -> BaseGeometry:
        """Carry a part of a cover from the plate's own axes to where it lies."""
        at = plate.plate.at
        x, y = (at[0].value, at[1].value) if at else (0.0, 0.0)
        here = translate(part.sheet(), x - sheet.width / 2.0, y - sheet.length / 2.0)
        return turned(here, -self.settled.mask_turn.value, (0.0, 0.0))

    def base(
        self, region: Region, parts: Sequence[Part], members: Sequence[PlacedMember]
    ) -> list[Rectangle]:
        """Split the target into base pieces; an island of one plate has none but its cover."""
        if not region.members and len(region.plates) == 1:
            return []
        lap = self.given["fleece-lap"].value
        split = choose_split(region, members, lap)
        rectangles = [
            part
            for piece in split_target(region.target, split, lap)
            for part in fit_roll(piece, self.roll_width, self.roll_length, lap)
        ]
        openings = [self._opening(part, members) for part in parts]
        opening: BaseGeometry = unary_union(openings) if openings else MultiPolygon()
        thin = vanished(region.outline, opening, self.given["turn-up"].value)
        for rectangle in rectangles:
            laid = lay_base(rectangle, opening, thin)
            self._add(
                "base",
                measured(rectangle.width, "in", "width of the base piece"),
                measured(rectangle.length, "in", "length of the base piece"),
                measured(float(laid.shape.area), "in^2", "base piece as laid"),
                slit=laid.slit,
                shape=laid.shape,
                sheet=rectangle,
            )
        return rectangles

    def _opening(self, part: Part, members: Sequence[PlacedMember]) -> BaseGeometry:
        turn_up = self.given["turn-up"].value
        if len(part.members) == 1 and members[part.members[0]].section.round:
            member = members[part.members[0]]
            left, low, right, high = member.bounds
            radius = (right - left) / 2.0 - turn_up
            if radius <= 0.0:
                return MultiPolygon()
            return disc((left + right) / 2.0, (low + high) / 2.0, radius)
        return shrunk(part.outline, turn_up)

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
        sheet = Rectangle(0.0, 0.0, width.value, length.value)
        cut = fit_roll(sheet, self.roll_width, self.roll_length, lap.value)
        if len(cut) == 1:
            net = reckon(areas.rectangle_area, width=width, length=length)
            self._add("wrap", width, length, net, count=part.joints, joint=part.joint_face)
            return laps
        for piece in cut:
            width = measured(piece.width, "in", "wrap split to the widest roll")
            length = measured(piece.length, "in", "wrap split to the widest roll")
            net = reckon(areas.rectangle_area, width=width, length=length)
            self._add("wrap", width, length, net, count=part.joints, joint=part.joint_face)
        more = (sum(p.width * p.length for p in cut) - sheet.width * sheet.length) * part.joints
        return [*laps, measured(more, "in^2", "laps of split wraps")]

    def patches(self, parts: Sequence[Part]) -> None:
        """Count one patch a convex corner; none on round members."""
        count = sum(part.patch_count(self.given["corner-sharing"].value) for part in parts)
        if count:
            side = self.given["corner-patch"]
            net = reckon(areas.rectangle_area, width=side, length=side)
            self._add("patch", side, side, net, count=count)

    def finished(self) -> tuple[Piece, ...]:
        """Return the pieces in the order in which they are laid, lowest first."""
        ordered = sorted(self.pieces, key=lambda p: ORDER.index(p.kind))
        return tuple(replace(piece, order=n) for n, piece in enumerate(ordered, 1))
