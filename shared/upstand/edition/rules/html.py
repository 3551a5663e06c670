"""Prose is plain text: no tags, no entities, no links."""

from __future__ import annotations

import re
from collections.abc import Iterator

from upstand.edition.faults import Fault
from upstand.edition.schema.shapes import Prose, step
from upstand.edition.source import Source

_MARKUP = re.compile(r"</?[A-Za-z!][^>]*>?|&#?\w+;|\]\(|javascript:", re.IGNORECASE)


def check(source: Source) -> Iterator[Fault]:
    """Yield texts that hold markup."""
    for thing in source.things:
        for path, _, node in thing.of(Prose):
            for lang, text in node.items() if isinstance(node, dict) else ():
                found = _MARKUP.search(text) if isinstance(text, str) else None
                if found:
                    why = f"holds markup ({found[0]})"
                    yield thing.fault(step(path, lang), text, "html", why, "write plain text")
