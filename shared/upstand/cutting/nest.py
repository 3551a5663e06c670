"""Nests pieces on rolls so that a person with scissors can cut them: from edge to edge, every time.

A roll is cut right across into strips. In a strip a piece takes the lower left corner of a free
rectangle, which is then cut once, across or along, into two free rectangles: each layout is a row
of edge-to-edge cuts by construction. Each strip is tried in many seeded ways and the densest one
is kept; so is the best of several whole plans: least area of roll, then fewest rolls, then fewest
cuts. All numbers of tries are fixed, so that the answer is the same on every machine.
"""

from __future__ import annotations

from collections import Counter, deque
from collections.abc import Sequence
from dataclasses import dataclass, field
from random import Random

from upstand.cutting.bounds import lower_bounds
from upstand.cutting.model import NOISE, CutPlan, CutRoll, Offcut, Placed, Roll, Wanted

#: Ways tried for each strip, and whole plans for so many pieces (one for any more).
STRIP_TRIES = 24
PLANS = ((10, 90), (15, 80), (25, 56), (40, 17), (70, 12), (150, 6), (400, 3))

#: From more pieces than this on a strip is tried in so many ways, each looking for pieces among so
#: many kinds, alike strips are cut together, and so many open rolls of a kind are looked at.
MANY, TRIES_OF_MANY, KINDS_OF_MANY, ROLLS_OF_MANY = 400, 5, 40, 6

_Laid = tuple[int, float, float, float, float]  # kind of piece, x, y, width, length
_Rectangle = tuple[float, float, float, float]  # x, y, width, length


def nest(wanted: Sequence[Wanted], rolls: Sequence[Roll], seed: int = 1) -> CutPlan:
    """Make a cutting plan.

    A piece that fits no roll is counted in `unplaced`, as is one for which no roll is left.
    """
    alike: dict[tuple[float, float, bool], int] = {}
    for one in wanted:
        alike[_kind(one)] = alike.get(_kind(one), 0) + one.count
    kinds = sorted(alike, key=lambda k: -k[0] * k[1])
    counts = [alike[kind] for kind in kinds]
    fits = [any(_ways(kind, roll) for roll in rolls) for kind in kinds]
    asked = [count if fit else 0 for count, fit in zip(counts, fits, strict=True)]
    plans = next((tries for most, tries in PLANS if sum(asked) <= most), 1)
    random = Random(seed)
    best = min(
        (_Plan(kinds, asked, rolls, random) for _ in range(plans)), key=lambda plan: plan.cost
    )
    placed, unplaced = _named(best, wanted, kinds)
    return CutPlan(placed, unplaced, *lower_bounds(kinds, asked, rolls))


def _kind(wanted: Wanted) -> tuple[float, float, bool]:
    return (wanted.width, wanted.length, wanted.may_turn)


def _ways(kind: tuple[float, float, bool], roll: Roll) -> list[tuple[float, float]]:
    """Sizes across and along in which a piece may lie on a roll."""
    width, length, turn = kind
    ways = [(width, length), (length, width)] if turn and width != length else [(width, length)]
    return [(w, h) for w, h in ways if w <= roll.width + NOISE and h <= roll.length + NOISE]


@dataclass(slots=True)
class _Open:
    """A roll in use."""

    kind: int
    roll: Roll
    used: float = 0.0
    laid: list[_Laid] = field(default_factory=list)
    strips: list[float] = field(default_factory=list)
    left: list[_Rectangle] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class _Strip:
    """A strip as tried: how dense, how long, what lies in it, what stays free, how many cuts."""

    dense: float
    length: float
    laid: list[_Laid]
    free: list[_Rectangle]
    cuts: int


