"""No web or mail address stands in the data: sources are named, not linked."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from upstand.edition.faults import Fault
from upstand.edition.schema.shapes import step
from upstand.edition.source import Source

_ADDRESS = re.compile(
    r"\b(?:https?:|www\.)\S*|\b[\w.-]+@[\w-]+\.\w+"
    r"|\b[a-z0-9-]{2,}\.(?:com|org|net|biz|info|gov|edu|io|app|ca|us|eu|de|co)\b",
    re.IGNORECASE,
)


def check(source: Source) -> Iterator[Fault]:
    """Yield every text, of any field, that holds an address."""
    for thing in source.things:
        for path, text in _texts(thing.node, ""):
            found = _ADDRESS.search(text)
            if found:
                why = f"holds an address ({found[0]})"
                cure = "name the body, the title and the clause"
                yield thing.fault(path, text, "addresses", why, cure)


def _texts(node: Any, path: str) -> Iterator[tuple[str, str]]:
    if isinstance(node, str):
        yield path, node
    elif isinstance(node, dict):
        for key, item in node.items():
            yield from _texts(item, step(path, key))
    elif isinstance(node, list):
        for number, item in enumerate(node):
            yield from _texts(item, step(path, number))
