"""Which members and plates share a masked rectangle on the roof."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from shapely.geometry import MultiPolygon
from shapely.geometry.base import BaseGeometry

from upstand.layout.model import Rectangle, Region
from upstand.layout.placed import NOISE, PlacedMember, PlacedPlate, filled, turned


@dataclass(slots=True)
class _Draft:
    """A region in the making; an island keeps its plate's own axes until it is joined."""

    target: Rectangle
    members: list[int] = field(default_factory=list)
    plates: list[int] = field(default_factory=list)
    turn: float = 0.0


def _around(bounds: Sequence[tuple[float, float, float, float]]) -> Rectangle:
    return Rectangle(
        min(b[0] for b in bounds),
        min(b[1] for b in bounds),
        max(b[2] for b in bounds),
        max(b[3] for b in bounds),
    )


def touching(shapes: Sequence[BaseGeometry], within: float) -> list[list[int]]:
    """Group shapes whose distance is at most `within`, contact passed on; order is kept."""
    groups: list[list[int]] = []
    for index, shape in enumerate(shapes):
        near = [g for g in groups if any(shape.distance(shapes[i]) <= within + NOISE for i in g)]
        for group in near:
            groups.remove(group)
        groups.append(sorted(sum(near, [index])))
    return sorted(groups)


def find_regions(
    members: Sequence[PlacedMember],
    plates: Sequence[PlacedPlate],
    flange: float,
    reveal: float,
    mask_turn: float,
) -> tuple[Region, ...]:
    """Group members and plates, and put a target and a mask round each group.

    Members whose outlines grown by the flange touch share a target; a plate's cover that touches
    a grown outline is taken in; one that touches none is an island. Masks that overlap are joined.
    Lengths in inches, all in the mask's axes.
    """
    drafts: list[_Draft] = []
    taken: set[int] = set()
    for group in touching([m.outline for m in members], 2.0 * flange):
        target = _around([members[i].bounds for i in group]).grown(flange)
        near = [
            p.number
            for p in plates
            if any(p.cover.distance(members[i].outline) <= flange + NOISE for i in group)
        ]
        taken.update(near)
        if near:
            covers = [plates[n].cover.bounds for n in near]
            target = _around([(target.left, target.low, target.right, target.high), *covers])
        drafts.append(_Draft(target, group, near))
    for plate in plates:
        if plate.number not in taken:
            # a lone plate is masked along its own sides
            own = turned(plate.cover, mask_turn, (0.0, 0.0))
            drafts.append(_Draft(_around([own.bounds]), [], [plate.number], -mask_turn))
    drafts = _joined(drafts, reveal)
    return tuple(
        Region(
            target=d.target,
            mask=d.target.grown(reveal),
            turn_deg=d.turn,
            outline=filled([members[i].outline for i in d.members])
            if d.members
            else MultiPolygon(),
            members=tuple(d.members),
            plates=tuple(d.plates),
        )
        for d in drafts
    )


def _joined(drafts: list[_Draft], reveal: float) -> list[_Draft]:
    """Join drafts whose masks overlap until none do."""
    drafts = list(drafts)
    while True:
        pair = next(
            (
                (a, b)
                for a in range(len(drafts))
                for b in range(a + 1, len(drafts))
                if _mask(drafts[a], reveal).intersection(_mask(drafts[b], reveal)).area > 1e-6
            ),
            None,
        )
        if pair is None:
            return drafts
        second, first = drafts.pop(pair[1]), drafts.pop(pair[0])
        both = [_shape(d.target, d.turn).bounds for d in (first, second)]
        drafts.insert(
            pair[0],
            _Draft(
                _around(both),
                sorted(first.members + second.members),
                sorted(set(first.plates + second.plates)),
            ),
        )


def _shape(rectangle: Rectangle, turn: float) -> BaseGeometry:
    return turned(rectangle.sheet(), turn, (0.0, 0.0))


def _mask(draft: _Draft, reveal: float) -> BaseGeometry:
    return _shape(draft.target.grown(reveal), draft.turn)
