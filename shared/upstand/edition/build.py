"""From nodes as read to frozen records and editions."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Any

from upstand.edition.amounts import AmountFault, amount, amount_in
from upstand.edition.faults import Fault, SpecFault
from upstand.edition.model import Edition, End, Record, Status, Value

__all__ = ["SCHEMA", "Raw", "canonical", "digest", "edition", "is_value", "record"]

SCHEMA = 2
"""Version of the kinds and node shapes; not the edition's, not the software's."""

Raw = Mapping[str, Mapping[str, Any]]
"""kind -> id -> node as read."""

MEASURES = ("value", "low", "high", "at", "points", "window")
_ENDS = ("value", "low", "high", "at")


def is_value(node: Any) -> bool:
    """Tell whether a node is a sourced value (a basis, and something measured)."""
    return (
        isinstance(node, dict)
        and "basis" in node
        and "says" not in node
        and any(name in node for name in MEASURES)
    )


def canonical(node: Any) -> str:
    """Return the one JSON text for a node: sorted keys, no spaces.

    >>> canonical({"b": [1, 2.5], "a": "é"})
    '{"a":"é","b":[1,2.5]}'
    """
    return json.dumps(
        node, ensure_ascii=False, allow_nan=False, sort_keys=True, separators=(",", ":")
    )


def digest(id: str, overlay: str | None, raw: Raw) -> str:
    """Return the sha256, in hex, over the canonical JSON of an edition."""
    content = {"schema": SCHEMA, "edition": id, "overlay": overlay, "data": raw}
    return hashlib.sha256(canonical(content).encode("utf-8")).hexdigest()


def edition(
    id: str,
    raw: Raw,
    status: Status,
    kinds: Iterator[str] | tuple[str, ...],
    *,
    known_digest: str | None = None,
    **more: Any,
) -> Edition:
    """Return the frozen edition of nodes; ``more`` goes to Edition. Raises SpecFault.

    With a known digest the nodes are those that were read when it was published: each is frozen
    when it is first asked for.
    """
    faults: list[Fault] = []
    records: dict[str, Mapping[str, Record]] = {}
    for kind in kinds:
        held: dict[str, Record] = {}
        for name in sorted(raw.get(kind, {})):
            try:
                held[name] = record(kind, name, raw[kind][name])
                if known_digest is None:
                    held[name].data  # noqa: B018 - frozen now, for its faults
            except SpecFault as fault:
                faults += fault.faults
        records[kind] = MappingProxyType(held)
    if faults:
        raise SpecFault(faults)
    overlay: str | None = more.get("overlay")
    sum = known_digest if known_digest is not None else digest(id, overlay, raw)
    return Edition(id, sum, status, SCHEMA, MappingProxyType(records), raw=raw, **more)


def record(kind: str, id: str, node: Any) -> Record:
    """Return the record of a node, frozen when first read.

    Raises SpecFault for what is no node, and then where a value cannot be read.
    """
    if not isinstance(node, dict):
        why, cure = "is not a mapping of fields", "write `field: value` lines"
        raise SpecFault([Fault(f"{kind}/{id}.yaml", "", "", "shape", why, cure)])
    return Record(kind, id, lambda: _Freezer(kind, id).freeze(node, ""))


class _Freezer:
    def __init__(self, kind: str, id: str) -> None:
        self.file = f"{kind}/{id}.yaml"
        self.name = f"{kind}/{id}"

    def freeze(self, node: Any, path: str) -> Any:
        if isinstance(node, dict):
            if is_value(node):
                return self.value(node, path)
            return MappingProxyType(
                {
                    key: self.freeze(item, f"{path}.{key}" if path else key)
                    for key, item in node.items()
                }
            )
        if isinstance(node, list):
            place = f"{path}." if path else ""
            return tuple(self.freeze(item, f"{place}{n}") for n, item in enumerate(node))
        return node

    def value(self, node: dict[str, Any], path: str) -> Value:
        try:
            return _value(node, f"{self.name}: {path}")
        except (AmountFault, ValueError, TypeError, KeyError, AttributeError) as error:
            why = str(error) or "cannot be read"
            cure = 'write it as {value: "8 in", basis: {grade: ...}, checked_on: "..."}'
            raise SpecFault([Fault(self.file, path, "", "shape", why, cure)]) from error


def _value(node: dict[str, Any], where: str) -> Value:
    numbers: dict[str, Any] = {}
    unit: str | None = None
    flag: bool | None = None
    if isinstance(node.get("value"), bool):
        flag = node["value"]
    else:
        for name in ("value", "low", "high"):
            if node.get(name) is None:
                continue
            if unit is None:
                numbers[name], unit = amount(node[name])
            else:  # both ends are held in the first one's unit
                numbers[name] = amount_in(node[name], unit)
    at, at_unit = (None, None) if node.get("at") is None else amount(node["at"])
    points: tuple[tuple[float, float, float], ...] = ()
    if node.get("points"):
        points, unit, at_unit = _points(node["points"])
    basis = node["basis"]
    return Value(
        where=where,
        grade=basis["grade"],
        **numbers,
        unit=unit,
        at=at,
        at_unit=at_unit,
        points=points,
        flag=flag,
        window=_prose(node.get("window")),
        by=node.get("by"),
        scales=node.get("scales"),
        keep=node.get("keep"),
        why_none=_prose(node.get("why_none")),
        sign=_prose(node.get("sign")),
        also=None if node.get("also") is None else amount(node["also"]),
        source=basis.get("source"),
        locator=basis.get("locator"),
        checked_on=node.get("checked_on"),
        note=_prose(node.get("note")),
        layer=node.get("layer", "edition"),
        ends=_ends(node.get("ends", {})),
    )


def _prose(node: Any) -> Mapping[str, str] | None:
    if node is None:
        return None
    if not isinstance(node, dict):
        raise TypeError("prose is not {en: ..., es: ...}")
    return MappingProxyType(dict(node))


def _points(rows: list[dict[str, Any]]) -> tuple[Any, str, str]:
    """Return ((at, low, high), ...), unit and unit of temperature, of the first row's units."""
    first = rows[0]
    _, at_unit = amount(first["at"])
    _, unit = amount(first.get("percent", first.get("low", first.get("high"))))
    if unit == "1":
        unit = "percent"  # a bare number under `percent`
    found = []
    for row in rows:
        if "percent" in row:
            share = row["percent"]
            low = high = float(share) if isinstance(share, (int, float)) else amount_in(share, unit)
        else:
            # a row with one end states that end alone: it is both the least and the most known
            low = amount_in(row.get("low", row.get("high")), unit)
            high = amount_in(row.get("high", row.get("low")), unit)
        found.append((amount_in(row["at"], at_unit), low, high))
    return tuple(found), unit, at_unit


def _ends(node: dict[str, Any]) -> tuple[tuple[str, End], ...]:
    """Return the marks of ends that an overlay set alone; ``overlay`` writes them, nobody else."""
    return tuple(
        (
            name,
            End(
                node[name]["basis"]["grade"],
                node[name]["basis"].get("source", ""),
                node[name]["basis"].get("locator", ""),
                node[name]["layer"],
            ),
        )
        for name in _ENDS
        if name in node
    )
