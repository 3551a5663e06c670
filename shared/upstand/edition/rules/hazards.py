"""Every hazard that is named anywhere calls up a caution."""

from __future__ import annotations

from collections.abc import Iterator

from upstand.edition.faults import Fault
from upstand.edition.schema.kinds.vocabulary import HAZARD
from upstand.edition.schema.shapes import Choice
from upstand.edition.source import Source


def check(source: Source) -> Iterator[Fault]:
    """Yield hazards without a caution that `hazard/ID` alone brings up."""
    warned = {
        str(thing.node.get("hazard"))
        for thing in source.kind("cautions")
        if [f"hazard/{thing.node.get('hazard')}"] in _when(thing.node.get("when"))
    }
    for thing in source.things:
        if thing.kind == "cautions":
            continue
        for path, shape, node in thing.of(Choice):
            if shape is HAZARD and node in HAZARD.options and node not in warned:
                why = "is a hazard that no caution warns of"
                cure = f"write a caution with `hazard: {node}` and `when: [[hazard/{node}]]`"
                yield thing.fault(path, node, "hazards", why, cure)


def _when(node: object) -> list[object]:
    return node if isinstance(node, list) else []