class _Plan:
    """One whole plan: strip after strip until nothing is left to cut or no roll to cut it from."""

    def __init__(
        self,
        kinds: Sequence[tuple[float, float, bool]],
        asked: Sequence[int],
        rolls: Sequence[Roll],
        random: Random,
    ) -> None:
        self.kinds, self.rolls, self.random = kinds, rolls, random
        self.ways = [
            ((k[0], k[1]), (k[1], k[0])) if k[2] and k[0] != k[1] else ((k[0], k[1]),)
            for k in kinds
        ]
        self.left = list(asked)
        self.some, self.gone = list(range(len(kinds))), len(kinds)
        self.many = sum(asked) > MANY
        self.open: list[_Open] = []
        self.of_kind: list[list[int]] = [[] for _ in rolls]
        self.cuts = 0
        self.noise = random.choice((0.05, 0.2, 0.4))
        by_side = random.random() < 0.5
        # the largest piece left leads each strip: late it would have a strip to itself
        leads = sorted(range(len(kinds)), key=lambda k: -max(kinds[k][:2]) if by_side else k)
        for lead in leads:
            while self.left[lead] and self._strip(lead):
                pass
        area = sum(held.roll.width * held.used for held in self.open)
        self.cost = (sum(self.left), round(area, 6), len(self.open), self.cuts)

    def _rooms(self, lead: int) -> list[tuple[int, int, float]]:
        """Where a strip with this piece can go: (roll in use or -1, kind of roll, length left)."""
        rooms = []
        for kind, roll in enumerate(self.rolls):
            ways = _ways(self.kinds[lead], roll)
            if not ways:
                continue
            least = min(h for _, h in ways)
            used = self.of_kind[kind][-ROLLS_OF_MANY if self.many else 0 :]
            room = next((n for n in used if self.open[n].used + least <= roll.length + NOISE), None)
            if room is not None:
                rooms.append((room, kind, roll.length - self.open[room].used))
            elif roll.count is None or len(self.of_kind[kind]) < roll.count:
                rooms.append((-1, kind, roll.length))
        return rooms

    def _strip(self, lead: int) -> bool:
        rooms = self._rooms(lead)
        if not rooms:
            return False
        if not self.many or self.gone > len(self.some) / 4:
            self.some, self.gone = [k for k, count in enumerate(self.left) if count], 0
        best: tuple[_Strip, int, int] | None = None
        for number in range(TRIES_OF_MANY if self.many else STRIP_TRIES):
            at, kind, length = rooms[number % len(rooms)]
            tried = self._try(lead, self.rolls[kind].width, length)
            if tried is not None and (best is None or tried.dense > best[0].dense):
                best = (tried, at, kind)
        if best is None:
            return False
        strip, at, kind = best
        if at < 0:
            self.open.append(_Open(kind, self.rolls[kind]))
            at = len(self.open) - 1
            self.of_kind[kind].append(at)
        held = self.open[at]
        for _ in range(self._times(strip, held)):
            held.laid += [(k, x, y + held.used, w, h) for k, x, y, w, h in strip.laid]
            held.left += [(x, y + held.used, w, h) for x, y, w, h in strip.free]
            held.used += strip.length
            held.strips.append(held.used)
            self.cuts += 1 + strip.cuts
            for k, *_ in strip.laid:
                self.left[k] -= 1
                self.gone += not self.left[k]
        return True

    def _times(self, strip: _Strip, held: _Open) -> int:
        """How often in a row to cut a strip: of many pieces, as often as there is roll and need."""
        if not self.many:
            return 1
        taken = Counter(k for k, *_ in strip.laid)
        room = (held.roll.length - held.used + NOISE) / strip.length
        return int(min(room, *(self.left[k] // count for k, count in taken.items())))

    def _try(self, lead: int, width: float, room: float) -> _Strip | None:
        """Fill a strip as long as one piece, or as two on end."""
        random = self.random
        ways = [w for w in _ways(self.kinds[lead], Roll(width, room))]
        if not ways:
            return None
        length = random.choice(ways)[1]
        chance = random.random()
        if chance < 0.5:
            other = random.choice(self.some)
            more = random.choice(self.kinds[other][:2])
            length = length + more if chance < 0.35 else max(length, more)
        return self._fill(lead, width, min(length, room))

    def _fill(self, lead: int, width: float, length: float) -> _Strip | None:
        random, noise, ways = self.random.random, self.noise, self.ways
        some = self.some
        if self.many and len(some) > KINDS_OF_MANY:
            some = self.random.sample(some, KINDS_OF_MANY)
        left = {k: self.left[k] for k in (lead, *some)}
        stack: list[_Rectangle] = [(0.0, 0.0, width, length)]
        free: list[_Rectangle] = []
        laid: list[_Laid] = []
        area, cuts = 0.0, 0
        choices = [lead]
        while stack:
            x, y, free_width, free_length = stack.pop()
            score, pick = -1.0, None
            widest, longest = free_width * (1.0 + NOISE), free_length * (1.0 + NOISE)
            for k in choices:
                if not left[k]:
                    continue
                for w, h in ways[k]:
                    if w > widest or h > longest:
                        continue
                    across, along = w / free_width, h / free_length
                    # what spans the rectangle one way leaves one remainder, not two
                    good = (0.6 * (across if across > along else along) + 0.4 * across * along) * (
                        1.0 - noise * random()
                    )
                    if good > score:
                        score, pick = good, (k, w, h)
            choices = some
            if pick is None:
                if not laid:
                    return None
                free.append((x, y, free_width, free_length))
                continue
            k, w, h = pick
            left[k] -= 1
            laid.append((k, x, y, w, h))
            area += w * h
            rest, over = free_width - w, free_length - h
            chance = random()
            row = rest * h < over * w if chance < 0.7 else chance < 0.85
            parts = (
                (x + w, y, rest, h if row else free_length),
                (x, y + h, free_width if row else w, over),
            )
            kept = [part for part in parts if part[2] > NOISE and part[3] > NOISE]
            cuts += len(kept)
            stack += sorted(kept, key=lambda part: part[2] * part[3])
        end = max(y + h for _, _, y, _, h in laid)
        # what reaches past the last piece is not cut off the roll
        free = [(x, y, w, min(h, end - y)) for x, y, w, h in free if y < end - NOISE]
        return _Strip(area / (width * end), end, laid, free, cuts)


def _named(
    plan: _Plan, wanted: Sequence[Wanted], kinds: Sequence[tuple[float, float, bool]]
) -> tuple[tuple[CutRoll, ...], dict[str, int]]:
    """Give each place its piece: alike ones along the rolls by group, so that a group lies near."""
    waiting: dict[tuple[float, float, bool], deque[str]] = {kind: deque() for kind in kinds}
    for one in sorted(wanted, key=lambda w: w.group):
        waiting[_kind(one)].extend([one.id] * one.count)
    rolls = []
    for held in plan.open:
        placed = []
        for k, x, y, w, h in sorted(held.laid, key=lambda each: (each[2], each[1])):
            turned = abs(w - kinds[k][0]) > NOISE
            placed.append(Placed(waiting[kinds[k]].popleft(), x, y, w, h, turned))
        offcuts = tuple(Offcut(*each) for each in sorted(held.left, key=lambda r: (r[1], r[0])))
        rolls.append(CutRoll(held.roll, tuple(placed), held.used, tuple(held.strips), offcuts))
    unplaced: dict[str, int] = {}
    for name in (name for names in waiting.values() for name in names):
        unplaced[name] = unplaced.get(name, 0) + 1
    return tuple(rolls), unplaced
