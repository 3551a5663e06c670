"""What is mixed of two parts has a pot life; what comes ready has none."""

from __future__ import annotations

from collections.abc import Iterator

from upstand.edition.faults import Fault
from upstand.edition.source import Source


def check(source: Source) -> Iterator[Fault]:
    """Yield products whose parts and pot life do not agree, and doses left to guessing."""
    for kind in ("primers", "resins"):
        for thing in source.kind(kind):
            parts, has = thing.node.get("parts"), "pot_life" in thing.node
            if parts == 2 and not has:
                why = "is missing, and two parts start to set when they meet"
                cure = "write the time and its temperature"
                yield thing.fault("pot_life", None, "two-part", why, cure)
            if parts == 1 and has:
                why = "stands for a product of one part, which has none"
                cure = "write skin_time, or parts: 2"
                yield thing.fault("pot_life", None, "two-part", why, cure)
            if thing.node.get("cure_kind") == "catalysed" and "dose" not in thing.node:
                stops = thing.node.get("stops")
                if not isinstance(stops, list) or not stops:
                    why = "is missing, and a catalyst is dosed from a table only"
                    cure = "write the table, or a stop that asks for it"
                    yield thing.fault("dose", None, "two-part", why, cure)
