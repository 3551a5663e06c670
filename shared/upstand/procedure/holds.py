"""Hold points: where work stops until something is so."""

from __future__ import annotations

from dataclasses import dataclass

from upstand.edition import Record
from upstand.words.model import TradeText

__all__ = ["Hold", "holds_of"]


@dataclass(frozen=True, slots=True)
class Hold:
    """One hold point of an activity; the slots of its text are those of the step."""

    id: str
    text: TradeText


def holds_of(activity: Record) -> tuple[Hold, ...]:
    """Return the hold points of an activity, in order."""
    return tuple(
        Hold(hold["id"], TradeText(activity, f"holds.{number}.say"))
        for number, hold in enumerate(activity.get("holds", ()))
    )
