"""What nothing calls is not read by anybody: checks, cautions, tools and sources.

A check or caution is called by a trigger or by a record that lists it, a tool by a step or a
pack, a source by a value. Words (`terms`) call nothing: they only name.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from upstand.edition.faults import Fault
from upstand.edition.schema.kinds.vocabulary import HAZARD
from upstand.edition.schema.shapes import Choice
from upstand.edition.source import Source

KINDS = ("checks", "cautions", "tools", "sources")


def check(source: Source) -> Iterator[Fault]:
    """Yield records of these kinds that no other record names and no trigger calls."""
    named = {
        text
        for thing in source.things
        if thing.kind != "terms"
        for text in _texts(thing.node)
        if text != thing.path
    }
    carried = {
        f"hazard/{node}"
        for thing in source.things
        if thing.kind not in ("cautions", "checks")
        for _, shape, node in thing.of(Choice)
        if shape is HAZARD
    }
    for kind in KINDS:
        for thing in source.kind(kind):
            when = thing.node.get("when")
            groups = when if isinstance(when, list) else []
            if groups and not any(_comes_up(group, carried) for group in groups):
                why = "waits for a hazard that no record has, so that nobody ever reads it"
                cure = "name the hazard where it is, or call it by what else brings it up"
                yield thing.fault("when", None, "uncalled", why, cure)
            elif thing.path not in named and not groups:
                why = "is called by nothing, so that nobody ever reads it"
                cure = "name it where it is used, give it `when`, or take the file out"
                yield thing.fault("", None, "uncalled", why, cure)


def _comes_up(group: Any, carried: set[str]) -> bool:
    """Tell whether the hazards of a group are there in some record."""
    tokens = [str(token) for token in group] if isinstance(group, list) else []
    return all(token in carried for token in tokens if token.startswith("hazard/"))


def _texts(node: Any) -> Iterator[str]:
    """Yield every text in a node."""
    if isinstance(node, str):
        yield node
        if node.startswith("tool/"):
            yield f"tools/{node.partition('/')[2]}"
    elif isinstance(node, dict):
        for value in node.values():
            yield from _texts(value)
    elif isinstance(node, list):
        for value in node:
            yield from _texts(value)
