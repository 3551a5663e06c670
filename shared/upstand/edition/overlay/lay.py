"""Laying an overlay's settings over nodes: finding each path, proving it, writing it in place."""

from __future__ import annotations

import copy
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from upstand.edition.amounts import AmountFault, amount, amount_in
from upstand.edition.build import is_value
from upstand.edition.faults import Fault, near
from upstand.edition.overlay.check import record_faults, unmarked
from upstand.edition.overlay.loosening import loosens
from upstand.edition.overlay.places import NoSpot, Spot, find, paths
from upstand.edition.publishing.changes import show
from upstand.edition.schema.shapes import AnyOf
from upstand.edition.schema.values import GRADES, Sourced, TimeOf

__all__ = ["Laid", "Setting", "lay_settings"]

_PATH = re.compile(r"([a-z]+/[a-z0-9-]{1,64})(?:\s*:\s*([A-Za-z0-9_.-]{1,200}))?", re.ASCII)
_MEASURES = ("at", "low", "high", "points", "window")
_NOTHING = "—"
Nodes = dict[str, dict[str, Any]]


@dataclass(frozen=True, slots=True)
class Setting:
    """One ``set`` of an overlay, and where it stands in which file."""

    file: str
    place: str
    path: str
    expects: Any
    value: Any
    basis: Any
    checked_on: str | None = None
    reason: Any = None

    def fault(self, name: str, value: object, why: str, cure: str) -> Fault:
        """Return a fault in this setting; ``name`` is the field of it."""
        place = f"{self.place}.{name}" if name else self.place
        shown = "" if value is None else str(value)[:80]
        return Fault(self.file, place, shown, "overlay", f"{self.path}: {why}", cure)


@dataclass
class Laid:
    """What came of it: faults, everything that was set, and what of it loosens."""

    faults: list[Fault] = field(default_factory=list)
    overlaid: list[Mapping[str, Any]] = field(default_factory=list)
    loosened: list[Mapping[str, Any]] = field(default_factory=list)
    unread: list[Fault] = field(default_factory=list)


class _Refused(Exception):
    def __init__(self, fault: Fault) -> None:
        self.fault = fault


def lay_settings(raw: Nodes, settings: Sequence[Setting], layer: str) -> Laid:
    """Write every setting into ``raw``, which is changed; what is refused is left as it was."""
    laid = Laid()
    before = {path: copy.deepcopy(node) for path, node in _touched(raw, settings)}
    for setting in settings:
        try:
            _lay(raw, setting, layer, laid)
        except _Refused as refused:
            laid.faults.append(refused.fault)
    if not laid.faults:
        laid.faults += list(record_faults(raw, before, settings)) or laid.unread
    return laid


def _touched(raw: Nodes, settings: Sequence[Setting]) -> Iterator[tuple[str, Any]]:
    for setting in settings:
        match = _PATH.fullmatch(setting.path)
        kind, _, id = (match[1] if match else "").partition("/")
        if id in raw.get(kind, {}):
            yield f"{kind}/{id}", raw[kind][id]


def _lay(raw: Nodes, setting: Setting, layer: str, laid: Laid) -> None:
    match = _PATH.fullmatch(setting.path)
    if match is None:
        cure = 'write "kind/id: field", as "resins/pu-2k: layers.base"'
        raise _Refused(setting.fault("path", setting.path, "is not a path", cure))
    kind, _, id = match[1].partition("/")
    if id not in raw.get(kind, {}):
        known = [f"{held}/{name}" for held, records in raw.items() for name in records]
        hint = ", ".join(near(match[1], known)) or "see the edition's list"
        raise _Refused(setting.fault("path", match[1], "no such record", f"nearest: {hint}"))
    _basis(setting)
    if match[2] is None:
        _drop(raw, setting, kind, id, laid)
        return
    record = raw[kind][id]
    whole = copy.deepcopy(record)
    try:
        spot, end = find(kind, record, match[2])
    except NoSpot as missing:
        raise _Refused(setting.fault("path", match[2], "no such field", missing.hint)) from None
    old = copy.deepcopy(spot.node)
    _expects(setting, old, end)
    new = _end(setting, spot, end, layer) if end else _whole(setting, spot, layer)
    _form(setting, spot, new, end)
    spot.put(new)
    try:
        how = loosens(kind, spot.path, old, new, whole)
    except (ValueError, TypeError, KeyError, AttributeError):
        how = None  # of a wrong dimension or form: the rules tell which
        cure = "write it as the value before it is written"
        laid.unread.append(setting.fault("value", setting.value, "cannot be compared", cure))
    before, after = (old[end], new[end]) if end else (old, new)
    _note(setting, laid, _shown(before), _shown(after), how)


