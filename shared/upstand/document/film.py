"""What film was found, as a document."""

from __future__ import annotations

from typing import Any

from upstand.document.graph import walk
from upstand.document.parts import write_assumed, write_head, write_record
from upstand.document.workings import list_workings
from upstand.film import PER_PLANE, PLANES, STEP, Film, quantities
from upstand.quantity.shown import Speech
from upstand.quantity.traced import Traced, assumed
from upstand.quantity.units import System
from upstand.query.defaults import Assumption
from upstand.stages.materials import Supply
from upstand.words.fill import Words
from upstand.words.model import Rounded, Sentence, Slot

__all__ = ["write"]


def write(
    found: Film,
    lang: str | None = None,
    units: System | None = None,
    *,
    no_break: bool = False,
) -> dict[str, Any]:
    """Write the verdict down, in the language and units it was asked in where none are named."""
    query, gage, packs = found.query, found.by_gage, found.by_packs
    words = Words(lang or query.lang, Speech(units or query.units or "us", no_break))
    json = words.speech.json
    mean = gage.mean if gage is not None else packs.mean if packs is not None else None
    short_by = gage.short_by if gage is not None else packs.short_by if packs is not None else None
    volume = gage.top_up if gage is not None else packs.short if packs is not None else None
    return {
        **write_head(found.edition, found.software, words, found.query),
        "resin": write_record(found.resin, words),
        "layer": query.layer,
        "units": words.speech.system,
        "lang": words.lang,
        "verdict": found.state,
        "notes": [{"id": note, "text": words.say(note, **_slots(found))} for note in found.notes],
        "confirm": [
            {"id": note, "text": words.say(note, **_slots(found))} for note in found.confirm
        ],
        "assumed": write_assumed(_assumptions(found), words),
        "area": json(found.area),
        "least": json(_least(found), "up"),
        "readings_needed": None if gage is None else gage.needed,
        "mean": json(mean, "down"),
        "lowest": None if gage is None else json(gage.lowest),
        "short_by": json(short_by, "up"),
        "net": None if packs is None else json(packs.net),
        "least_volume": None if packs is None else json(packs.least_volume),
        "short": json(volume, "up"),
        "top_up": _top_up(found.top_up, volume, words),
        "workings": list_workings(walk(quantities(found)), words),
    }


def _least(found: Film) -> Traced | None:
    if found.by_packs is not None:
        return found.by_packs.least_film
    return found.wet


def _slots(found: Film) -> dict[str, Slot]:
    gage, packs = found.by_gage, found.by_packs
    slots: dict[str, Slot] = {"given": str(len(found.query.readings))}
    least = _least(found)
    if least is not None:
        slots["least"] = Rounded(least, "up")
    if gage is not None:
        slots |= {"needed": str(gage.needed), "lowest": gage.lowest}
    if packs is not None:
        slots["short"] = Rounded(packs.short, "up")
        if packs.mean is not None:
            slots["mean"] = packs.mean
    return slots


def _top_up(supply: Supply | None, volume: Traced | None, words: Words) -> dict[str, Any] | None:
    if supply is None or volume is None:
        return None
    return {
        "text": words.say("film-feed"),
        "volume": words.speech.json(volume, "up"),
        "with_allowance": words.speech.json(supply.with_allowance, "up"),
        "packs": [{"pack": pack, "count": count} for pack, count in supply.packs],
    }


def _assumptions(found: Film) -> list[Assumption]:
    query, filled = found.query, []
    if query.resin is None and query.detail is None:
        filled.append(Assumption("/resin", Sentence("assumed-resin", {"value": found.resin})))
    if query.readings and not query.teeth and query.step is None:
        step = assumed(STEP, "mil", "/gauge/step", "assumed")
        filled.append(Assumption("/gauge", Sentence("assumed-gauge", {"step": step})))
    if query.readings and query.planes is None:
        said: dict[str, Slot] = {"planes": str(PLANES), "each": str(PER_PLANE)}
        filled.append(Assumption("/planes", Sentence("assumed-planes", said)))
    if query.packs and query.left is None:
        filled.append(Assumption("/left", Sentence("assumed-left")))
    if query.units is None:
        filled.append(Assumption("/units", Sentence("assumed-units")))
    return filled
