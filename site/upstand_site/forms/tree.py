"""A form as data for the browser: the graph of its numbers, and what they decide.

The engine answers many sets of fields. Their graphs must be one graph, and the comparisons on
which the answers hang must tell the answers apart: else the form is refused here, not on a roof.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from random import Random
from typing import Any

from upstand.edition import Edition
from upstand.quantity.exported import Nodes
from upstand_site.forms.model import Answered, Form, Slot


class FormFault(Exception):
    """A form whose answers do not hang on its comparisons alone."""


def probes(form: Form, number: int, seed: int = 1) -> Iterator[dict[str, float]]:
    """Draw sets of typed numbers, the same each time: two thirds of what is usual, all the ends."""
    luck = Random(seed)
    for n in range(number):
        drawn = {}
        for field in form.fields:
            low, high = field.usual if n % 3 else (field.low, field.high)
            drawn[field.name] = luck.choice((low, high)) if n % 7 == 0 else luck.uniform(low, high)
        yield drawn


def ask(form: Form, edition: Edition, typed: dict[str, float], pick: str) -> Answered:
    """Have the engine answer what was typed."""
    given = {field.name: field.given(typed[field.name]) for field in form.fields}
    return form.answer(edition, given, pick)


def export(form: Form, edition: Edition) -> dict[str, Any]:
    """Write a form: its fields, its nodes and, for each pick, the tree that ends in an answer."""
    nodes = Nodes({field.where: field.name for field in form.fields})
    trees = {
        pick: _tree(
            [_written(ask(form, edition, p, pick), nodes) for p in probes(form, form.probes)]
        )
        for pick in form.picks(edition)
    }
    return {
        "fields": {f.name: [f.low, f.high, f.unit, f.factor] for f in form.fields},
        "nodes": nodes.listed,
        "choice": form.choice,
        "trees": trees,
        "formulas": nodes.formulas(),
    }


def sentences(tree: Any) -> set[str]:
    """Name the sentences that trees end in."""
    if isinstance(tree, dict):
        if "lines" in tree:
            return {says for says, _ in tree["lines"]}
        return set().union(*(sentences(one) for one in tree.values()))
    return sentences(tree[1]) | sentences(tree[2]) if isinstance(tree, list) else set()


Written = tuple[list[tuple[tuple[str, int, int], bool]], dict[str, Any]]


def _written(answered: Answered, nodes: Nodes) -> Written:
    def shown(slot: Slot) -> str | list[Any]:
        return slot if isinstance(slot, str) else [nodes.add(slot[0]), slot[0].unit, slot[1]]

    tests = [((t.sign, nodes.add(t.left), nodes.add(t.right)), t.holds) for t in answered.tests]
    lines = [
        [line.says, {name: shown(slot) for name, slot in line.slots.items()}]
        for line in answered.lines
    ]
    return tests, {"kind": answered.kind, "lines": lines}


def _tree(answers: Sequence[Written], depth: int = 0) -> Any:
    """Join answers that agreed so far: a leaf where they are one, else the next comparison."""
    if not answers:
        return None
    if all(len(tests) == depth for tests, _ in answers):
        leaf = answers[0][1]
        if any(other != leaf for _, other in answers):
            raise FormFault(f"these answers have one cause and differ: {leaf}")
        return leaf
    heads = {tests[depth][0] if len(tests) > depth else None for tests, _ in answers}
    if len(heads) != 1 or None in heads:
        raise FormFault(f"after {depth} comparisons the next ones differ: {heads}")
    yes = [a for a in answers if a[0][depth][1]]
    no = [a for a in answers if not a[0][depth][1]]
    return [list(*heads), _tree(yes, depth + 1), _tree(no, depth + 1)]
