"""What is confirmed says by when, so that a letter is not asked for on the ladder."""

from __future__ import annotations

from collections.abc import Iterator

from upstand.edition.faults import Fault
from upstand.edition.schema.kinds.vocabulary import BY
from upstand.edition.source import Source


def check(source: Source) -> Iterator[Fault]:
    """Yield checks and limits that are ticked without a `by`, and others with one."""
    for thing in (*source.kind("checks"), *source.kind("limits")):
        confirms = thing.node.get("stage") == "confirm" or "confirm" in thing.node
        by = thing.node.get("by")
        if confirms and by is None:
            why, cure = "is missing: what is confirmed says by when", f"one of: {', '.join(BY)}"
            yield thing.fault("by", None, "by-when", why, cure)
        elif not confirms and by is not None:
            why, cure = "is for what is confirmed before the work", "take it out"
            yield thing.fault("by", by, "by-when", why, cure)
