"""Proving the records that an overlay touched with the rules that hold for any record."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from upstand.edition.faults import Fault
from upstand.edition.source import Source

if TYPE_CHECKING:
    from upstand.edition.overlay.lay import Setting

__all__ = ["record_faults", "unmarked"]

RULES = (
    "shape",
    "units",
    "grades",
    "ranges",
    "references",
    "callers",
    "substrates",
    "prose",
    "html",
    "dates",
    "trade-order",
    "two-part",
    "times",
    "asks",
    "limits",
)
"""Rules about one record. A contractor's own words are theirs: no rule of style is among them."""


def record_faults(
    raw: Mapping[str, Mapping[str, Any]],
    before: Mapping[str, Any],
    settings: Sequence[Setting],
) -> Iterator[Fault]:
    """Yield what the touched records break now that they did not before.

    ``before``: kind/id -> node, of the records that were touched.
    """
    paths = [path for path in before if path.split("/")[1] in raw.get(path.split("/")[0], {})]
    old: dict[str, dict[str, Any]] = {kind: dict(held) for kind, held in raw.items()}
    new: dict[str, dict[str, Any]] = {kind: dict(held) for kind, held in raw.items()}
    for path in paths:
        kind, _, id = path.partition("/")
        old[kind][id] = unmarked(before[path])
        new[kind][id] = unmarked(raw[kind][id])
    known = {_mark(fault) for fault in _faults(old, paths)}
    for fault in _faults(new, paths):
        undated = fault.path.endswith("checked_on") and fault.why == "is missing"
        if _mark(fault) not in known and not undated:  # a sheet has its own date, if any
            yield _blame(fault, settings)


def _faults(raw: Mapping[str, Mapping[str, Any]], paths: Sequence[str]) -> Iterator[Fault]:
    from upstand.edition.rules import RULES as EVERY

    source = Source(Path(), raw, [], None, only=frozenset(paths), overlaid=True)
    for name in RULES:
        yield from EVERY[name](source)


def _mark(fault: Fault) -> tuple[str, str, str, str]:
    return fault.file, fault.path, fault.rule, fault.why


def unmarked(node: Any) -> Any:
    """Return a node without the marks that only overlays write."""
    if isinstance(node, dict):
        value = "basis" in node
        return {
            key: unmarked(item)
            for key, item in node.items()
            if not (value and key in ("layer", "ends"))
        }
    if isinstance(node, list):
        return [unmarked(item) for item in node]
    return node


def _blame(fault: Fault, settings: Sequence[Setting]) -> Fault:
    """Return the fault at the setting that caused it: the last of that record that comes near."""
    record = fault.file.removesuffix(".yaml")
    of_record = [setting for setting in settings if setting.path.split(":")[0].strip() == record]
    dotted = [setting.path.partition(":")[2].strip() for setting in of_record]
    best = of_record[-1]
    for setting, path in zip(of_record, dotted, strict=True):
        if path and (fault.path.startswith(path) or path.startswith(fault.path or "-")):
            best = setting
    why = f"{record}: {fault.path}: {fault.why}"
    return Fault(best.file, best.place, fault.value, fault.rule, why, fault.cure)
