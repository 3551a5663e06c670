"""Every record has the fields of its kind, no others, each of its shape."""

from __future__ import annotations

from collections.abc import Iterator

from upstand.edition.faults import Fault
from upstand.edition.schema.kinds import KINDS
from upstand.edition.source import Source


def check(source: Source) -> Iterator[Fault]:
    """Yield unknown, missing and misshapen fields."""
    for kind, id, node in source.nodes():
        for wrong in KINDS[kind].faults(node, ""):
            file = f"{kind}/{id}.yaml"
            yield Fault(file, wrong.path, wrong.value, "shape", wrong.why, wrong.cure)
