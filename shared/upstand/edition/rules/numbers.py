"""Numbers in a Spanish text are those of the English: a wrong digit in one is a safety fault."""

from __future__ import annotations

import re
from collections.abc import Iterator

from upstand.edition.faults import Fault
from upstand.edition.schema.shapes import Prose, step
from upstand.edition.source import Source

_NUMBER = re.compile(r"(?<![\w.])\d+(?:[.,/]\d+)*")


def check(source: Source) -> Iterator[Fault]:
    """Yield texts whose two languages do not hold the same numbers."""
    for thing in source.things:
        for path, _, node in thing.of(Prose):
            if not isinstance(node, dict):
                continue
            english, spanish = _numbers(node.get("en")), _numbers(node.get("es"))
            if english != spanish:
                why = f"has the numbers {_listed(spanish)}, the English {_listed(english)}"
                cure = "write the same figures in both"
                yield thing.fault(step(path, "es"), node.get("es"), "numbers", why, cure)


def _numbers(text: object) -> list[str]:
    return sorted(_NUMBER.findall(text)) if isinstance(text, str) else []


def _listed(numbers: list[str]) -> str:
    return ", ".join(numbers) or "none"
