"""Every substrate has a preparation and a primer, or says none or ask, and why."""

from __future__ import annotations

from collections.abc import Iterator

from upstand.edition.faults import Fault
from upstand.edition.source import Source


def check(source: Source) -> Iterator[Fault]:
    """Yield substrates that leave preparation or primer open without a word."""
    for thing in source.kind("substrates"):
        primer, why_none = thing.node.get("primer"), thing.node.get("primer_why")
        if primer in ("none", "ask") and not why_none:
            why = f"is missing, and the primer is {primer}"
            cure = "say why none, or what to ask: {en, es}"
            yield thing.fault("primer_why", None, "substrates", why, cure)
        if thing.node.get("preparation") == "none" and not thing.node.get("stops"):
            why = "is none, and nothing stops work on it"
            cure = "name a preparation, or add a stop that says why it is not touched"
            yield thing.fault("preparation", "none", "substrates", why, cure)
