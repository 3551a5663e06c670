"""Traced numbers as a graph that another program computes again, such as a browser.

A node is a number, the name of an input, or a list: a formula of the register (or `total`) and the
nodes that go in, in the order of its parameters. What hangs on no input is one number.

>>> from upstand.quantity.traced import asked, reckon
>>> area, film = asked(14400.0, "in^2", "/area"), asked(40.0, "mil", "/film")
>>> nodes = Nodes({"/area": "area"})
>>> nodes.add(reckon(REGISTER["film_volume"], area=area, thickness=film))
2
>>> nodes.listed
['area', 40.0, ['film_volume', 0, 1]]
"""

from __future__ import annotations

from collections.abc import Mapping

from upstand.formulas import REGISTER
from upstand.quantity.traced import TOTAL, Traced

Node = float | str | list[str | int]


class Nodes:
    """Collects nodes; equal ones are kept once, so that equal graphs have equal numbers."""

    def __init__(self, inputs: Mapping[str, str]) -> None:
        """Keep what each input is called, by its JSON pointer in the question."""
        self.inputs = inputs
        self.listed: list[Node] = []
        self._places: dict[tuple[object, ...], int] = {}

    def add(self, traced: Traced) -> int:
        """Add a number with all that is behind it; returns its place."""
        return self._place(self._node(traced, {}))

    def formulas(self) -> tuple[str, ...]:
        """Name the formulas in use."""
        used = {str(node[0]) for node in self.listed if isinstance(node, list)}
        return tuple(sorted(used - {TOTAL}))

    def _node(self, traced: Traced, seen: dict[int, Node]) -> Node:
        if id(traced) not in seen:
            seen[id(traced)] = self._made(traced, seen)
        return seen[id(traced)]

    def _made(self, traced: Traced, seen: dict[int, Node]) -> Node:
        if traced.working is None:
            name = self.inputs.get(traced.origin.where) if traced.origin.kind == "asked" else None
            return traced.value if name is None else name
        parts = [self._node(part, seen) for _, part in traced.working.inputs]
        if all(isinstance(part, float) for part in parts):
            return traced.value
        assert traced.working.formula == TOTAL or traced.working.formula in REGISTER
        return [traced.working.formula, *(self._place(part) for part in parts)]

    def _place(self, node: Node) -> int:
        key = (*node,) if isinstance(node, list) else (type(node), node)
        if key not in self._places:
            self._places[key] = len(self.listed)
            self.listed.append(node)
        return self._places[key]
