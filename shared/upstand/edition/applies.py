"""What of an edition applies to a detail: its inputs, its activities, its limits.

Details name only what differs from the common lists; these functions put the lists together.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from upstand.edition.model import Edition, Record

__all__ = ["Taken", "activities_of", "inputs_of", "limits_of", "takes"]


@dataclass(frozen=True, slots=True)
class Taken:
    """An input as one detail takes it: where its words and its default stand in the record."""

    input: Record
    entry: int

    @property
    def when(self) -> Mapping[str, Any]:
        """The other inputs, and what they must be for this to be taken."""
        found: Mapping[str, Any] = self.get("when", {})
        return found

    @property
    def measured(self) -> bool:
        """Whether it has no default and has to be measured."""
        return bool(self.get("measured", False))

    def get(self, field: str, default: Any = None) -> Any:
        """Return a field of how this detail takes it."""
        return self.input.get("taken")[self.entry].get(field, default)

    def path(self, field: str) -> str:
        """Return where its name or how it is measured stands: the detail's own words go first."""
        own = f"taken.{self.entry}.{field}"
        return own if self.input.has(own) else field


@lru_cache(maxsize=512)
def inputs_of(edition: Edition, detail: str) -> Mapping[str, tuple[Taken, ...]]:
    """Return the inputs that a detail takes, by name, in order; several where it depends."""
    found: dict[str, tuple[Taken, ...]] = {}
    for record in _in_order(edition, "inputs"):
        entries = record.get("taken")
        named = {d for entry in entries for d in entry.get("details", ())}
        rows = [
            Taken(record, number)
            for number, entry in enumerate(entries)
            if detail in entry.get("details", ())
            or ("details" not in entry and detail not in named)
        ]
        if rows:
            found[_name(record)] = tuple(rows)
    return found


def takes(edition: Edition, detail: str, name: str) -> bool:
    """Tell whether a detail takes an input."""
    return name in inputs_of(edition, detail)


@lru_cache(maxsize=512)
def activities_of(edition: Edition, detail: Record) -> tuple[str, ...]:
    """Return the activities of a detail as paths, in the order of the work."""
    own = detail.get("activities", {})
    if isinstance(own, tuple):
        return own
    without, besides = own.get("without", ()), own.get("besides", ())
    return tuple(
        record.path
        for record in _in_order(edition, "activities")
        if (record.get("common") and record.path not in without) or record.path in besides
    )


@lru_cache(maxsize=512)
def limits_of(edition: Edition, detail: Record) -> tuple[Record, ...]:
    """Return the limits that a detail is held to, in order."""
    if detail.has("limits"):
        return tuple(edition.record(path) for path in detail.get("limits"))
    return tuple(r for r in _in_order(edition, "limits") if _held(edition, detail.id, r))


def _held(edition: Edition, detail: str, limit: Record) -> bool:
    if detail in limit.get("except", ()) or detail not in limit.get("details", (detail,)):
        return False
    wanted = limit.get("takes", limit.get("of"))
    if limit.has("takes") or edition.has(f"inputs/{str(wanted).replace('_', '-')}"):
        # readings on the roof are taken of every detail
        return takes(edition, detail, str(wanted))
    return True


@lru_cache(maxsize=64)
def _in_order(edition: Edition, kind: str) -> tuple[Record, ...]:
    records = edition.records.get(kind, {}).values()
    return tuple(sorted(records, key=lambda r: (r.get("order", 0), r.id)))


def _name(record: Record) -> str:
    return record.id.replace("-", "_")
