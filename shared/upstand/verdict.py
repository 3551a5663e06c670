"""Go, hold or ask: every reason with what clears it, and what is left to confirm on the roof."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any, Literal

from upstand.layout import Layout
from upstand.limits import Bound, Facts, Finding, compare
from upstand.query.settle import Settled
from upstand.spec import Edition, Record
from upstand.speech import Speech
from upstand.takeoff import Takeoff
from upstand.timing import Timing
from upstand.traced import Origin, Traced
from upstand.weather.dew import Dew
from upstand.wording import Words, fill, lower_first

VerdictState = Literal["go", "hold", "ask"]
RANK: Mapping[str, int] = {"go": 0, "ask": 1, "hold": 2}


@dataclass(frozen=True, slots=True)
class Reason:
    """Why work does not simply go: what, what would clear it, whom to ask with which facts."""

    id: str
    state: Literal["hold", "ask"]
    text: str
    clears: str
    whom: str | None = None
    facts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Confirmation:
    """What a question can't tell and a person ticks on the roof."""

    id: str
    text: str
    name: str = ""
    acceptance: str = ""
    whom: str | None = None


@dataclass(frozen=True, slots=True)
class Verdict:
    """The state, all reasons, and what stands to be confirmed (which does not change the state)."""

    state: VerdictState
    reasons: tuple[Reason, ...] = ()
    confirm: tuple[Confirmation, ...] = ()
    whom: tuple[str, ...] = field(default=())
    facts: tuple[str, ...] = field(default=())


def decide(reasons: Iterable[Reason], confirm: Iterable[Confirmation] = ()) -> Verdict:
    """Put reasons together: hold beats ask beats go; whoever is to be asked is named once."""
    all_reasons = tuple(sorted(reasons, key=lambda r: -RANK[r.state]))
    state: VerdictState = "go"
    for reason in all_reasons:
        state = max(state, reason.state, key=lambda s: RANK[s])
    asks = [r for r in all_reasons if r.whom]
    return Verdict(
        state,
        all_reasons,
        tuple(confirm),
        tuple(dict.fromkeys(str(r.whom) for r in asks)),
        tuple(dict.fromkeys(fact for r in asks for fact in r.facts)),
    )


def find_facts(settled: Settled, layout: Layout, dew: Dew) -> Facts:
    """Gather what limits are compared with."""
    now = settled.query.now
    numbers = {
        "height": settled.height,
        "flange": settled.flange,
        "reveal": settled.reveal,
        "gap": None
        if layout.gap_in is None
        else Traced(layout.gap_in, "in", Origin("computed", "narrowest gap")),
        "air": now.air,
        "surface": now.surface,
        "material": now.material,
        "humidity": now.humidity,
        "rain_chance": now.rain_chance,
        "wind": now.wind,
        "margin": dew.margin,
    }
    return Facts(
        {name: value for name, value in numbers.items() if value is not None},
        {} if now.wet is None else {"wet": now.wet},
        {"resin": settled.resin},
    )


