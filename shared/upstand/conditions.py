"""The door for the weather: dew point, margin, and which work it allows.

    query -> dew point, times -> the edition's limits -> verdict, for the resin and by activity

Every bound stands in the edition's limits, with the stages of the work that it governs.
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
    path = str(edition.record("parameters/default-resin").get("choice"))
    resin = edition.record(path if query.resin is None else f"resins/{query.resin}")
    dew = find_dew(query.now, edition)
    judge = LimitJudge(
        facts=Facts(weather_numbers(query.now, dew), weather_flags(query.now), {"resin": resin}),
        resin=resin,
        timing=_timing(query.now, resin, edition),
        dew=dew,
    )
    limits = [r for r in edition.kind("limits").values() if r.has("governs")]
    verdict = decide(*judge.judge(limits, [resin]))
    activities: dict[str, VerdictState] = {}
    reasons = {reason.key: reason for reason in verdict.reasons}
    own = frozenset(reasons)
    held_up: dict[Key, list[str]] = {key: [] for key in reasons}
    for activity in sorted(edition.kind("activities").values(), key=lambda a: int(a.get("order"))):
        concerned = [r for r in limits if activity.get("stage") in r.get("governs")]
        if not concerned:
            continue
        judged = decide(*judge.judge(concerned, _products(activity, resin, edition)))
        activities[activity.id] = judged.state
        for reason in judged.reasons:
            reasons.setdefault(reason.key, reason)
            held_up.setdefault(reason.key, []).append(activity.id)
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
    step = edition.record("parameters/halving-step").value("value").traced("delta_degF")
    return Timing(tuple(times_of(resin, RESIN_TIMES, temperatures, step)), temperatures)


def _products(activity: Record, resin: Record, edition: Edition) -> list[Record]:
    """Return the products that an activity lays: their own ranges bind it."""
    if activity.get("stage") == "lay":
        return [resin]
    return [r for r in edition.kind("primers").values() if r.get("activity") == activity.path]
