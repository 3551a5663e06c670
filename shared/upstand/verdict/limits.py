"""Limits as data: the same few comparisons for every limit of an edition.

A limit names the fact it is `of` and one or more of at_least, at_most, under, is. Its bound is a
value, several values that must all hold, or `take`n from the product in use. A limit whose bound
the product does not have says nothing.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any, Literal

from upstand.edition import Record, Value
from upstand.edition.schema.kinds.vocabulary import FACT_UNITS, FACTS
from upstand.quantity.traced import NOISE, Traced, reaches

State = Literal["hold", "ask", "confirm", "refuse"]


@dataclass(frozen=True, slots=True)
class Facts:
    """What limits are compared with: numbers by name, yes-or-no by name, and products in use."""

    numbers: Mapping[str, Traced]
    flags: Mapping[str, bool] = field(default_factory=dict)
    products: Mapping[str, Record] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Bound:
    """One bound of a limit."""

    sort: Literal["at_least", "at_most", "under"]
    value: Traced

    def holds(self, found: Traced) -> bool:
        """Whether a reading keeps within the bound.

        >>> from upstand.quantity.traced import asked
        >>> found = asked(5.2, "delta_degF", "/y")
        >>> Bound("at_least", asked(5.4, "delta_degF", "/x")).holds(found)
        False
        """
        if self.sort == "at_least":
            return reaches(found, self.value)
        if self.sort == "at_most":
            return found.value <= self.value.value + NOISE
        return found.value < self.value.value - NOISE


@dataclass(frozen=True, slots=True)
class Finding:
    """A limit that is broken, or could not be compared because its fact is missing."""

    limit: Record
    state: State
    missing: bool
    found: Traced | None = None
    broken: Bound | None = None
    bounds: tuple[Bound, ...] = ()


def bounds_of(limit: Record, facts: Facts, unit: str) -> tuple[Bound, ...]:
    """Read the bounds of a limit in `unit`; of several values the strictest is kept."""
    return _bounds(limit, unit, tuple(facts.products.items()))


@lru_cache(maxsize=1024)
def _bounds(
    limit: Record, unit: str, products: tuple[tuple[str, Record], ...]
) -> tuple[Bound, ...]:
    """Read them once for the same products: no reading of the day goes into them."""
    bounds = []
    for sort in ("at_least", "at_most", "under"):
        values = _values(limit.get(sort), dict(products), unit)
        if values:
            strictest = (max if sort == "at_least" else min)(values, key=lambda v: v.value)
            bounds.append(Bound(sort, strictest))
    return tuple(bounds)


def _values(node: Any, products: Mapping[str, Record], unit: str) -> list[Traced]:
    if node is None:
        return []
    if isinstance(node, Value):
        return [node.traced(unit)]
    if isinstance(node, tuple):
        return [value.traced(unit) for value in node]
    product_name, _, rest = str(node["take"]).partition(".")
    path, _, end = rest.rpartition(".")
    product = products.get(product_name)
    if product is None or not product.has(path):
        return []
    value = product.value(path)
    if getattr(value, end) is None:
        return []
    return [value.traced(unit, "low") if end == "low" else value.traced(unit, "high")]


def compare(limit: Record, facts: Facts) -> Finding | None:
    """Compare one limit with the facts; None where it holds or does not apply."""
    name = str(limit.get("of"))
    if limit.has("is"):
        return _compare_flag(limit, facts, name)
    found = facts.numbers.get(name)
    unit = found.unit if found is not None else FACT_UNITS[FACTS.get(name, "length")]
    bounds = bounds_of(limit, facts, unit)
    if not bounds:
        return None
    if found is None:
        return _missing(limit, bounds)
    for bound in bounds:
        if not bound.holds(found):
            return Finding(limit, limit.get("else"), False, found, bound, bounds)
    return None


def _compare_flag(limit: Record, facts: Facts, name: str) -> Finding | None:
    if name not in facts.flags:
        return _missing(limit, ())
    if facts.flags[name] is limit.value("is").flag:
        return None
    return Finding(limit, limit.get("else"), False)


def _missing(limit: Record, bounds: tuple[Bound, ...]) -> Finding | None:
    state = limit.get("missing")
    return None if state == "skip" else Finding(limit, state, True, bounds=bounds)
