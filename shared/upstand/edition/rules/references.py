"""Every id that is named exists."""

from __future__ import annotations

from collections.abc import Iterator

from upstand.edition.faults import Fault
from upstand.edition.schema.shapes import Ref
from upstand.edition.source import Source


def check(source: Source) -> Iterator[Fault]:
    """Yield ids that no record has, with the nearest that one has."""
    for thing in source.things:
        for path, shape, node in thing.of(Ref):
            target = shape.target(node)
            if target is not None and not source.has(target):
                why, cure = "does not exist", source.nearest(target)
                yield thing.fault(path, node, "references", why, cure)
