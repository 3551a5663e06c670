"""What a cutting plan is about: pieces, rolls, and where each piece lies on a roll."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import inf

#: Two sizes that differ by less than this are the same size [in].
NOISE = 1e-6


@dataclass(frozen=True, slots=True)
class Wanted:
    """One size to cut: `width` across the roll and `length` along it [in], unless it may turn.

    `group` is what it belongs to: pieces of one group are kept near each other where that is free.
    """

    id: str
    width: float
    length: float
    count: int = 1
    may_turn: bool = True
    group: str = ""


@dataclass(frozen=True, slots=True)
class Roll:
    """A kind of roll: width and length [in]; `count` None is as many as needed."""

    width: float
    length: float = inf
    count: int | None = None


@dataclass(frozen=True, slots=True)
class Placed:
    """One piece on a roll: x across, y along, its sizes as laid [in]."""

    id: str
    x: float
    y: float
    width: float
    length: float
    turned: bool


@dataclass(frozen=True, slots=True)
class Offcut:
    """What is left of a strip: x across, y along, width and length [in]."""

    x: float
    y: float
    width: float
    length: float


@dataclass(frozen=True, slots=True)
class CutRoll:
    """One roll: its pieces, where it is cut right across (`strips` [in]), and what is left over."""

    roll: Roll
    placed: tuple[Placed, ...]
    length_used: float
    strips: tuple[float, ...] = ()
    offcuts: tuple[Offcut, ...] = ()


@dataclass(frozen=True, slots=True)
class CutPlan:
    """Rolls in the order in which they are opened; areas in in², lengths in in."""

    rolls: tuple[CutRoll, ...]
    unplaced: Mapping[str, int]
    lower_bound: float
    lower_bound_area: float

    @property
    def length_used(self) -> float:
        """Length used of all rolls together [in]."""
        return sum(roll.length_used for roll in self.rolls)

    @property
    def area_used(self) -> float:
        """Area of roll used [in²]."""
        return sum(roll.roll.width * roll.length_used for roll in self.rolls)

    @property
    def waste(self) -> float:
        """Share of the area used that no piece is made of, 0 to 1."""
        laid = sum(p.width * p.length for roll in self.rolls for p in roll.placed)
        return 1.0 - laid / self.area_used if self.area_used else 0.0
