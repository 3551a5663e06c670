"""Which members and plates share a masked rectangle on the roof."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from shapely.geometry import MultiPolygon
from shapely.geometry.base import BaseGeometry

from upstand.formulas import areas
from upstand.layout.model import Rectangle, Region
from upstand.layout.placed import NOISE, Bounds, PlacedMember, PlacedPlate, apart, filled, turned
from upstand.quantity.traced import Traced, measured, reckon
from upstand.sections.near import near_groups

#: Sides that differ by less than this are the same side.
SAME = 1e-7


@dataclass(frozen=True, slots=True)
class Reach:
    """What a target has to reach round: its box grown by a margin, and what both come from."""

    bounds: Bounds
    sides: tuple[Traced, Traced] | None
    centre: tuple[Traced, Traced]
    margin: Traced


@dataclass(slots=True)
class _Draft:
    """A region in the making; an island keeps its plate's own axes until it is joined."""

    target: Rectangle
    members: list[int] = field(default_factory=list)
    plates: list[int] = field(default_factory=list)
    turn: float = 0.0

    def mask_bounds(self, reveal: float) -> Bounds:
        """Bound the mask, in the axes of all."""
        mask = self.target.grown(reveal)
        if self.turn:
            left, low, right, high = _shape(mask, self.turn).bounds
            return (left, low, right, high)
        return (mask.left, mask.low, mask.right, mask.high)


def _around(bounds: Sequence[Bounds]) -> Rectangle:
    return Rectangle(
        min(b[0] for b in bounds),
        min(b[1] for b in bounds),
        max(b[2] for b in bounds),
        max(b[3] for b in bounds),
    )


def find_regions(
    members: Sequence[PlacedMember],
    plates: Sequence[PlacedPlate],
    flange: Traced,
    margin: Traced,
    reveal: float,
    mask_turn: float,
    under: Sequence[int] = (),
) -> tuple[Region, ...]:
    """Group members and plates, and put a target and a mask round each group.

    Members whose outlines grown by the flange touch share a target; a plate's cover that touches
    a grown outline is taken in; one that touches none is an island. Masks that overlap are joined.
    `under` are base plates: they are grown by the flange as their members are. Lengths in inches,
    all in the mask's axes.
    """
    reaches = [Reach(_grown(m.bounds, flange.value), m.sides, m.centre, flange) for m in members]
    covers = [Reach(p.bounds, p.sides, p.centre, margin) for p in plates]
    drafts: list[_Draft] = []
    taken: set[int] = set()
    for group in near_groups([m.outline for m in members], 2.0 * flange.value + NOISE):
        beside = [
            p.number for p in plates if any(_touches(p, members[i], flange.value) for i in group)
        ]
        taken.update(beside)
        around = [reaches[i].bounds for i in group] + [covers[n].bounds for n in beside]
        around += [_grown(plates[n].outline.bounds, flange.value) for n in beside if n in under]
        drafts.append(_Draft(_around(around), group, beside))
    for plate in plates:
        if plate.number not in taken:
            # a lone plate is masked along its own sides
            own = turned(plate.cover, mask_turn, (0.0, 0.0))
            drafts.append(_Draft(_around([own.bounds]), [], [plate.number], -mask_turn))
    found = []
    for draft in _joined(drafts, reveal):
        here = [reaches[i] for i in draft.members] + [covers[n] for n in draft.plates]
        here += [
            Reach(_grown(p.outline.bounds, flange.value), p.sides, p.centre, flange)
            for p in (plates[n] for n in draft.plates if n in under)
        ]
        width, length = _sides(draft, here, [plates[n] for n in draft.plates], margin)
        found.append(
            Region(
                target=draft.target,
                mask=draft.target.grown(reveal),
                turn_deg=draft.turn,
                outline=filled([members[i].outline for i in draft.members])
                if draft.members
                else MultiPolygon(),
                members=tuple(draft.members),
                plates=tuple(draft.plates),
                width=width,
                length=length,
            )
        )
    return tuple(found)


def _grown(bounds: Bounds, by: float) -> Bounds:
    return (bounds[0] - by, bounds[1] - by, bounds[2] + by, bounds[3] + by)


