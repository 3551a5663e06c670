"""What changed between two editions, path by path."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, TypedDict

from upstand.edition.build import Raw, canonical, is_value
from upstand.edition.model import Edition

__all__ = ["Change", "changes", "raw_changes", "sentence", "show"]


class Change(TypedDict):
    """One change. ``old`` or ``new`` is None where there was or is nothing."""

    path: str
    old: str | None
    new: str | None
    grade: str | None
    source: str | None


def changes(old: Edition, new: Edition) -> list[Change]:
    """Return what is different in ``new``, in order of kind, id and path.

    Values are written as data writes them. ``grade`` and ``source`` are those of the new value,
    or of the old one where it is gone.
    """
    return raw_changes(old.raw, new.raw)


def raw_changes(old: Raw, new: Raw) -> list[Change]:
    """Return the same for nodes as read."""
    found: list[Change] = []
    for kind in sorted({*old, *new}):
        before, after = old.get(kind, {}), new.get(kind, {})
        for id in sorted({*before, *after}):
            path = f"{kind}/{id}"
            if id not in before:
                found.append(_change(path, None, _name(after[id]), None))
            elif id not in after:
                found.append(_change(path, _name(before[id]), None, None))
            else:
                found += _nodes(before[id], after[id], f"{path}: ", None)
    return found


def sentence(change: Change) -> str:
    """Return a change in one English sentence.

    >>> sentence({"path": "resins/x: layers.base", "old": "40 mil", "new": "45 mil",
    ...           "grade": "memory", "source": None})
    'resins/x: layers.base: was 40 mil, is now 45 mil (memory).'
    """
    basis = ", ".join(part for part in (change["grade"], change["source"]) if part)
    mark = f" ({basis})" if basis else ""
    if change["old"] is None:
        said = f"new: {change['new']}" if change["new"] else "new"
    elif change["new"] is None:
        said = f"gone, was {change['old']}" if change["old"] else "gone"
    else:
        said = f"was {change['old']}, is now {change['new']}"
    return f"{change['path'].removesuffix(': ')}: {said}{mark}."


def show(node: Any) -> str:
    """Return a node in one line, as data writes it.

    >>> show({"at": "70 degF", "low": "25 min", "high": "30 min", "basis": {}})
    '25 min to 30 min at 70 degF'
    """
    if isinstance(node, dict):
        if is_value(node):
            return _measure(node)
        if "en" in node:
            return str(node["en"])
        if "take" in node:
            return f"{node['take']}"
        return canonical(node)
    if isinstance(node, list):
        return ", ".join(show(item) for item in node)
    if isinstance(node, bool):
        return "true" if node else "false"
    return str(node)


def _measure(node: dict[str, Any]) -> str:
    if "window" in node:
        return show(node["window"])
    if "points" in node:
        return "; ".join(_measure(row) for row in node["points"])
    if "value" in node:
        return show(node["value"])
    if "percent" in node:
        said = f"{show(node['percent'])} percent".replace(" percent percent", " percent")
    elif "low" in node and "high" in node:
        said = f"{node['low']} to {node['high']}"
    elif "low" in node:
        said = f"at least {node['low']}"
    else:
        said = f"at most {node.get('high')}"
    return f"{said} at {node['at']}" if "at" in node else said


def _name(node: Any) -> str:
    return show(node["name"]) if isinstance(node, dict) and "name" in node else ""


def _change(path: str, old: str | None, new: str | None, held: Mapping[str, Any] | None) -> Change:
    basis = held.get("basis", {}) if held else {}
    return Change(path=path, old=old, new=new, grade=basis.get("grade"), source=basis.get("source"))


def _nodes(old: Any, new: Any, path: str, held: Mapping[str, Any] | None) -> Iterator[Change]:
    """Yield the changes under a path; ``held`` is the sourced value or statement around it."""
    if canonical(old) == canonical(new):  # true is not 1, as == would have it
        return
    if is_value(old) and is_value(new):
        yield from _values(old, new, path)
    elif isinstance(old, dict) and isinstance(new, dict):
        held = new if "basis" in new else held
        for key in [*old, *(key for key in new if key not in old)]:
            place = path + key if path.endswith(": ") else f"{path}.{key}"
            if key not in old:
                yield _change(place, None, show(new[key]), _basis_in(new[key], held))
            elif key not in new:
                yield _change(place, show(old[key]), None, _basis_in(old[key], held))
            else:
                yield from _nodes(old[key], new[key], place, held)
    elif isinstance(old, list) and isinstance(new, list):
        yield from _lists(old, new, path, held)
    else:
        yield _change(path, show(old), show(new), held)


def _basis_in(node: Any, held: Mapping[str, Any] | None) -> Mapping[str, Any] | None:
    return node if isinstance(node, dict) and "basis" in node else held


def _values(old: dict[str, Any], new: dict[str, Any], path: str) -> Iterator[Change]:
    before, after = _measure(old), _measure(new)
    if before != after:
        yield _change(path, before, after, new)
    for key in sorted({*old, *new} - {"value", "low", "high", "at", "points", "percent"}):
        if key == "window" and before != after:
            continue
        one, other = old.get(key), new.get(key)
        if one != other:
            tell = _basis if key == "basis" else _shown
            yield _change(f"{path}.{key}", tell(one), tell(other), new)


def _shown(node: Any) -> str | None:
    return None if node is None else show(node)


def _basis(node: Any) -> str | None:
    if not isinstance(node, dict):
        return None
    return ", ".join(str(node[key]) for key in ("grade", "source", "locator") if node.get(key))


def _lists(
    old: list[Any], new: list[Any], path: str, held: Mapping[str, Any] | None
) -> Iterator[Change]:
    if all(isinstance(item, dict) and "id" in item for item in [*old, *new]):
        before = {item["id"]: item for item in old}
        after = {item["id"]: item for item in new}
        yield from _nodes(before, after, path, held)
    elif len(old) == len(new) and all(isinstance(item, dict) for item in [*old, *new]):
        for number, (one, other) in enumerate(zip(old, new, strict=True)):
            yield from _nodes(one, other, f"{path}.{number}", held)
    else:
        gone, come = _less(old, new), _less(new, old)
        for item in gone:
            yield _change(path, show(item), None, _basis_in(item, held))
        for item in come:
            yield _change(path, None, show(item), _basis_in(item, held))
        if not gone and not come:
            yield _change(path, show(old), show(new), held)


def _less(items: list[Any], others: list[Any]) -> list[Any]:
    """Return the items that are not among the others, each as often as it is over."""
    left = list(others)
    over = []
    for item in items:
        if item in left:
            left.remove(item)
        else:
            over.append(item)
    return over
