"""One hour of weather judged: dew point, what each activity may do, why not, what is missing."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from upstand.edition import Edition, Record
from upstand.formulas import weather
from upstand.quantity.traced import Traced, reckon
from upstand.query.model import Now
from upstand.query.readings import Hour
from upstand.stages.dew_point import Dew, find_dew, weather_numbers
from upstand.stages.times import RESIN_TIMES, Timing, find_temperatures, times_of
from upstand.verdict.hours import OF_SURFACE, HourJudge, State
from upstand.verdict.limits import Facts
from upstand.verdict.model import Key, Reason
from upstand.verdict.reasons import LimitJudge

__all__ = ["LAYING", "PRIMING", "HourFound", "HourReader"]

#: What stands for laying the resin, and for the two-part primer that goes before it.
LAYING, PRIMING = "base-coat", "prime-metal"
#: Stages of the work that rain of any likelihood does not stop.
IN_ANY_RAIN = ("open", "watch", "close")


@dataclass(frozen=True, slots=True)
class HourFound:
    """One hour and what it allows.

    activities : by id, for those that weather governs. reasons : each with what it holds up.
    rained : the chance of rain where it is so high that nobody works. for_surface : activities that
    are unknown for the surface alone. surface_needed : the coldest and warmest it may be for them.
    lasts : those of LAYING and PRIMING whose coat comes to no harm in it.
    """

    hour: Hour
    now: Now
    dew: Dew
    activities: Mapping[str, State]
    reasons: tuple[tuple[Reason, tuple[str, ...]], ...]
    rained: Traced | None
    for_surface: frozenset[str]
    surface_needed: tuple[Traced, Traced] | None
    lasts: frozenset[str]

    @property
    def verdict(self) -> State:
        """Whether the hour lets the resin be laid."""
        return self.activities[LAYING]

    @property
    def ground(self) -> float | None:
        """What waits go by, °F: the surface, else its air."""
        ground = self.now.surface if self.now.surface is not None else self.now.air
        return None if ground is None else ground.value

    def workable(self, activity: str) -> bool:
        """Whether an activity may be done, but for a surface that nobody measured."""
        return self.activities[activity] == "go" or activity in self.for_surface


class HourReader:
    """Judges the hours of one question; what hours share is worked out once."""

    def __init__(
        self, resin: Record, edition: Edition, material: Traced | None, above: Traced | None
    ) -> None:
        """Keep the resin, its material's temperature, and how far a surface is over the air."""
        self.resin, self.edition, self.material, self.above = resin, edition, material, above
        self.judge = HourJudge(resin, edition)
        self.step = edition.record("parameters/halving-step").value("value").traced("delta_degF")
        self.said: dict[object, Reason] = {}
        self.times: dict[float | None, Timing] = {}
        stops = "parameters/rain-stops-work"
        self.stops = (
            edition.record(stops).value("value").traced("percent") if edition.has(stops) else None
        )
        activities = edition.kind("activities").values()
        self.stopped = frozenset(a.id for a in activities if a.get("stage") not in IN_ANY_RAIN)

    def read(self, hour: Hour) -> HourFound:
        """Judge an hour."""
        now = self._now(hour)
        dew = find_dew(now, self.edition, hour.dew_point)
        traced = weather_numbers(now, dew)
        numbers = {name: amount.value for name, amount in traced.items()}
        of = self.judge.judge(numbers)
        held: dict[Key, tuple[Reason, list[str]]] = {}
        for activity, each in of.items():
            for limit, products in each.broken:
                reason = self._reason(limit, products, now, dew, traced)
                held.setdefault(reason.key, (reason, []))[1].append(activity)
        states: dict[str, State] = {a: each.state for a, each in of.items()}
        needed = None if dew.point is None or now.surface is not None else self._needed(dew)
        alone = frozenset(
            a
            for a, each in of.items()
            if each.state == "unknown" and each.unknown <= OF_SURFACE and now.surface is None
            if dew.point is not None
        )
        if needed is None:  # no surface would do
            states |= dict.fromkeys(alone, "hold")
            alone = frozenset()
        rained = _reached(now.rain_chance, self.stops)
        if rained is not None:
            states |= dict.fromkeys(self.stopped, "hold")
            alone = frozenset()
        return HourFound(
            hour,
            now,
            dew,
            states,
            tuple((reason, tuple(names)) for reason, names in held.values()),
            rained,
            alone,
            needed if LAYING in alone else None,
            frozenset(a for a in (LAYING, PRIMING) if self.judge.lasting(a, numbers)),
        )

    def _now(self, hour: Hour) -> Now:
        """Return an hour's readings as those of one moment; the material is planned warm."""
        surface = hour.surface
        if surface is None and self.above is not None and hour.air is not None:
            surface = reckon(weather.surface_over_air, air=hour.air, above=self.above)
        material = self.material
        if material is None:
            warm = find_temperatures(Now(air=hour.air, surface=surface), self.edition)
            material = warm.material
        return Now(
            air=hour.air,
            surface=surface,
            humidity=hour.humidity,
            material=material,
            wind=hour.wind,
            rain_chance=hour.rain_chance,
        )

    def _needed(self, dew: Dew) -> tuple[Traced, Traced] | None:
        """Return how cold and how warm a surface may be; None where no surface would do."""
        applied = self.resin.value("application")
        low, high = applied.traced("degF", "low"), applied.traced("degF", "high")
        coldest = low if dew.least is None or dew.least.value <= low.value else dew.least
        return None if coldest.value > high.value else (coldest, high)

    def _reason(
        self,
        limit: Record,
        products: tuple[Record, ...],
        now: Now,
        dew: Dew,
        numbers: Mapping[str, Traced],
    ) -> Reason:
        """Give the reason of a broken limit; alike hours share one."""
        point = None if dew.point is None else dew.point.value
        ground = None if now.surface is None else now.surface.value
        found = numbers[str(limit.get("of"))].value
        key = (limit.path, tuple(p.path for p in products), found, point, ground)
        if key not in self.said:
            facts = Facts(numbers, products={"resin": self.resin})
            judge = LimitJudge(facts, self.resin, self._timing(now, ground), dew)
            self.said[key] = judge.judge([limit], products)[0][0]
        return self.said[key]

    def _timing(self, now: Now, ground: float | None) -> Timing:
        if ground not in self.times:
            temperatures = find_temperatures(now, self.edition)
            times = times_of(self.resin, RESIN_TIMES, temperatures, self.step)
            self.times[ground] = Timing(tuple(times), temperatures)
        return self.times[ground]


def _reached(found: Traced | None, stops: Traced | None) -> Traced | None:
    return found if found is not None and stops is not None and found.value >= stops.value else None