def _basis(setting: Setting) -> None:
    basis = setting.basis
    if not isinstance(basis, dict) or basis.get("grade") not in GRADES:
        cure = "write {grade: product, source: the sheet, locator: table or page}"
        raise _Refused(setting.fault("basis", basis, "has no basis with a known grade", cure))
    for name, held in basis.items():
        if name not in ("grade", "source", "locator") or not isinstance(held, str):
            cure = "write grade, source and locator, each as text"
            raise _Refused(setting.fault(f"basis.{name}", held, "is not part of a basis", cure))


def _drop(raw: Nodes, setting: Setting, kind: str, id: str, laid: Laid) -> None:
    """Take a whole record away, which only a caution can be."""
    record = raw[kind][id]
    if setting.value is not None:
        cure = f'name the field: "{kind}/{id}: FIELD"'
        raise _Refused(setting.fault("path", None, "names a whole record", cure))
    if kind != "cautions":
        why = "cannot be taken away: others refer to it"
        cure = "only a caution can be dropped whole, with a reason"
        raise _Refused(setting.fault("value", None, why, cure))
    if setting.expects != record.get("hazard"):
        why = f"is expected to warn of {setting.expects}, and warns of {record.get('hazard')}"
        cure = "look at the edition again, then write the hazard that stands there"
        raise _Refused(setting.fault("expects", setting.expects, why, cure))
    _note(setting, laid, _shown(record["name"]), None, "drops a caution")
    del raw[kind][id]


def _expects(setting: Setting, old: Any, end: str | None) -> None:
    held = old[end] if end else old
    if _same(held, setting.expects):
        return
    why = f"stands at {_shown(held) or 'nothing'}, and {_shown(setting.expects) or 'nothing'}"
    why += " was expected: the edition has changed, or the overlay was written against another"
    cure = "look at the new value, then write it under expects"
    raise _Refused(setting.fault("expects", setting.expects, why, cure))


def _same(held: Any, expected: Any) -> bool:
    if held is None or expected is None:
        return held is None and expected is None
    if is_value(held):
        if isinstance(expected, str) and expected == show(held):
            return True
        if "value" in held:
            return _same_amount(held["value"], expected)
        measures = {
            key: held[key] for key in ("at", "low", "high", "points", "window") if key in held
        }
        return isinstance(expected, dict) and _same_measures(measures, expected)
    if isinstance(held, dict) and "en" in held and expected == held["en"]:
        return True
    if isinstance(held, bool) or isinstance(expected, bool):
        return held is expected
    return bool(held == expected) or _same_amount(held, expected)


def _same_measures(held: Mapping[str, Any], expected: Mapping[str, Any]) -> bool:
    if set(held) != set(expected):
        return False
    return all(
        item == expected[key] or _same_amount(item, expected[key]) for key, item in held.items()
    )


def _same_amount(one: Any, other: Any) -> bool:
    if isinstance(one, bool) or isinstance(other, bool):
        return one is other
    try:
        number, unit = amount(one)
        return abs(amount_in(other, unit) - number) <= 1e-9 * max(1.0, abs(number))
    except ValueError:
        return False


