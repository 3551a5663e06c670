"""Every limit can be judged: it has a bound of the fact's dimension, a verdict and its words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from upstand.edition.amounts import AmountFault, amount, amount_in
from upstand.edition.faults import Fault
from upstand.edition.schema.kinds import KINDS
from upstand.edition.schema.kinds.limits import BOUNDS
from upstand.edition.schema.kinds.vocabulary import FACTS
from upstand.edition.schema.shapes import Fields, step
from upstand.edition.schema.values import RangeOf, ValueOf
from upstand.edition.source import Source, Thing
from upstand.quantity.units import UNITS

TAKES = {"resin": ("resins",), "primer": ("primers",), "product": ("resins", "primers")}
LOWER, UPPER = ("at_least",), ("at_most", "under")
WORDS = ("else", "missing", "because", "clears")
FOR_MISSING = {"ask": "unknown", "confirm": "confirm"}


def check(source: Source) -> Iterator[Fault]:
    """Yield limits that nothing can be held to."""
    for thing in source.kind("limits"):
        bounds = [name for name in BOUNDS if name in thing.node]
        yield from _limit(thing, bounds, _fact(thing, source))
    for thing in source.kind("parameters"):
        if not {"value", "choice"} & set(thing.node):
            why = "is missing: a parameter is a figure that stages read"
            yield thing.fault("value", None, "limits", why, "write {value, basis, checked_on}")
    held = {thing.path: thing.node for thing in source.every("limits")}
    for thing in source.kind("inputs"):
        yield from _defaults(thing, held.get(str(thing.node.get("limit")), {}))


def _defaults(thing: Thing, limit: Mapping[str, Any]) -> Iterator[Fault]:
    """An input's default holds to the limit that bounds it."""
    taken = thing.node.get("taken")
    for number, entry in enumerate(taken if isinstance(taken, list) else []):
        default = entry.get("default") if isinstance(entry, dict) else None
        if not isinstance(default, dict):
            continue
        written = default.get("value")
        lows = [item.get("value") for n in LOWER for _, item in _items(n, limit.get(n))]
        highs = [item.get("value") for n in UPPER for _, item in _items(n, limit.get(n))]
        low = any(_above(bound, written) for bound in lows)
        high = any(_above(written, bound) for bound in highs)
        if low or high:
            why = f"does not hold to {thing.node['limit']}"
            yield thing.fault(
                f"taken.{number}.default", written, "limits", why, "take one that does"
            )


def _fact(thing: Thing, source: Source) -> str | None:
    """Return the dimension of what the limit is of: a fact, or an input that is asked for."""
    of = str(thing.node.get("of"))
    if of in FACTS:
        return FACTS[of]
    for asked in source.every("inputs"):
        if asked.id.replace("-", "_") == of:
            return str(asked.node.get("reads"))
    return None


def _limit(thing: Thing, bounds: list[str], wanted: str | None) -> Iterator[Fault]:
    if wanted is None and "of" in thing.node:
        why = "is neither a fact nor an input"
        cure = f"write one of {', '.join(FACTS)}, or the name of an input"
        yield thing.fault("of", thing.node["of"], "limits", why, cure)
    if not bounds:
        why = "has nothing to hold the fact to"
        yield thing.fault("", None, "limits", why, f"write one of: {', '.join(BOUNDS)}")
    ticked = thing.node.get("else") == "confirm"
    for name in ("else", "missing", "confirm") if ticked else WORDS:
        if name not in thing.node:
            why = "is missing: a limit of a fact has it"
            yield thing.fault(name, None, "limits", why, "write it; see another limit")
    said = FOR_MISSING.get(str(thing.node.get("missing")))
    if said is not None and said not in thing.node:
        why = f"is missing, and the verdict is {thing.node['missing']} where the fact is not known"
        yield thing.fault(said, None, "limits", why, "say what is not known: {en, es}")
    yield from _amounts(thing, bounds, wanted)


def _amounts(thing: Thing, bounds: list[str], wanted: str | None) -> Iterator[Fault]:
    held: dict[str, list[Any]] = {}
    for name in bounds:
        node = thing.node.get(name)
        for place, item in _items(name, node):
            if "take" in item:
                yield from _take(thing, place, str(item["take"]))
                continue
            written = item.get("value")
            held.setdefault(name, []).append(written)
            found = _dimension(written)
            if wanted is not None and found is not None and found != wanted:
                why = f"is {found.replace('_', ' ')}, and the fact is {wanted.replace('_', ' ')}"
                cure = "write it in a unit of the fact"
                yield thing.fault(step(place, "value"), written, "limits", why, cure)
    yield from _between(thing, held)


def _between(thing: Thing, held: dict[str, list[Any]]) -> Iterator[Fault]:
    lows = [low for name in LOWER for low in held.get(name, [])]
    highs = [high for name in UPPER for high in held.get(name, [])]
    if any(_above(low, high) for low in lows for high in highs):
        why = "has its lower bound above its upper one: nothing can hold it"
        yield thing.fault("", None, "limits", why, "change them round")


def _items(name: str, node: Any) -> Iterator[tuple[str, dict[str, Any]]]:
    if isinstance(node, dict):
        yield name, node
    elif isinstance(node, list):
        for number, item in enumerate(node):
            if isinstance(item, dict):
                yield step(name, number), item


def _take(thing: Thing, path: str, taken: str) -> Iterator[Fault]:
    """A path such as resin.application.low: a field of the kind, and an end of its range."""
    first, *fields = taken.split(".")
    kinds = TAKES.get(first, ())
    if not kinds or not all(_resolves(kind, fields) for kind in kinds):
        why = "is not a value of a resin or primer"
        cure = "write resin.FIELD, primer.FIELD or product.FIELD (both have it); .low or .high"
        yield thing.fault(step(path, "take"), taken, "limits", why, cure)


def _resolves(kind: str, names: list[str]) -> bool:
    shape: Any = KINDS[kind]
    end = bool(names) and names[-1] in ("low", "high")
    for name in names[:-1] if end else names:
        field = shape.fields.get(name) if isinstance(shape, Fields) else None
        shape = field.shape if field else None
    return isinstance(shape, RangeOf) if end else isinstance(shape, ValueOf)


def _dimension(written: Any) -> str | None:
    if isinstance(written, bool):
        return "flag"
    try:
        return UNITS[amount(written)[1]]
    except AmountFault:
        return None  # rule units tells


def _above(one: Any, other: Any) -> bool:
    try:
        number, unit = amount(one)
        return number > amount_in(other, unit)
    except ValueError:
        return False
