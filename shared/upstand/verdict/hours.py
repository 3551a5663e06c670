"""Hours judged by the edition's limits: hold, unknown or go for each activity, a row at a time.

An hour's activity is held if a reading it depends on breaks its limit; else unknown if one of them
is unknown; else go. Only limits that hold work up count here: what is confirmed on the roof is.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from upstand.edition import Edition, Record
from upstand.edition.schema.kinds.vocabulary import FACT_UNITS, FACTS
from upstand.quantity.traced import NOISE
from upstand.verdict.limits import Facts, bounds_of

__all__ = ["OF_SURFACE", "HourJudge", "HourVerdict", "Kind", "Numbers", "State"]

State = Literal["go", "unknown", "hold"]
Numbers = Mapping[str, float]
#: A stage of the work with the products that it lays: what the same limits govern.
Kind = tuple[str, tuple[str, ...]]
#: What a forecast or a person tells of an hour; other facts are confirmed on the roof.
READINGS = ("air", "surface", "margin", "material", "rain_chance", "wind", "humidity")
#: With no surface measured, these are unknown for its sake alone.
OF_SURFACE = frozenset({"surface", "margin"})


@dataclass(frozen=True, slots=True)
class _Bound:
    """One limit for one set of products, as floats; None is no bound."""

    limit: Record
    of: str
    products: tuple[Record, ...]
    at_least: float | None
    at_most: float | None
    under: float | None

    def holds(self, found: float) -> bool:
        return (
            (self.at_least is None or found >= self.at_least - NOISE)
            and (self.at_most is None or found <= self.at_most + NOISE)
            and (self.under is None or found < self.under - NOISE)
        )

    def above_low(self, found: float) -> bool:
        """Whether a number keeps all but its high limit."""
        return (self.at_least is None or found >= self.at_least - NOISE) and (
            self.under is None or found < self.under - NOISE
        )


@dataclass(frozen=True, slots=True)
class HourVerdict:
    """What an hour allows one kind of work: the limits it breaks, and what is unknown."""

    state: State
    broken: tuple[tuple[Record, tuple[Record, ...]], ...]
    unknown: frozenset[str]


class HourJudge:
    """Compares hours with the limits that govern each activity."""

    def __init__(self, resin: Record, edition: Edition) -> None:
        """Read the bounds once: hours differ in their numbers alone."""
        self.resin = resin
        self.limits = [
            limit
            for limit in edition.kind("limits").values()
            if limit.has("governs") and limit.get("else") == "hold" and limit.get("of") in READINGS
        ]
        self.bounds: list[_Bound] = []
        self.judged: dict[tuple[bool | None, ...], dict[str, HourVerdict]] = {}
        self.kinds: dict[Kind, list[_Bound]] = {}
        self.of_activity: dict[str, Kind] = {}
        primers = edition.kind("primers").values()
        activities = edition.kind("activities").values()
        for activity in sorted(activities, key=lambda a: int(a.get("order"))):
            stage = str(activity.get("stage"))
            products = (
                [resin]
                if stage == "lay"
                else [p for p in primers if p.get("activity") == activity.path]
            )
            key = (stage, tuple(product.path for product in products))
            if key not in self.kinds:
                self.kinds[key] = self._bounds(stage, products)
            if self.kinds[key]:
                self.of_activity[activity.id] = key

    def _bounds(self, stage: str, products: Sequence[Record]) -> list[_Bound]:
        return [
            bound
            for limit in self.limits
            if stage in limit.get("governs")
            for product in _products_of(limit, products)
            if (bound := self._known(limit, product)) is not None
        ]

    def _known(self, limit: Record, product: Record | None) -> _Bound | None:
        """Make a bound, or return the one that stands already: it is compared once an hour."""
        products = () if product is None else (product,)
        for bound in self.bounds:
            if bound.limit is limit and bound.products == products:
                return bound
        made = self._bound(limit, product)
        if made is not None:
            self.bounds.append(made)
        return made

    def _bound(self, limit: Record, product: Record | None) -> _Bound | None:
        in_use = {"resin": self.resin, **({} if product is None else {"product": product})}
        of = str(limit.get("of"))
        found = bounds_of(limit, Facts({}, products=in_use), FACT_UNITS[FACTS.get(of, "length")])
        if not found:
            return None
        by_sort = {bound.sort: bound.value.value for bound in found}
        return _Bound(
            limit,
            of,
            () if product is None else (product,),
            by_sort.get("at_least"),
            by_sort.get("at_most"),
            by_sort.get("under"),
        )

    def judge(self, numbers: Numbers) -> Mapping[str, HourVerdict]:
        """Judge an hour by its numbers, for each activity; what is left out is unknown."""
        told = tuple(
            None if (found := numbers.get(bound.of)) is None else bound.holds(found)
            for bound in self.bounds
        )
        if told not in self.judged:  # most hours of a forecast are alike in this
            self.judged[told] = self._judge(told)
        return self.judged[told]

    def _judge(self, told: Sequence[bool | None]) -> dict[str, HourVerdict]:
        by_bound = {id(bound): each for bound, each in zip(self.bounds, told, strict=True)}
        by_kind = {kind: _together(bounds, by_bound) for kind, bounds in self.kinds.items()}
        return {activity: by_kind[kind] for activity, kind in self.of_activity.items()}

    def lasting(self, activity: str, numbers: Numbers) -> bool:
        """Whether what was laid comes to no harm while it dries.

        Rain is known and under its limit, the margin kept, air and surface not too cold: where
        they are known. Wind and heat do no harm.
        """
        for bound in self.kinds[self.of_activity[activity]]:
            found = numbers.get(bound.of)
            if bound.of == "rain_chance" and (found is None or not bound.holds(found)):
                return False
            cold = bound.of in ("margin", "air", "surface")
            if cold and found is not None and not bound.above_low(found):
                return False
        return True


def _together(bounds: Sequence[_Bound], told: Mapping[int, bool | None]) -> HourVerdict:
    broken = tuple((b.limit, b.products) for b in bounds if told[id(b)] is False)
    unknown = frozenset(b.of for b in bounds if told[id(b)] is None)
    return HourVerdict("hold" if broken else "unknown" if unknown else "go", broken, unknown)


def _products_of(limit: Record, products: Sequence[Record]) -> Sequence[Record | None]:
    """A limit that takes its bounds from the product is compared once for each."""
    return products if products and _takes_product(limit) else (None,)


def _takes_product(limit: Record) -> bool:
    takes = (limit.get(sort) for sort in ("at_least", "at_most", "under"))
    return any(isinstance(t, Mapping) and str(t["take"]).startswith("product.") for t in takes)
