"""What nothing calls is not read by anybody: checks, cautions, tools and sources.

A check or caution is called by a trigger or by a record that lists it, a tool by a step or a
pack, a source by a value. Words (`terms`) call nothing: they only name.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from upstand.edition.faults import Fault
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
    for kind in KINDS:
        for thing in source.kind(kind):
            if thing.path not in named and not thing.node.get("when"):
                why = "is called by nothing, so that nobody ever reads it"
                cure = "name it where it is used, give it `when`, or take the file out"
                yield thing.fault("", None, "uncalled", why, cure)


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
