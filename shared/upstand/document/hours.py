"""Weather by the hour as a document: hours with their reasons, windows, what is left to confirm."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from upstand.conditions_by_hour import ConditionsByHour, WindowFound
from upstand.document.parts import write_assumed, write_head, write_reason, write_record
from upstand.quantity.shown import Speech
from upstand.quantity.traced import Traced
from upstand.quantity.units import System
from upstand.query.defaults import Assumption
from upstand.verdict.hourly import HourFound
from upstand.verdict.model import Reason
from upstand.words.fill import Words
from upstand.words.model import Said, Sentence, Slot

__all__ = ["write"]


def write(
    found: ConditionsByHour,
    lang: str | None = None,
    units: System | None = None,
    *,
    no_break: bool = False,
) -> dict[str, Any]:
    """Write the answer down; in the language and units it was asked in where none are named."""
    query = found.query
    words = Words(lang or query.lang, Speech(units or query.units or "us", no_break))
    written: dict[int, dict[str, Any]] = {}
    no_sequence = found.no_sequence and f"hours-{found.no_sequence}"
    return {
        **write_head(found.edition, found.software, words, found.query),
        "resin": write_record(found.resin, words),
        "units": words.speech.system,
        "lang": words.lang,
        "hours": [_hour(hour, found, words, written) for hour in found.hours],
        "windows": [_window(window, words) for window in found.windows],
        "no_sequence": no_sequence and words.say(no_sequence, resin=found.resin),
        "missing": [
            {"from": start.isoformat(), "to": end.isoformat()} for start, end in query.hours.holes
        ],
        "confirm": [{"id": id, "text": words.said(said)} for id, said in _confirmations(found)],
        "assumed": write_assumed(_assumptions(found), words),
        "read": [
            {"id": id, "text": words.say(f"hours-read-{id}", count=f"{count}")}
            for id, count in query.hours.notes
        ],
        "sunsets": [at.isoformat() for at in found.sunsets],
    }


def _hour(
    hour: HourFound, found: ConditionsByHour, words: Words, written: dict[int, dict[str, Any]]
) -> dict[str, Any]:
    reasons = []
    for reason, activities in hour.reasons:
        if id(reason) not in written:  # alike hours share their reasons
            written[id(reason)] = write_reason(reason, words)
        reasons.append({**written[id(reason)], "activities": list(activities)})
    if hour.rained is not None:
        reasons.append(_rained(hour.rained, hour, found, words))
    return {
        "start": hour.hour.start.isoformat(),
        "dew_point": words.speech.json(hour.dew.point),
        "kind": hour.dew.kind,
        "margin": words.speech.json(hour.dew.margin, "down"),
        "verdict": hour.verdict,
        "reasons": reasons,
        "activities": dict(hour.activities),
        "surface_needed": _range(hour.surface_needed, words),
    }


def _rained(
    chance: Traced, hour: HourFound, found: ConditionsByHour, words: Words
) -> dict[str, Any]:
    path = "parameters/rain-stops-work"
    stops = found.edition.record(path).value("value").traced("percent")
    text = Sentence("hours-rained", {"found": chance, "limit": stops})
    reason = Reason(path, "hold", text, Sentence("hours-rained-clears"))
    held = [id for id, state in hour.activities.items() if state == "hold"]
    return {**write_reason(reason, words), "activities": held}


def _window(window: WindowFound, words: Words) -> dict[str, Any]:
    last = window.last_start
    return {
        "activity": window.activity,
        "start": window.start.isoformat(),
        "end": window.end.isoformat(),
        "last_start": None if last is None else last.isoformat(),
        "sure": window.sure,
        "needs_surface": _range(window.needs_surface, words),
    }


def _range(pair: tuple[Traced, Traced] | None, words: Words) -> dict[str, Any] | None:
    if pair is None:
        return None
    return {"low": words.speech.json(pair[0], "up"), "high": words.speech.json(pair[1], "down")}


def _confirmations(found: ConditionsByHour) -> Iterable[tuple[str, Said]]:
    """What no forecast tells is looked at on the roof, whatever the hours say."""
    yield "gusts", Sentence("hours-confirm-gusts")
    yield "wet-surface", Sentence("hours-confirm-wet")
    query = found.query
    if query.material is None:
        planned = found.edition.record("parameters/planning-material-temperature").value("value")
        slots: dict[str, Slot] = {"planned": planned.traced("degF")}
        yield "material", Sentence("hours-confirm-material", slots)
    needs = [w.needs_surface for w in found.windows if w.needs_surface is not None]
    if needs:
        lows, highs = zip(*needs, strict=True)
        least, most = max(lows, key=lambda t: t.value), min(highs, key=lambda t: t.value)
        yield "surface", Sentence("hours-confirm-surface", {"low": least, "high": most})
    if any(hour.now.surface is None and hour.now.air is not None for hour in found.hours):
        yield "ground", Sentence("hours-confirm-ground")


def _assumptions(found: ConditionsByHour) -> list[Assumption]:
    query, assumed = found.query, []
    if query.resin is None:
        assumed.append(Assumption("/resin", Sentence("assumed-resin", {"value": found.resin})))
    if query.work is None:
        assumed.append(Assumption("/work", Sentence("hours-assumed-work")))
    if query.above is not None:
        said = Sentence("hours-assumed-above", {"above": query.above})
        assumed.append(Assumption("/surface_above_air", said))
    if query.units is None:
        assumed.append(Assumption("/units", Sentence("assumed-units")))
    return assumed