class Judge:
    """Words the findings of one answer."""

    def __init__(
        self,
        settled: Settled,
        layout: Layout,
        takeoff: Takeoff,
        timing: Timing,
        dew: Dew,
        edition: Edition,
    ) -> None:
        """Keep what the sentences speak of."""
        self.settled, self.layout, self.takeoff = settled, layout, takeoff
        self.timing, self.dew, self.edition = timing, dew, edition
        self.lang = settled.lang
        self.words = Words(edition, settled.lang)
        self.speech = Speech(settled.units)
        self.facts = find_facts(settled, layout, dew)
        self.products = [
            settled.resin,
            *(edition.record(p) for p in dict.fromkeys(takeoff.primer_of.values())),
        ]

    def judge(self) -> Verdict:
        """Find every reason and every confirmation."""
        reasons: list[Reason] = []
        confirm: list[Confirmation] = []
        for path in self.settled.detail.get("limits", ()):
            limit = self.edition.record(path)
            for finding, products in self._compared(limit):
                if finding.state == "confirm":
                    confirm.append(self._confirm_limit(finding, products))
                else:
                    reasons.append(self._reason(finding, products))
        reasons += self._stops()
        reasons += self._without_primer()
        reasons += self._film()
        reasons += [
            Reason(
                "layout",
                "ask",
                fault,
                self.words.say("clear-layout"),
                "roof-designer",
                (self.words.say("fact-sketch"), self.words.say("fact-photo")),
            )
            for fault in self.layout.unproved
        ]
        confirm += self._checks()
        return decide(reasons, confirm)

    def _compared(self, limit: Record) -> list[tuple[Finding, str]]:
        """Compare a limit, once for each product where it takes its bounds from the product.

        Products that break it at the same bounds are named together.
        """
        takes = [limit.get(sort) for sort in ("at_least", "at_most", "under")]
        if not any(isinstance(t, Mapping) and t["take"].startswith("product.") for t in takes):
            finding = compare(limit, self.facts)
            resin = self.settled.resin.text("name", self.lang)
            return [] if finding is None else [(finding, resin)]
        found: dict[object, tuple[Finding, list[str]]] = {}
        for product in self.products:
            facts = replace(self.facts, products={**self.facts.products, "product": product})
            finding = compare(limit, facts)
            if finding is not None:
                alike = tuple((b.sort, b.value.value) for b in finding.bounds)
                name = product.text("name", self.lang)
                found.setdefault(alike, (finding, []))[1].append(name)
        return [
            (finding, "; ".join(lower_first(n) for n in names)) for finding, names in found.values()
        ]

    def _slots(self, finding: Finding, products: str) -> dict[str, str]:
        """Fill the slots of a limit's sentences; readings are rounded to the safe side."""
        bound = finding.broken or (finding.bounds[0] if finding.bounds else None)
        at_least = bound is None or bound.sort == "at_least"
        found = (
            ""
            if finding.found is None
            else self.speech.text(finding.found, "down" if at_least else "up")
        )
        watertight = self.timing.find(f"watertight/{self.settled.resin.id}")
        return {
            "found": found,
            "limit": "" if bound is None else self.bound_text(bound),
            "range": self._range(finding.bounds),
            "product": products,
            "resin": self.settled.resin.text("name", self.lang),
            "planned": self.speech.text(self.timing.temperatures.material),
            "dew_kind": self.words.say("frost-point" if self.dew.kind == "frost" else "dew-point"),
            "dew_point": "" if self.dew.point is None else self.speech.text(self.dew.point),
            "watertight": self.words.say("no-time")
            if watertight is None or watertight.low is None
            else self.speech.span(watertight.low, watertight.high),
        }

    def bound_text(self, bound: Bound) -> str:
        """Show a bound rounded to its safe side."""
        return self.speech.text(bound.value, "up" if bound.sort == "at_least" else "down")

    def _range(self, bounds: tuple[Bound, ...]) -> str:
        low = next((b.value for b in bounds if b.sort == "at_least"), None)
        high = next((b.value for b in bounds if b.sort == "at_most"), None)
        return self.speech.span(low, high, ("up", "down"))

    def _reason(self, finding: Finding, products: str) -> Reason:
        limit, slots = finding.limit, self._slots(finding, products)
        text = limit.text("unknown" if finding.missing else "because", self.lang)
        return Reason(
            limit.path,
            "hold" if finding.state == "hold" else "ask",
            fill(text, slots),
            fill(limit.text("clears", self.lang), slots),
            limit.get("whom") if finding.state == "ask" else None,
            limit.texts("facts", self.lang) if finding.state == "ask" else (),
        )

    def _confirm_limit(self, finding: Finding, products: str) -> Confirmation:
        limit = finding.limit
        text = limit.text("confirm", self.lang)
        name = limit.text("name", self.lang)
        return Confirmation(limit.path, fill(text, self._slots(finding, products)), name)

    def _stops(self) -> Iterator[Reason]:
        """Stops that a detail, a substrate or a product carries with it."""
        carriers = [
            self.settled.detail,
            *(self.edition.record(f"substrates/{s}") for s in self._substrates()),
            self.settled.resin,
        ]
        for record in carriers:
            for stop in record.get("stops", ()):
                # what a product's own sheet answers is not asked again
                if record.get(stop.get("unless", "-")) in (None, "ask", "none"):
                    yield self._stop(record, stop)

    def _stop(self, record: Record, stop: Mapping[str, Any]) -> Reason:
        name = record.text("name", self.lang)
        return Reason(
            f"{record.path}: {stop['id']}",
            stop["state"],
            f"{name}: {lower_first(stop['because'][self.lang])}",
            stop["clears"][self.lang],
            stop["whom"],
            tuple(fact[self.lang] for fact in stop["facts"]),
        )

    def _substrates(self) -> list[str]:
        return list(dict.fromkeys(surface.substrate for surface in self.layout.surfaces))

    def _without_primer(self) -> Iterator[Reason]:
        """Surfaces for which no primer is on file are asked about, never left out."""
        for substrate in self._substrates():
            record = self.edition.record(f"substrates/{substrate}")
            if record.get("primer") == "ask" and not record.get("stops"):
                name = record.text("name", self.lang)
                yield Reason(
                    f"{record.path}: primer",
                    "ask",
                    self.words.say(
                        "stop-no-primer",
                        surface=name,
                        why=record.text("primer_why", self.lang),
                    ),
                    self.words.say("clear-no-primer", surface=name),
                    "product-maker",
                    (self.words.say("fact-which-substrate"), self.words.say("fact-which-resin")),
                )

    def _film(self) -> Iterator[Reason]:
        """The system's film is inside its band, or the maker is asked."""
        film, resin = self.takeoff.film, self.settled.resin
        if film is None or not resin.has("film"):
            return
        band = resin.value("film")
        low, high = band.traced_low("mil"), band.traced_high("mil")
        if not low.value <= film.value <= high.value:
            yield Reason(
                f"{resin.path}: film",
                "ask",
                self.words.say(
                    "film-outside",
                    found=self.speech.text(film),
                    range=self.speech.span(low, high),
                ),
                self.words.say("clear-film"),
                "product-maker",
                (self.words.say("fact-layers"), self.words.say("fact-which-resin")),
            )

    def _checks(self) -> Iterator[Confirmation]:
        """What the records ask to have confirmed on the roof, each once."""
        carriers = [
            self.settled.detail,
            *(self.edition.record(f"substrates/{s}") for s in self._substrates()),
            self.settled.resin,
        ]
        paths = dict.fromkeys(path for record in carriers for path in record.get("confirm", ()))
        for path in paths:
            check = self.edition.record(path)
            yield Confirmation(
                path,
                check.text("method", self.lang),
                check.text("name", self.lang),
                check.text("acceptance", self.lang),
                check.get("whom"),
            )
