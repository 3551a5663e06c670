"""No size is listed twice in one table."""

from __future__ import annotations

from collections.abc import Iterator

from upstand.edition.faults import Fault
from upstand.edition.schema.shapes import step
from upstand.edition.schema.values import TableOf
from upstand.edition.source import Source


def check(source: Source) -> Iterator[Fault]:
    """Yield rows whose first cell stands in an earlier row."""
    for thing in source.things:
        for path, _, node in thing.of(TableOf):
            rows = node.get("rows") if isinstance(node, dict) else None
            seen: set[str] = set()
            for number, row in enumerate(rows if isinstance(rows, list) else []):
                name = str(row[0]).upper() if isinstance(row, list) and row else ""
                if name in seen:
                    why, cure = "is listed twice", "keep the right one of the two"
                    yield thing.fault(step(path, f"rows.{number}"), name, "tables", why, cure)
                seen.add(name)
