"""Whoever is told to ask is told whom, with at least two facts to have at hand.

A stop that falls away once a field is there names a field that the kind can have; one that falls
away once a check is confirmed has that check on its own list, where it stays.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from upstand.edition.faults import Fault, near
from upstand.edition.schema.kinds import KINDS
from upstand.edition.schema.shapes import step
from upstand.edition.source import Source, Thing

LEAST_FACTS = 2


def check(source: Source) -> Iterator[Fault]:
    """Yield stops and limits that ask without saying whom or what, and stop ids used twice."""
    for thing in source.things:
        stops = thing.node.get("stops")
        rows = [row for row in stops if isinstance(row, dict)] if isinstance(stops, list) else []
        ids = [row.get("id") for row in rows]
        for number, row in enumerate(rows):
            path = f"stops.{number}"
            yield from _asks(thing, path, row)
            fields, unless = KINDS[thing.kind].fields, row.get("unless")
            if unless is not None and unless not in fields:
                cure = f"nearest: {', '.join(near(str(unless), fields) or fields)}"
                why = f"is no field of {thing.kind}"
                yield thing.fault(step(path, "unless"), unless, "asks", why, cure)
            waited = row.get("confirmed")
            if waited is not None and waited not in (thing.node.get("confirm") or ()):
                why, cure = "is not on this record's own list", "add it to `confirm`"
                yield thing.fault(step(path, "confirmed"), waited, "asks", why, cure)
            if ids.index(row.get("id")) != number:
                why, cure = "names two stops of this record", "give each its own id"
                yield thing.fault(step(path, "id"), row.get("id"), "asks", why, cure)
    for thing in source.kind("limits"):
        if "ask" in (thing.node.get("else"), thing.node.get("missing")):
            yield from _asks(thing, "", dict(thing.node))


def _asks(thing: Thing, path: str, node: dict[str, Any]) -> Iterator[Fault]:
    if not node.get("whom"):
        why, cure = "is missing: an ask says whom", "name the contact"
        yield thing.fault(step(path, "whom"), None, "asks", why, cure)
    facts = node.get("facts")
    count = len(facts) if isinstance(facts, list) else 0
    if count < LEAST_FACTS:
        why = f"lists {count}: an ask names at least {LEAST_FACTS} facts to have at hand"
        yield thing.fault(step(path, "facts"), None, "asks", why, "say what will be asked back")