def _touches(plate: PlacedPlate, member: PlacedMember, flange: float) -> bool:
    if apart(plate.bounds, member.bounds, flange + NOISE):
        return False
    return bool(plate.cover.distance(member.outline) <= flange + NOISE)


def _sides(
    draft: _Draft, reaches: Sequence[Reach], plates: Sequence[PlacedPlate], margin: Traced
) -> tuple[Traced, Traced]:
    """Count the sides of a target from what it reaches round."""
    if draft.turn:
        plate = plates[0].plate
        return (
            reckon(areas.grown_side, side=plate.width, margin=margin),
            reckon(areas.grown_side, side=plate.length, margin=margin),
        )
    target = draft.target
    return (
        extent(reaches, 0, target.left, target.right),
        extent(reaches, 1, target.low, target.high),
    )


def extent(reaches: Sequence[Reach], axis: int, first: float, last: float) -> Traced:
    """Count a side of a target: what reaches farthest decides each of its ends."""
    firsts = [r for r in reaches if abs(r.bounds[axis] - first) < SAME]
    lasts = [r for r in reaches if abs(r.bounds[axis + 2] - last) < SAME]
    both = next((r for r in firsts if any(r is other for other in lasts) and r.sides), None)
    if both is not None and both.sides is not None:
        return reckon(areas.grown_side, side=both.sides[axis], margin=both.margin)
    before = next((r for r in firsts if r.sides), None)
    after = next((r for r in lasts if r.sides), None)
    if before is None or after is None:
        return measured(last - first, "in", "as drawn")
    return reckon(areas.span, first=edge(before, axis, 0), last=edge(after, axis, 1))


def edge(reach: Reach, axis: int, end: int) -> Traced:
    """Count where something grown begins (end 0) or ends (1) along an axis."""
    assert reach.sides is not None
    formula = areas.edge_after if end else areas.edge_before
    return reckon(formula, middle=reach.centre[axis], side=reach.sides[axis], margin=reach.margin)


def _joined(drafts: Sequence[_Draft], reveal: float) -> list[_Draft]:
    """Join drafts whose masks overlap until none do; each stands where its first one stood."""
    out: list[_Draft | None] = []
    boxes: list[Bounds] = []
    for draft in drafts:
        place, merged, again = len(out), draft, True
        bounds = merged.mask_bounds(reveal)
        while again:
            again = False
            for k, other in enumerate(out):
                if other is None or apart(bounds, boxes[k]):
                    continue
                if not _overlap(merged, other, reveal):
                    continue
                merged = _merged(other, merged)
                bounds = merged.mask_bounds(reveal)
                out[k], place, again = None, min(place, k), True
        if place == len(out):
            out.append(merged)
            boxes.append(bounds)
        else:
            out[place], boxes[place] = merged, bounds
            out.append(None)
            boxes.append(bounds)
    return [draft for draft in out if draft is not None]


def _overlap(a: _Draft, b: _Draft, reveal: float) -> bool:
    if not a.turn and not b.turn:
        one, other = a.target.grown(reveal), b.target.grown(reveal)
        wide = min(one.right, other.right) - max(one.left, other.left)
        long = min(one.high, other.high) - max(one.low, other.low)
        return wide > 0.0 and long > 0.0 and wide * long > 1e-6
    return bool(_mask(a, reveal).intersection(_mask(b, reveal)).area > 1e-6)


def _merged(first: _Draft, second: _Draft) -> _Draft:
    both = [
        _shape(d.target, d.turn).bounds
        if d.turn
        else (d.target.left, d.target.low, d.target.right, d.target.high)
        for d in (first, second)
    ]
    return _Draft(
        _around(both),
        sorted(first.members + second.members),
        sorted(set(first.plates + second.plates)),
    )


def _shape(rectangle: Rectangle, turn: float) -> BaseGeometry:
    return turned(rectangle.sheet(), turn, (0.0, 0.0))


def _mask(draft: _Draft, reveal: float) -> BaseGeometry:
    return _shape(draft.target.grown(reveal), draft.turn)
