"""The door for the weather: dew point, margin, and which work it allows.

    query -> dew point, times -> the edition's limits -> verdict, for the resin and by activity

Every bound stands in the edition's limits. What is here is which work a limit on the weather
concerns: it reads the fact a limit is `of`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from upstand import __version__
from upstand.edition import Edition, Record
from upstand.query.conditions import ConditionsQuery
from upstand.query.model import Now
from upstand.stages.dew_point import Dew, find_dew, weather_flags, weather_numbers
from upstand.stages.times import RESIN_TIMES, Timing, find_temperatures, times_of
from upstand.verdict.limits import Facts
from upstand.verdict.model import Key, Reason, Verdict, VerdictState, decide
from upstand.verdict.reasons import LimitJudge

__all__ = ["Conditions", "conditions"]

PREPARING = ("degrease", "grind", "abrade")
CLEANING = ("clean", "reclean")
PRIMING = ("prime-metal", "prime-masonry", "prime-sheet")
LAYING = ("mix", "base-coat", "fleece", "top-coat", "second-coat")
WET_WORK = (*PRIMING, *LAYING)

#: Every activity that weather governs, in the order of the work.
ORDER = (*PREPARING, "clean", "mask", "dry-fit", *PRIMING, "reclean", *LAYING, "paint")

#: The fact that a limit is of, and the activities it concerns.
GOVERNED: Mapping[str, tuple[str, ...]] = {
    "air": WET_WORK,
    "surface": WET_WORK,
    "material": WET_WORK,
    "humidity": LAYING,
    "margin": (*WET_WORK, "paint"),
    "wet": (*CLEANING, "mask", *WET_WORK, "paint"),
    "rain_chance": (*WET_WORK, "paint"),
    # wind carries solvent and dust, and lifts fleece
    "wind": (*PREPARING, *CLEANING, "dry-fit", *WET_WORK),
}


@dataclass(frozen=True, slots=True)
class Conditions:
    """What the weather now allows.

    verdict is that of laying the resin; other_reasons hold up single activities and not the resin.
    held_up : the activities that a reason holds up, by its key.
    """

    edition: Edition
    software: str
    query: ConditionsQuery
    resin: Record
    dew: Dew
    verdict: Verdict
    activities: Mapping[str, VerdictState]
    held_up: Mapping[Key, tuple[str, ...]]
    other_reasons: tuple[Reason, ...]


def conditions(query: ConditionsQuery, edition: Edition) -> Conditions:
    """Judge the weather now by the limits of one edition.

    A reading that is missing is unknown: a limit that needs it asks, or is confirmed on the roof.
    """
    path = str(edition.record("limits/default-resin").get("choice"))
    resin = edition.record(path if query.resin is None else f"resins/{query.resin}")
    dew = find_dew(query.now)
    judge = LimitJudge(
        facts=Facts(weather_numbers(query.now, dew), weather_flags(query.now), {"resin": resin}),
        resin=resin,
        timing=_timing(query.now, resin, edition),
        dew=dew,
    )
    limits = [r for r in edition.kind("limits").values() if r.get("of") in GOVERNED]
    verdict = decide(*judge.judge(limits, [resin]))
    activities: dict[str, VerdictState] = {}
    reasons = {reason.key: reason for reason in verdict.reasons}
    own = frozenset(reasons)
    held_up: dict[Key, list[str]] = {key: [] for key in reasons}
    for activity in (a for a in ORDER if edition.has(f"activities/{a}")):
        concerned = [r for r in limits if activity in GOVERNED[str(r.get("of"))]]
        judged = decide(*judge.judge(concerned, _products(activity, resin, edition)))
        activities[activity] = judged.state
        for reason in judged.reasons:
            reasons.setdefault(reason.key, reason)
            held_up.setdefault(reason.key, []).append(activity)
    return Conditions(
        edition=edition,
        software=__version__,
        query=query,
        resin=resin,
        dew=dew,
        verdict=verdict,
        activities=activities,
        held_up={key: tuple(names) for key, names in held_up.items()},
        other_reasons=tuple(reason for key, reason in reasons.items() if key not in own),
    )


def _timing(now: Now, resin: Record, edition: Edition) -> Timing:
    """Work out the resin's times now: until it is watertight, nothing may change for the worse."""
    temperatures = find_temperatures(now, edition)
    step = edition.record("limits/halving-step").value("value").traced("delta_degF")
    return Timing(tuple(times_of(resin, RESIN_TIMES, temperatures, step)), temperatures)


def _products(activity: str, resin: Record, edition: Edition) -> list[Record]:
    """Return the products that an activity lays: their own ranges bind it."""
    if activity in LAYING:
        return [resin]
    path = f"activities/{activity}"
    return [r for r in edition.kind("primers").values() if r.get("activity") == path]
