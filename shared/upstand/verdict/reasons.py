"""Wording what a comparison with a limit found: the reason, what clears it, what to confirm."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from upstand.edition import Record
from upstand.quantity.shown import Speech
from upstand.stages.dew_point import Dew
from upstand.stages.times import Timing
from upstand.verdict.limits import Bound, Facts, Finding, compare
from upstand.verdict.model import Confirmation, Reason
from upstand.words.fill import Words, fill, lower_first

__all__ = ["LimitJudge"]

_BOUNDS = ("at_least", "at_most", "under")


@dataclass(frozen=True, slots=True)
class LimitJudge:
    """Compares limits with facts and words what it finds, in one language and system of units.

    resin is the product whose times the sentences speak of; timing and dew those of the question.
    """

    words: Words
    speech: Speech
    facts: Facts
    resin: Record
    timing: Timing
    dew: Dew

    def compare(self, limit: Record, products: Sequence[Record]) -> list[tuple[Finding, str]]:
        """Compare a limit, once for each product where it takes its bounds from the product.

        Returns findings, each with the names of the products it concerns; products that break it
        at the same bounds are named together. A limit that holds gives none.
        """
        takes = [limit.get(sort) for sort in _BOUNDS]
        if not any(isinstance(t, Mapping) and t["take"].startswith("product.") for t in takes):
            finding = compare(limit, self.facts)
            return [] if finding is None else [(finding, self._name(self.resin))]
        found: dict[object, tuple[Finding, list[str]]] = {}
        for product in products:
            facts = replace(self.facts, products={**self.facts.products, "product": product})
            finding = compare(limit, facts)
            if finding is not None:
                alike = tuple((b.sort, b.value.value) for b in finding.bounds)
                found.setdefault(alike, (finding, []))[1].append(self._name(product))
        return [
            (finding, "; ".join(lower_first(n) for n in names)) for finding, names in found.values()
        ]

    def reason(self, finding: Finding, products: str) -> Reason:
        """Word a broken limit, or one whose fact is missing."""
        limit, slots, lang = finding.limit, self._slots(finding, products), self.words.lang
        asks = finding.state == "ask"
        return Reason(
            limit.path,
            "ask" if asks else "hold",
            fill(limit.text("unknown" if finding.missing else "because", lang), slots),
            fill(limit.text("clears", lang), slots),
            limit.get("whom") if asks else None,
            limit.texts("facts", lang) if asks else (),
        )

    def confirmation(self, finding: Finding, products: str) -> Confirmation:
        """Word what a person ticks on the roof, since the question does not tell."""
        limit, lang = finding.limit, self.words.lang
        return Confirmation(
            limit.path,
            fill(limit.text("confirm", lang), self._slots(finding, products)),
            limit.text("name", lang),
        )

    def _name(self, record: Record) -> str:
        return record.text("name", self.words.lang)

    def _slots(self, finding: Finding, products: str) -> dict[str, str]:
        """Fill the slots of a limit's sentences; readings are rounded to the safe side."""
        bound = finding.broken or (finding.bounds[0] if finding.bounds else None)
        rounding = "down" if bound is None or bound.sort == "at_least" else "up"
        watertight = self.timing.find(f"watertight/{self.resin.id}")
        known = watertight is not None and watertight.low is not None
        return {
            "found": "" if finding.found is None else self.speech.text(finding.found, rounding),
            "limit": "" if bound is None else self._bound(bound),
            "range": self._range(finding.bounds),
            "product": products,
            "resin": self._name(self.resin),
            "planned": self.speech.text(self.timing.temperatures.material),
            "dew_kind": self.words.say("frost-point" if self.dew.kind == "frost" else "dew-point"),
            "dew_point": "" if self.dew.point is None else self.speech.text(self.dew.point),
            "watertight": self.speech.span(watertight.low, watertight.high, ("up", "up"))
            if known and watertight is not None
            else self.words.say("no-time"),
        }

    def _bound(self, bound: Bound) -> str:
        return self.speech.text(bound.value, "up" if bound.sort == "at_least" else "down")

    def _range(self, bounds: tuple[Bound, ...]) -> str:
        low = next((b.value for b in bounds if b.sort == "at_least"), None)
        high = next((b.value for b in bounds if b.sort == "at_most"), None)
        return self.speech.span(low, high, ("up", "down"))
