"""Records of an edition as JSON: every value as a quantity with its grade, source and layer."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from upstand.edition import Edition, Record, Value
from upstand.quantity.units import quantity, system_unit

__all__ = ["show_record"]

_WORDS = ("by", "scales", "keep")
_PROSE = ("window", "why_none", "note")
_ENDS = ("value", "low", "high", "at")


def show_record(record: Record, edition: Edition, system: str) -> dict[str, Any]:
    """Show a record; quantities in `system` (us or si), each with the text it was written as."""
    raw = edition.raw[record.kind][record.id]
    return {
        "id": record.id,
        "kind": record.kind,
        "path": record.path,
        "edition": edition.id,
        "overlay": edition.overlay,
        "data": {name: _show(node, raw[name], system) for name, node in record.data.items()},
    }


def _show(node: Any, raw: Any, system: str) -> Any:
    if isinstance(node, Value):
        return _value(node, raw, system)
    if isinstance(node, Mapping):
        return {name: _show(item, raw[name], system) for name, item in node.items()}
    if isinstance(node, tuple):
        return [_show(item, written, system) for item, written in zip(node, raw, strict=True)]
    return node


def _value(value: Value, raw: Mapping[str, Any], system: str) -> dict[str, Any]:
    shown: dict[str, Any] = {}
    for name in _ENDS:
        number, unit = getattr(value, name), value.at_unit if name == "at" else value.unit
        if number is not None:
            shown[name] = _quantity(number, unit, system, raw.get(name))
    if value.flag is not None:
        shown["value"] = value.flag
    if value.also is not None:
        number, unit = value.also
        own = "us" if system_unit(unit, "us") == unit else "si"
        shown["also"] = _quantity(number, unit, own, raw.get("also"))
    if value.points:
        rows = zip(value.points, raw["points"], strict=True)
        shown["points"] = [_point(value, point, row, system) for point, row in rows]
    for name in _WORDS:
        if getattr(value, name) is not None:
            shown[name] = getattr(value, name)
    for name in _PROSE:
        if getattr(value, name) is not None:
            shown[name] = dict(getattr(value, name))
    shown["basis"] = _basis(value.grade, value.source, value.locator)
    shown["checked_on"] = value.checked_on
    shown["layer"] = value.layer
    if value.ends:
        shown["ends"] = {
            name: {"basis": _basis(end.grade, end.source, end.locator), "layer": end.layer}
            for name, end in value.ends
        }
    return shown


def _basis(grade: str, source: str | None, locator: str | None) -> dict[str, str | None]:
    return {"grade": grade, "source": source or None, "locator": locator or None}


def _quantity(number: float, unit: str | None, system: str, written: Any) -> dict[str, Any]:
    shown: dict[str, Any] = dict(quantity(number, unit or "1", system))
    if written is not None:
        shown["written"] = str(written)
    return shown


def _point(
    value: Value, point: tuple[float, float, float], row: Mapping[str, Any], system: str
) -> dict[str, Any]:
    """Show one row of a table: a time from low to high, or a share, at a temperature."""
    at, low, high = point
    shown = {"at": _quantity(at, value.at_unit, system, row.get("at"))}
    if "percent" in row:
        return {**shown, "percent": _quantity(low, value.unit, system, row["percent"])}
    return {
        **shown,
        "low": _quantity(low, value.unit, system, row.get("low")),
        "high": _quantity(high, value.unit, system, row.get("high")),
    }