def _whole(setting: Setting, spot: Spot, layer: str) -> Any:
    """Return the node that is to stand at the spot."""
    if setting.value is None:
        if spot.required:
            cure = "write the value that holds instead"
            raise _Refused(setting.fault("value", None, "cannot be taken away", cure))
        return None
    old = spot.node
    if not is_value(old) and _has_values(old):
        inner = [path for path in paths(old, spot.path) if path != spot.path][:4]
        cure = f"set each value in it: {', '.join(inner)}"
        raise _Refused(setting.fault("path", None, "holds several sourced values", cure))
    for shape in spot.shape.shapes if isinstance(spot.shape, AnyOf) else (spot.shape,):
        if isinstance(shape, Sourced) and not (
            isinstance(setting.value, dict) and "take" in setting.value
        ):
            node = _sourced(setting, shape, old, layer)
            if not isinstance(spot.shape, AnyOf) or shape.fits(node):
                return node
    return copy.deepcopy(setting.value)


def _form(setting: Setting, spot: Spot, new: Any, end: str | None) -> None:
    """Refuse a node of the wrong form; what it says is for the rules, once all are laid."""
    if new is None:
        return
    for wrong in spot.shape.faults(unmarked(new), ""):
        if wrong.path != "checked_on":  # a sheet has its own date, if any
            name = f"value.{wrong.path}" if wrong.path and end is None else "value"
            raise _Refused(setting.fault(name, wrong.value, wrong.why, wrong.cure))


def _has_values(node: Any) -> bool:
    if is_value(node):
        return True
    inner = node.values() if isinstance(node, dict) else node if isinstance(node, list) else ()
    return any(_has_values(item) for item in inner)


def _sourced(setting: Setting, shape: Sourced, old: Any, layer: str) -> dict[str, Any]:
    node: dict[str, Any] = {}
    if isinstance(setting.value, dict):
        for key in ("basis", "checked_on", "layer", "ends"):
            if key in setting.value:
                cure = "write it beside value"
                raise _Refused(setting.fault(f"value.{key}", None, "does not go here", cure))
        if isinstance(shape, TimeOf) and isinstance(old, dict) and "window" not in setting.value:
            node = {
                key: old[key] for key in ("by", "scales", "keep", "why_none", "sign") if key in old
            }
        node.update(copy.deepcopy(setting.value))
    else:
        node["value"] = setting.value
    node["basis"] = copy.deepcopy(setting.basis)
    if setting.checked_on is not None:  # the old date was the old value's
        node["checked_on"] = setting.checked_on
    node["layer"] = layer
    return node


def _end(setting: Setting, spot: Spot, end: str, layer: str) -> dict[str, Any]:
    """Return the value with one end replaced, and that end marked with its own basis."""
    try:
        amount(setting.value)
    except AmountFault as error:
        cure = "write number, space, unit"
        raise _Refused(setting.fault("value", setting.value, str(error), cure)) from error
    node: dict[str, Any] = copy.deepcopy(spot.node)
    node[end] = setting.value
    mark = {"basis": copy.deepcopy(setting.basis), "layer": layer}
    node["ends"] = {**node.get("ends", {}), end: mark}
    return node


def _shown(node: Any) -> str | None:
    if isinstance(node, dict) and node and set(node) <= set(_MEASURES):
        return show({**node, "basis": {}})  # measures as an overlay writes them
    return None if node is None else show(node)


def _note(setting: Setting, laid: Laid, old: str | None, new: str | None, how: str | None) -> None:
    row = {"path": setting.path, "from": old or _NOTHING, "to": new or _NOTHING}
    reason = _reason(setting)
    if how is not None:
        if reason is None:
            why = f"{how} ({old or 'nothing'} to {new or 'nothing'}), and gives no reason"
            cure = "write reason: {en, es}; every answer will show it"
            raise _Refused(setting.fault("reason", None, why, cure))
        laid.loosened.append({**row, "reason": reason, "how": how})
    laid.overlaid.append({**row, "basis": dict(setting.basis), "reason": reason})


def _reason(setting: Setting) -> Mapping[str, str] | None:
    """Return the reason in both languages; one plain text stands for both."""
    reason = setting.reason
    if reason is None:
        return None
    if isinstance(reason, str):
        reason = {"en": reason, "es": reason}
    texts = [reason.get(lang) for lang in ("en", "es")] if isinstance(reason, dict) else []
    if len(texts) != 2 or not all(isinstance(text, str) and text.strip() for text in texts):
        raise _Refused(setting.fault("reason", reason, "is no reason", "write {en, es}"))
    return {"en": reason["en"], "es": reason["es"]}
