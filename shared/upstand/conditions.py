"""The door for the weather: dew point, margin, and which work it allows.

    query -> dew point, times -> the edition's limits -> verdict, for the resin and by activity

Every bound stands in the edition's limits. What is here is which work a limit on the weather
concerns: it reads the fact a limit is `of`.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from upstand import __version__
from upstand.document.notices import list_notices
from upstand.edition import Edition, Record
from upstand.quantity.shown import Speech
from upstand.quantity.traced import explain
from upstand.query.conditions import ConditionsQuery
from upstand.query.model import Now
from upstand.stages.dew_point import Dew, find_dew, weather_flags, weather_numbers
from upstand.stages.times import RESIN_TIMES, Timing, find_temperatures, times_of
from upstand.verdict.limits import Facts
from upstand.verdict.model import Confirmation, Reason, Verdict, VerdictState, decide
from upstand.verdict.reasons import LimitJudge
from upstand.words.fill import Words

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
    """

    edition: Edition
    software: str
    query: ConditionsQuery
    resin: Record
    dew: Dew
    verdict: Verdict
    activities: Mapping[str, VerdictState]
    held_up: Mapping[Reason, tuple[str, ...]]
    other_reasons: tuple[Reason, ...]

    def document(self, *, no_break: bool = False) -> dict[str, Any]:
        """Return the answer as plain JSON values, in the units and language asked for.

        `no_break` keeps no-break spaces between numbers and units, for pages and screens.
        """
        from upstand.document.requirements import plain_spaces

        written = _write(self)
        return written if no_break else plain_spaces(written)


def conditions(query: ConditionsQuery, edition: Edition) -> Conditions:
    """Judge the weather now by the limits of one edition.

    A reading that is missing is unknown: a limit that needs it asks, or is confirmed on the roof.
    """
    path = str(edition.record("limits/default-resin").get("choice"))
    resin = edition.record(path if query.resin is None else f"resins/{query.resin}")
    dew = find_dew(query.now)
    judge = LimitJudge(
        words=Words(edition, query.lang),
        speech=Speech(query.units or "us"),
        facts=Facts(weather_numbers(query.now, dew), weather_flags(query.now), {"resin": resin}),
        resin=resin,
        timing=_timing(query.now, resin, edition),
        dew=dew,
    )
    limits = [r for r in edition.kind("limits").values() if r.get("of") in GOVERNED]
    verdict = decide(*_judge(judge, limits, [resin]))
    activities: dict[str, VerdictState] = {}
    held_up: dict[Reason, list[str]] = {reason: [] for reason in verdict.reasons}
    for activity in (a for a in ORDER if edition.has(f"activities/{a}")):
        concerned = [r for r in limits if activity in GOVERNED[str(r.get("of"))]]
        judged = decide(*_judge(judge, concerned, _products(activity, resin, edition)))
        activities[activity] = judged.state
        for reason in judged.reasons:
            held_up.setdefault(reason, []).append(activity)
    return Conditions(
        edition=edition,
        software=__version__,
        query=query,
        resin=resin,
        dew=dew,
        verdict=verdict,
        activities=activities,
        held_up={reason: tuple(names) for reason, names in held_up.items()},
        other_reasons=tuple(reason for reason in held_up if reason not in verdict.reasons),
    )


def _timing(now: Now, resin: Record, edition: Edition) -> Timing:
    """Work out the resin's times now: until it is watertight, nothing may change for the worse."""
    temperatures = find_temperatures(now, edition)
    step = edition.record("limits/halving-step").value("value").traced("delta_degF")
    return Timing(tuple(times_of(resin, RESIN_TIMES, temperatures, step)), temperatures)


def _judge(
    judge: LimitJudge, limits: Iterable[Record], products: Sequence[Record]
) -> tuple[list[Reason], list[Confirmation]]:
    reasons: list[Reason] = []
    confirm: list[Confirmation] = []
    for limit in limits:
        for finding, names in judge.compare(limit, products):
            if finding.state == "confirm":
                confirm.append(judge.confirmation(finding, names))
            else:
                reasons.append(judge.reason(finding, names))
    return reasons, confirm


def _products(activity: str, resin: Record, edition: Edition) -> list[Record]:
    """Return the products that an activity lays: their own ranges bind it."""
    if activity in LAYING:
        return [resin]
    path = f"activities/{activity}"
    return [r for r in edition.kind("primers").values() if r.get("activity") == path]


def _write(found: Conditions) -> dict[str, Any]:
    query, verdict, lang = found.query, found.verdict, found.query.lang
    words, speech = Words(found.edition, lang), Speech(query.units or "us")
    return {
        "edition": found.edition.id,
        "overlay": found.edition.overlay,
        "software": found.software,
        "notices": list_notices(found.edition, words),
        "resin": {"id": found.resin.id, "name": found.resin.text("name", lang)},
        "units": speech.system,
        "lang": lang,
        "dew_point": speech.json(found.dew.point),
        "kind": found.dew.kind,
        "margin": speech.json(found.dew.margin, "down"),
        "verdict": verdict.state,
        "reasons": [_reason(found, reason, words) for reason in verdict.reasons],
        "other_reasons": [_reason(found, reason, words) for reason in found.other_reasons],
        "confirm": [{"id": c.id, "name": c.name, "text": c.text} for c in verdict.confirm],
        "assumed": _assumed(found, words),
        "activities": dict(found.activities),
        "workings": _workings(found, speech),
    }


def _reason(found: Conditions, reason: Reason, words: Words) -> dict[str, Any]:
    return {
        "id": reason.id,
        "state": reason.state,
        "text": reason.text,
        "clears": reason.clears,
        "whom": None if reason.whom is None else words.say(f"whom-{reason.whom}"),
        "facts": list(reason.facts),
        "activities": list(found.held_up[reason]),
    }


def _assumed(found: Conditions, words: Words) -> list[dict[str, str]]:
    assumed = []
    if found.query.resin is None:
        name = found.resin.text("name", words.lang)
        assumed.append({"pointer": "/resin", "text": words.say("assumed-resin", value=name)})
    if found.query.units is None:
        assumed.append({"pointer": "/units", "text": words.say("assumed-units")})
    return assumed


def _workings(found: Conditions, speech: Speech) -> list[dict[str, Any]]:
    names = {"dew_point": found.dew.point, "margin": found.dew.margin}
    entries: list[dict[str, Any]] = []
    for name, traced in names.items():
        if traced is None or traced.working is None:
            continue
        shown = explain(traced, speech.system, found.query.lang)
        for (_, part), row in zip(traced.working.inputs, shown["inputs"], strict=True):
            row["from"] = "dew_point" if part is found.dew.point else None
        entries.append({"id": name, **shown})
    return entries
