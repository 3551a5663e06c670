"""Go, plan, ask or hold: every reason with what clears it, and what is left to confirm."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Literal

from upstand.edition import Record
from upstand.edition.schema.kinds.vocabulary import BY
from upstand.words.model import Said

Key = tuple[str, tuple[str | float, ...]]
VerdictState = Literal["go", "plan", "ask", "hold"]
BY_ORDER = {by: number for number, by in enumerate(BY)}
RANK: Mapping[str, int] = {"go": 0, "plan": 1, "ask": 2, "hold": 3}


@dataclass(frozen=True, slots=True)
class Reason:
    """Why work does not simply go: what, what would clear it, whom to ask with which facts.

    differs : what tells it from another of the same id.
    """

    id: str
    state: Literal["hold", "ask", "plan"]
    text: Said
    clears: Said
    whom: str | None = None
    facts: tuple[Said, ...] = ()
    differs: tuple[str | float, ...] = ()

    @property
    def key(self) -> Key:
        """What tells one reason from another."""
        return self.id, self.differs


@dataclass(frozen=True, slots=True)
class Confirmation:
    """What a question can't tell and a person ticks on the roof; `check` is its record.

    by : by when it is confirmed.
    """

    id: str
    text: Said
    name: Said
    acceptance: Said | None = None
    whom: str | None = None
    check: Record | None = None
    by: str | None = None


@dataclass(frozen=True, slots=True)
class Verdict:
    """The state, all reasons, and what stands to be confirmed (which does not change the state)."""

    state: VerdictState
    reasons: tuple[Reason, ...] = ()
    confirm: tuple[Confirmation, ...] = ()
    whom: tuple[str, ...] = field(default=())
    facts: tuple[Said, ...] = field(default=())


def decide(reasons: Iterable[Reason], confirm: Iterable[Confirmation] = ()) -> Verdict:
    """Put reasons together: hold, ask, plan, go; whoever is to be asked is named once."""
    all_reasons = tuple(sorted(reasons, key=lambda r: -RANK[r.state]))
    state: VerdictState = "go"
    for reason in all_reasons:
        state = max(state, reason.state, key=lambda s: RANK[s])
    asks = [r for r in all_reasons if r.whom]
    return Verdict(
        state,
        all_reasons,
        tuple(sorted(confirm, key=lambda c: BY_ORDER.get(str(c.by), -1))),
        tuple(dict.fromkeys(str(r.whom) for r in asks)),
        tuple(fact for r in asks for fact in r.facts),
    )
