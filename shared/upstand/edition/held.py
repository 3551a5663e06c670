"""The activities that a detail holds, as rules read them: from nodes that may be wrong."""

from __future__ import annotations

from collections.abc import Sequence

from upstand.edition.source import Source, Thing


def activities_in_order(source: Source) -> list[Thing]:
    """Return the activities in the order that they state."""
    return sorted(source.every("activities"), key=order_of)


def order_of(thing: Thing) -> int:
    """Return an activity's place; rule ``shape`` tells of one that has none."""
    order = thing.node.get("order")
    return order if isinstance(order, int) else 0


def held_by(detail: Thing, in_order: Sequence[Thing]) -> list[str]:
    """Return the paths of a detail's activities: its own list, or the common ones as it differs."""
    own = detail.node.get("activities", {})
    if isinstance(own, list):
        return [str(path) for path in own]
    differs = own if isinstance(own, dict) else {}
    besides, without = differs.get("besides") or [], differs.get("without") or []
    common = [t.path for t in in_order if t.node.get("common") and t.path not in without]
    return [t.path for t in in_order if t.path in common or t.path in besides]
