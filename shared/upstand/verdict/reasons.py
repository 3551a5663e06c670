"""What a comparison with a limit found: the reason, what clears it, what to confirm."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from functools import lru_cache
from typing import Literal

from upstand.edition import Record
from upstand.stages.dew_point import Dew
from upstand.stages.since import half_hour
from upstand.stages.times import Timing
from upstand.verdict.limits import Bound, Facts, Finding, compare
from upstand.verdict.model import Confirmation, Reason
from upstand.words.model import Rounded, Sentence, Slot, Span, TradeText

__all__ = ["LimitJudge"]

Judged = list[Reason | Confirmation]
_BOUNDS = ("at_least", "at_most", "under")


@dataclass(frozen=True, slots=True)
class LimitJudge:
    """Compares limits with facts and says what it finds.

    resin is the product whose times the sentences speak of; timing and dew those of the question.
    """

    facts: Facts
    resin: Record
    timing: Timing
    dew: Dew
    at: str | None = None
    judged: dict[tuple[str, tuple[str, ...]], Judged] = field(default_factory=dict, repr=False)

    def judge(
        self, limits: Iterable[Record], products: Sequence[Record]
    ) -> tuple[list[Reason], list[Confirmation]]:
        """Compare limits, each at most once with the same products, and say what was found."""
        reasons: list[Reason] = []
        confirm: list[Confirmation] = []
        paths = tuple(product.path for product in products)
        for limit in limits:
            key = (limit.path, paths if _takes_product(limit) else ())
            found = self.judged.get(key)
            if found is None:
                found = self.judged[key] = [
                    self.confirmation(finding, about)
                    if finding.state == "confirm"
                    else self.reason(finding, about)
                    for finding, about in self.compare(limit, products)
                ]
            for each in found:
                if isinstance(each, Reason):
                    reasons.append(each)
                else:
                    confirm.append(each)
        return reasons, confirm

    def compare(
        self, limit: Record, products: Sequence[Record]
    ) -> list[tuple[Finding, tuple[Record, ...]]]:
        """Compare a limit, once for each product where it takes its bounds from the product.

        Returns findings, each with the products it concerns; products that break it at the same
        bounds stand together. A limit that holds gives none, one that is not of a product no
        products.
        """
        if not _takes_product(limit):
            finding = compare(limit, self.facts)
            return [] if finding is None else [(finding, ())]
        found: dict[object, tuple[Finding, list[Record]]] = {}
        for product in products:
            products_of = {**self.facts.products, "product": product}
            facts = Facts(self.facts.numbers, self.facts.flags, products_of)
            finding = compare(limit, facts)
            if finding is not None:
                alike = tuple((b.sort, b.value.value) for b in finding.bounds)
                found.setdefault(alike, (finding, []))[1].append(product)
        return [(finding, tuple(records)) for finding, records in found.values()]

    def reason(self, finding: Finding, products: tuple[Record, ...]) -> Reason:
        """Give the reason: a broken limit, or one whose fact is missing."""
        limit, slots = finding.limit, self._slots(finding, products)
        asks = finding.state == "ask"
        said = "unknown" if finding.missing else "because"
        return Reason(
            limit.path,
            "ask" if asks else "hold",
            TradeText(limit, said, slots),
            TradeText(limit, _clears(finding), slots),
            limit.get("whom") if asks else None,
            all_texts(limit, "facts") if asks else (),
            _told_apart(limit, said, finding, products),
        )

    def confirmation(self, finding: Finding, products: tuple[Record, ...]) -> Confirmation:
        """Give what a person ticks on the roof, since the question does not tell."""
        limit = finding.limit
        return Confirmation(
            limit.path,
            TradeText(limit, "confirm", self._slots(finding, products)),
            TradeText(limit, "name"),
            by=limit.get("by"),
        )

    def _slots(self, finding: Finding, products: tuple[Record, ...]) -> dict[str, Slot]:
        """Give the slots of a limit's sentences; readings are rounded to the safe side."""
        bound = finding.broken or (finding.bounds[0] if finding.bounds else None)
        rounding: Literal["down", "up"]
        rounding = "down" if bound is None or bound.sort == "at_least" else "up"
        watertight = self.timing.find(f"watertight/{self.resin.id}")
        known = watertight is not None and watertight.low is not None
        return {
            "found": "" if finding.found is None else Rounded(finding.found, rounding),
            "limit": "" if bound is None else _safe(bound),
            "range": _range(finding.bounds),
            "product": tuple(TradeText(product, "name", small=True) for product in products)
            or self.resin,
            "resin": self.resin,
            "least": self.resin.value("application").traced("degF", "low"),
            "cured": self._cured(),
            "planned": self.timing.temperatures.material,
            "dew_kind": Sentence("frost-point" if self.dew.kind == "frost" else "dew-point"),
            "dew_point": "" if self.dew.point is None else self.dew.point,
            "watertight": Span(watertight.low, watertight.high, ("up", "up"))
            if known and watertight is not None
            else Sentence("no-time"),
        }

    def _cured(self) -> Slot:
        """Say until about when the film cures: by the clock where the time now is known."""
        cure = self.timing.find(f"cure/{self.resin.id}")
        if cure is None or cure.high is None:
            return Sentence("cured-unknown")
        if self.at is None:
            return Sentence("cured-after", {"time": Rounded(cure.high, "up")})
        ends = datetime.fromisoformat(self.at) + timedelta(minutes=cure.high.value)
        slots: dict[str, Slot] = {"at": half_hour(ends, up=True), "time": Rounded(cure.high, "up")}
        return Sentence("cured-at", slots)


def _clears(finding: Finding) -> str:
    """What clears it hangs on whether the fact is too much, too little or not known."""
    own = "clears"
    if finding.missing:
        own = "clears_unknown"
    elif finding.broken is not None and finding.broken.sort != "at_least":
        own = "clears_over"
    return own if finding.limit.has(own) else "clears"


@lru_cache(maxsize=1024)
def _takes_product(limit: Record) -> bool:
    """Whether a limit takes a bound from the product that is used."""
    takes = [limit.get(sort) for sort in _BOUNDS]
    return any(isinstance(t, Mapping) and t["take"].startswith("product.") for t in takes)


def all_texts(record: Record, path: str) -> tuple[TradeText, ...]:
    """Give each text of a list in a record."""
    return tuple(TradeText(record, f"{path}.{n}") for n in range(len(record.get(path, ()))))


def _told_apart(
    limit: Record, said: str, finding: Finding, products: tuple[Record, ...]
) -> tuple[str | float, ...]:
    """Tell a reason by its bounds, and by its products where its text names them."""
    bounds = tuple(bound.value.value for bound in finding.bounds)
    named = "{product}" in limit.text(said, "en")
    return (*bounds, *(product.path for product in products if named))


def _safe(bound: Bound) -> Rounded:
    return Rounded(bound.value, "up" if bound.sort == "at_least" else "down")


def _range(bounds: tuple[Bound, ...]) -> Span:
    low = next((b.value for b in bounds if b.sort == "at_least"), None)
    high = next((b.value for b in bounds if b.sort == "at_most"), None)
    return Span(low, high, ("up", "down"))
