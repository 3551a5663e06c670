"""The question as it was read: ids as the edition has them, every size as a quantity.

What was left out is not there; what was taken for it stands among the assumptions.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from math import isfinite
from typing import Any, Final

from upstand.cutting.model import Roll, Wanted
from upstand.edition import Edition
from upstand.quantity.shown import Speech
from upstand.quantity.traced import Traced, measured
from upstand.query.model import Member, Query
from upstand.query.readings import Hours
from upstand.query.table import inputs

__all__ = ["write_question"]

#: Lengths that are plain inches once they were read, by what they are read into.
INCHES: Final[Mapping[type, tuple[str, ...]]] = {
    Member: ("points",),
    Wanted: ("width", "length"),
    Roll: ("width", "length"),
}
#: What is found on the way, and what the answer itself names.
OWN: Final = ("stocked", "units", "lang")


def write_question(query: object, edition: Edition, speech: Speech) -> dict[str, Any]:
    """Write a question of any door as it was read."""
    return _Reader(edition, speech).record(query)


class _Reader:
    def __init__(self, edition: Edition, speech: Speech) -> None:
        self.speech = speech
        self.places = {item.name: item.place for item in inputs(edition)}
        self.seen: dict[int, dict[str, Any]] = {}

    def record(self, node: object) -> dict[str, Any]:
        """Write one part of a question; details that are alike are written once."""
        if id(node) in self.seen:
            return self.seen[id(node)]
        made: dict[str, Any] = {}
        inches = INCHES.get(type(node), ())
        for each in fields(node):  # type: ignore[arg-type]
            value = getattr(node, each.name)
            if each.name in OWN or isinstance(value, Hours):
                continue
            if isinstance(node, Query) and each.name in ("sizes", "choices"):
                self._inputs(value, made)
            elif isinstance(node, Member) and each.name == "dimensions":
                made |= {name: self.value(size) for name, size in value.items()}
            else:
                written = self.inches(value) if each.name in inches else self.value(value)
                if written not in (None, [], {}, ""):
                    made[each.name] = written
        if isinstance(node, Query):
            self.seen[id(node)] = made
        return made

    def _inputs(self, given: Mapping[str, Any], made: dict[str, Any]) -> None:
        """Write sizes and choices where they stand in a question."""
        for name, value in given.items():
            at, (*above, last) = made, self.places.get(name, (name,))
            for step in above:
                at = at.setdefault(step, {})
            at[last] = self.value(value)

    def inches(self, node: Any) -> Any:
        """Write plain inches; without end is not written."""
        if isinstance(node, tuple):
            return [self.inches(each) for each in node]
        return self.speech.json(measured(node, "in", "question")) if isfinite(node) else None

    def value(self, node: Any) -> Any:
        """Write a value of any kind."""
        if isinstance(node, Traced):
            return self.speech.json(node)
        if is_dataclass(node):
            return self.record(node)
        if isinstance(node, tuple | list):
            return [self.value(each) for each in node]
        if isinstance(node, Mapping):
            return {str(name): self.value(each) for name, each in node.items()}
        return node.removeprefix("checks/") if isinstance(node, str) else node
