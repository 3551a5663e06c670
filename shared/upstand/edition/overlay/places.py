"""Places in a record: what stands at a dotted path, and which shape is declared for it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from upstand.edition.build import is_value
from upstand.edition.faults import near
from upstand.edition.schema.kinds import KINDS
from upstand.edition.schema.shapes import AnyOf, Fields, ListOf, MapOf, Shape

__all__ = ["NoSpot", "Spot", "find", "paths"]

_ENDS = ("low", "high", "at")


class NoSpot(Exception):
    """There is no such place; ``hint`` says what there is."""

    def __init__(self, hint: str) -> None:
        """Keep the hint."""
        self.hint = hint
        super().__init__(hint)


@dataclass(slots=True)
class Spot:
    """A place in a record: the container and key, the shape declared there, and what surrounds."""

    holder: Any
    key: Any
    shape: Shape
    required: bool
    path: str

    @property
    def node(self) -> Any:
        """What stands there now; None where nothing does."""
        if isinstance(self.holder, list):
            return self.holder[self.key]
        return self.holder.get(self.key)

    def put(self, node: Any) -> None:
        """Write a node there; None takes away what is there."""
        if node is None:
            self.holder.pop(self.key, None)
        else:
            self.holder[self.key] = node


def find(kind: str, record: Any, dotted: str) -> tuple[Spot, str | None]:
    """Return the spot of a path, and the end of a range or time that it names, if it names one.

    Items of a list go by number or by their ``id``. Raises NoSpot.
    """
    steps = dotted.split(".")
    spot = Spot({"": record}, "", KINDS[kind], True, "")
    for number, name in enumerate(steps):
        node = spot.node
        if is_value(node):
            rest = ".".join(steps[number:])
            if rest == "value" and "value" in node:
                return spot, None
            if rest in _ENDS and node.get(rest) is not None:
                return spot, rest
            raise _unknown(kind, record, dotted)
        inner = _inside(spot, node, name)
        if inner is None:
            raise _unknown(kind, record, dotted)
        spot = inner
    return spot, None


def _inside(spot: Spot, node: Any, name: str) -> Spot | None:
    shape = _held(spot.shape, node)
    if isinstance(shape, Fields) and isinstance(node, dict) and name in shape.fields:
        held = shape.fields[name]
        return Spot(node, name, held.shape, held.required, _step(spot.path, name))
    if isinstance(shape, MapOf) and isinstance(node, dict) and name in node:
        return Spot(node, name, shape.item, True, _step(spot.path, name))
    if isinstance(shape, ListOf) and isinstance(node, list):
        ids = [item.get("id") if isinstance(item, dict) else None for item in node]
        place = ids.index(name) if name in ids else int(name) if name.isdecimal() else -1
        if 0 <= place < len(node):
            return Spot(node, place, shape.item, True, _step(spot.path, str(place)))
    return None


def _step(path: str, name: str) -> str:
    return f"{path}.{name}" if path else name


def _held(shape: Shape, node: Any) -> Shape:
    """Return the shape that a node is held to, where it may be one of several."""
    if isinstance(shape, AnyOf):
        return next((one for one in shape.shapes if one.fits(node)), shape)
    return shape


def _unknown(kind: str, record: Any, dotted: str) -> NoSpot:
    known = sorted({*KINDS[kind].fields, *paths(record, "")})
    nearest = near(dotted, known)
    return NoSpot(f"nearest: {', '.join(nearest)}" if nearest else f"fields: {', '.join(record)}")


def paths(node: Any, path: str) -> Iterator[str]:
    """Yield every dotted path in a node, from the path given."""
    if path:
        yield path
    if isinstance(node, dict):
        for key, item in node.items():
            if key not in ("basis", "checked_on", "en", "es"):
                yield from paths(item, _step(path, key))
    elif isinstance(node, list):
        for number, item in enumerate(node):
            yield from paths(item, _step(path, str(number)))
