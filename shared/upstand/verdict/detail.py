"""Judges one detail: limits, stops, surfaces without a primer, the film, and what to confirm."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from functools import lru_cache, partial

from upstand.edition import Edition, Record
from upstand.edition.applies import limits_of
from upstand.edition.lacking import LACKING
from upstand.layout import Layout
from upstand.quantity.traced import Origin, Traced
from upstand.query.defaults import Settled
from upstand.query.model import Now
from upstand.stages.dew_point import Dew, weather_flags, weather_numbers
from upstand.stages.materials import Takeoff
from upstand.stages.since import Standing
from upstand.stages.times import Timing
from upstand.verdict.geometry import geometry_reasons
from upstand.verdict.lacking import ask_for
from upstand.verdict.limits import Facts
from upstand.verdict.model import Confirmation, Reason, Verdict, decide
from upstand.verdict.reasons import LimitJudge, all_texts
from upstand.verdict.since import standing_reasons
from upstand.words.model import Sentence, Slot, Span, TradeText

#: What is measured on the roof on the day; a plan says nothing about it.
WEATHER = (
    "air", "surface", "surface_warmest", "material", "humidity", "margin", "rain_chance", "wind",
    "wet",
)  # fmt: skip


def find_facts(settled: Settled, layout: Layout, dew: Dew) -> Facts:
    """Gather what limits are compared with."""
    numbers = weather_numbers(settled.query.now, dew)
    numbers |= {**settled.sizes, **layout.sizes, **layout.facts}
    if layout.gap_in is not None:
        numbers["clearance"] = Traced(layout.gap_in, "in", Origin("computed", "narrowest gap"))
    return Facts(numbers, weather_flags(settled.query.now), {"resin": settled.resin})


class Judge:
    """Gathers the findings of one answer."""

    def __init__(
        self,
        settled: Settled,
        layout: Layout,
        takeoff: Takeoff,
        timing: Timing,
        dew: Dew,
        standing: tuple[Standing, ...],
        checks: tuple[Record, ...],
        edition: Edition,
    ) -> None:
        """Keep what the findings speak of."""
        self.settled, self.layout, self.takeoff = settled, layout, takeoff
        self.timing, self.standing, self.edition = timing, standing, edition
        self.checks = checks
        #: Whether nothing was measured yet: then nothing is said about starting.
        self.planned = settled.query.now == Now()
        facts = find_facts(settled, layout, dew)
        self.limits = LimitJudge(facts, settled.resin, timing, dew, settled.query.now.at)
        self.primers = [edition.record(p) for p in dict.fromkeys(takeoff.primer_of.values())]
        self.products = [
            settled.resin,
            *(primer for primer in self.primers if self._in_system(primer)),
        ]

    def judge(self, lacks: Iterable[str] = (), *, checks: bool = True) -> Verdict:
        """Find every reason and every confirmation; `lacks` is what the edition does not hold.

        Without `checks` what the records ask to have confirmed is left out.
        """
        found: list[Reason | Confirmation] = []
        missing = dict.fromkeys(lacks)
        finders: list[Callable[[], Iterable[Reason | Confirmation]]] = [
            *(partial(self._limit, r) for r in limits_of(self.edition, self.settled.detail)),
            lambda: self._stops(self._carriers()),
            self._without_primer,
            self._film,
            self._not_built,
            self._waits,
            self._resin_times,
            self._foreign,
            self._plan,
            lambda: standing_reasons(self.standing, self.edition),
            lambda: geometry_reasons(self.settled, self.layout, self.edition),
            lambda: self._checks(self._carriers()) if checks else (),
        ]
        for find in finders:
            try:
                found += find()
            except LACKING as lack:
                missing[lack.wanted] = None
        found += (ask_for(path, self.edition) for path in missing)
        return decide(
            [one for one in found if isinstance(one, Reason)],
            [one for one in found if isinstance(one, Confirmation)],
        )

    def judge_stop(self) -> Verdict:
        """Judge surfaces that nobody may touch: their stops, and what bears on standing there."""
        surfaces = self._surfaces()
        return decide(self._stops(surfaces), self._checks(surfaces))

    def _limit(self, limit: Record) -> Iterable[Reason | Confirmation]:
        if any(self.settled.choices.get(n) == v for n, v in limit.get("unless", {}).items()):
            return ()
        weather = self.planned and limit.get("of") in WEATHER
        if weather and limit.get("missing") != "confirm":
            return ()
        reasons, confirm = self.limits.judge([limit], self.products)
        if weather:
            return confirm
        return (*reasons, *confirm)

    def _plan(self) -> Iterator[Reason]:
        """Say that it is a plan, and what to measure on the day."""
        if self.planned:
            measure = Sentence("plan-measure")
            yield Reason("now", "plan", Sentence("plan-no-weather"), measure)

    def _carriers(self) -> list[Record]:
        return [self.settled.detail, *self._surfaces(), self.settled.resin]

    def _surfaces(self) -> list[Record]:
        return [self.edition.record(f"substrates/{s}") for s in self._substrates()]

    def _stops(self, carriers: Iterable[Record]) -> Iterator[Reason]:
        """Stops that a detail, a substrate or a product carries with it."""
        for record in carriers:
            for number, stop in enumerate(record.get("stops", ())):
                # what a product's own sheet answers is not asked again
                told = stop.get("confirmed") in self.settled.query.confirmed
                if not told and record.get(stop.get("unless", "-")) in (None, "ask", "none"):
                    yield self._stop(record, number)

    def _stop(self, record: Record, number: int) -> Reason:
        stop, path = record.get("stops")[number], f"stops.{number}"
        because = TradeText(record, f"{path}.because", small=True)
        return Reason(
            f"{record.path}: {stop['id']}",
            stop["state"],
            Sentence("stop-because", {"name": record, "because": because}),
            TradeText(record, f"{path}.clears"),
            stop["whom"],
            all_texts(record, f"{path}.facts"),
        )

    def _substrates(self) -> list[str]:
        known = (surface.substrate for surface in self.layout.surfaces)
        return list(dict.fromkeys(substrate for substrate in known if substrate is not None))

    def _without_primer(self) -> Iterator[Reason]:
        """Surfaces for which no primer is on file are asked about, never left out."""
        for substrate in self._substrates():
            record = self.edition.record(f"substrates/{substrate}")
            if record.get("primer") == "ask" and not record.get("stops"):
                yield Reason(
                    f"{record.path}: primer",
                    "ask",
                    Sentence(
                        "stop-no-primer",
                        {"surface": record, "why": TradeText(record, "primer_why")},
                    ),
                    Sentence("clear-no-primer", {"surface": record}),
                    "product-maker",
                    (Sentence("fact-which-substrate"), Sentence("fact-which-resin")),
                )

    def _under(self, primer: Record) -> str | None:
        """Return how it is known that a primer goes under this resin; None: it is not.

        Where nothing is said, or without a grade as in earlier editions, it is practice.
        """
        resin = self.settled.resin.path
        for pair in primer.get("under", (resin,)):
            if isinstance(pair, str):
                if pair == resin:
                    return "practice"
            elif pair["resin"] == resin:
                return str(pair["basis"]["grade"])
        return None

    def _in_system(self, primer: Record) -> bool:
        return self._under(primer) is not None

    def _foreign(self) -> Iterator[Reason | Confirmation]:
        """A primer of another family is asked about; one that is only taken to fit is ticked."""
        for primer in self.primers:
            how = self._under(primer)
            slots: dict[str, Slot] = {"primer": primer, "resin": self.settled.resin}
            if how == "assumed":
                yield Confirmation(
                    f"{primer.path}: system",
                    Sentence("primer-taken-to-fit", slots),
                    TradeText(primer, "name"),
                    Sentence("primer-fits-when", slots),
                    "product-maker",
                    by="days-ahead",
                )
            elif how is None:
                yield Reason(
                    f"{primer.path}: system",
                    "ask",
                    Sentence("primer-of-another", slots),
                    Sentence("clear-primer-system", slots),
                    "product-maker",
                    (Sentence("fact-which-resin"), Sentence("fact-which-substrate")),
                    (primer.path,),
                )

    def _waits(self) -> Iterator[Reason]:
        """A primer whose wait has neither a number nor a sign on file is asked about."""
        for primer in self.timing.waits_unknown(self.primers):
            yield Reason(
                f"{primer.path}: wait",
                "ask",
                Sentence("wait-unknown", {"primer": primer}),
                Sentence("clear-wait", {"primer": primer}),
                "product-maker",
                (Sentence("fact-which-primer"), Sentence("since-fact-weather")),
                (primer.path,),
            )

    def _resin_times(self) -> Iterator[Reason]:
        """What the steps say of the resin's times is asked about where none is on file.

        Before anything was measured nothing is said; out of its range a limit says so.
        """
        resin = self.settled.resin
        if self.planned or self.settled.query.now.surface is None:
            return
        for name in ("skin" if resin.get("parts") == 1 else "pot-life", "watertight"):
            time = self.timing.find(f"{name}/{resin.id}")
            if time is not None and (time.low is not None or time.sign or time.why == "range"):
                continue
            yield Reason(
                f"{resin.path}: {name}",
                "ask",
                Sentence(
                    "resin-time-unknown", {"product": resin, "time": Sentence(f"time-{name}")}
                ),
                Sentence("clear-resin-time", {"product": resin}),
                "product-maker",
                (Sentence("fact-which-resin"), Sentence("since-fact-weather")),
                (name,),
            )

    def _not_built(self) -> Iterator[Reason]:
        """Without quantities, or without knowing what it is built on, a detail is asked about."""
        if self.layout.built or self.layout.why != "geometry-not-built":
            return
        facts = ("fact-sizes", "fact-photo")
        if self.settled.parts and not self.settled.query.surfaces:
            yield Reason(
                f"{self.settled.detail.path}: surfaces",
                "ask",
                Sentence("surfaces-not-given"),
                Sentence("clear-surfaces"),
                "crew-lead",
                (Sentence("fact-which-surfaces"), Sentence("fact-photo")),
            )
        yield Reason(
            f"{self.settled.detail.path}: quantities",
            "ask",
            Sentence("geometry-not-built"),
            Sentence("clear-not-built"),
            "product-maker",
            tuple(Sentence(fact) for fact in facts),
        )

    def _film(self) -> Iterator[Reason]:
        """The system's film is inside its band, or the maker is asked."""
        film, resin = self.takeoff.film, self.settled.resin
        if film is None or not resin.has("film"):
            return
        band = resin.value("film")
        low, high = band.traced("mil", "low"), band.traced("mil", "high")
        if not low.value <= film.value <= high.value:
            yield Reason(
                f"{resin.path}: film",
                "ask",
                Sentence("film-outside", {"found": film, "range": Span(low, high)}),
                Sentence("clear-film"),
                "product-maker",
                (Sentence("fact-layers"), Sentence("fact-which-resin")),
            )

    def _checks(self, carriers: Iterable[Record]) -> tuple[Confirmation, ...]:
        """What the records ask to have confirmed on the roof, each once."""
        return _to_tick(self.edition, tuple(carriers), self.checks)


@lru_cache(maxsize=128)
def _to_tick(
    edition: Edition, carriers: tuple[Record, ...], checks: tuple[Record, ...]
) -> tuple[Confirmation, ...]:
    paths = [path for record in carriers for path in record.get("confirm", ())]
    paths += [check.path for check in checks if check.get("stage") == "confirm"]
    return tuple(
        Confirmation(
            check.path,
            TradeText(check, "method"),
            TradeText(check, "name"),
            TradeText(check, "acceptance"),
            check.get("whom"),
            check,
            check.get("by"),
        )
        for check in map(edition.record, dict.fromkeys(paths))
    )
