"""The numbers behind an answer: one walk from what it shows down to what went in."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from upstand.quantity.traced import Traced

__all__ = ["Graph", "walk"]


@dataclass(frozen=True, slots=True)
class Graph:
    """Every number behind the named ones, each once.

    names : by identity, what a shown number is called. computed : inputs before what was computed
    from them. leaves : numbers that were not computed.
    """

    names: dict[int, str]
    computed: tuple[Traced, ...]
    leaves: tuple[Traced, ...]


def walk(named: Iterable[tuple[str, Traced]]) -> Graph:
    """Walk all numbers behind those named; a number named twice keeps its first name."""
    names: dict[int, str] = {}
    computed: list[Traced] = []
    leaves: list[Traced] = []
    seen: set[int] = set()
    roots = list(named)
    for name, traced in roots:
        names.setdefault(id(traced), name)
    for _, traced in roots:
        _visit(traced, seen, computed, leaves)
    return Graph(names, tuple(computed), tuple(leaves))


# a function inside `walk` would name itself, and keep the whole answer until a collection
def _visit(traced: Traced, seen: set[int], computed: list[Traced], leaves: list[Traced]) -> None:
    if id(traced) in seen:
        return
    seen.add(id(traced))
    if traced.working is None:
        leaves.append(traced)
        return
    for _, part in traced.working.inputs:
        _visit(part, seen, computed, leaves)
    computed.append(traced)
