"""Every time names its temperature, and scales only as its chemistry allows."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from upstand.edition.faults import Fault
from upstand.edition.schema.shapes import step
from upstand.edition.schema.values import TimeOf
from upstand.edition.source import Source, Thing


def check(source: Source) -> Iterator[Fault]:
    """Yield times without a temperature, tables that are none, and halving out of place."""
    for thing in source.things:
        for path, _, node in thing.of(TimeOf):
            if isinstance(node, dict) and "window" not in node:
                yield from _time(thing, path, node)


def _time(thing: Thing, path: str, node: dict[str, Any]) -> Iterator[Fault]:
    scales = node.get("scales")
    if "points" not in node and "at" not in node:
        why = "is missing: a time holds at a temperature"
        cure = 'write at: "70 degF", or the one it holds at'
        yield thing.fault(step(path, "at"), None, "times", why, cure)
    if (scales == "table") != ("points" in node):
        why = "is table where there are no points, or points stand without it"
        cure = "write points: [{at, low, high}, ...] with scales: table"
        yield thing.fault(step(path, "scales"), scales, "times", why, cure)
    if scales == "halves":
        kind = thing.node.get("cure_kind")
        if path == "flash_off" or kind != "reaction":
            why = f"halves with warmth, which holds for reaction cure alone (this is {kind})"
            if path == "flash_off":
                why = "halves with warmth, which holds for reaction cure, not for solvent leaving"
            cure = "write scales: none with why_none, or a table"
            yield thing.fault(step(path, "scales"), scales, "times", why, cure)
