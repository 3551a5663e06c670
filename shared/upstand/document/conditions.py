"""What the weather allows, as a document: plain JSON values in the reader's language and units."""

from __future__ import annotations

from typing import Any

from upstand.conditions import Conditions
from upstand.document.graph import walk
from upstand.document.parts import (
    write_assumed,
    write_confirm,
    write_head,
    write_reason,
    write_record,
)
from upstand.document.workings import list_workings
from upstand.quantity.shown import Speech
from upstand.quantity.units import System
from upstand.query.defaults import Assumption
from upstand.verdict.model import Reason
from upstand.words.fill import Words
from upstand.words.model import Sentence

__all__ = ["write"]


def write(
    found: Conditions,
    lang: str | None = None,
    units: System | None = None,
    *,
    no_break: bool = False,
) -> dict[str, Any]:
    """Write the answer down; in the language and units it was asked in where none are named."""
    query, verdict = found.query, found.verdict
    speech = Speech(units or query.units or "us", no_break)
    words = Words(lang or query.lang, speech)
    shown = (("dew_point", found.dew.point), ("margin", found.dew.margin))
    return {
        **write_head(found.edition, found.software, words, found.query),
        "resin": write_record(found.resin, words),
        "units": speech.system,
        "lang": words.lang,
        "dew_point": speech.json(found.dew.point),
        "kind": found.dew.kind,
        "margin": speech.json(found.dew.margin, "down"),
        "verdict": verdict.state,
        "reasons": [_reason(found, reason, words) for reason in verdict.reasons],
        "other_reasons": [_reason(found, reason, words) for reason in found.other_reasons],
        "confirm": [
            {key: written[key] for key in ("id", "name", "text")}
            for written in (write_confirm(c, words) for c in verdict.confirm)
        ],
        "assumed": write_assumed(_assumptions(found), words),
        "activities": dict(found.activities),
        "workings": list_workings(
            walk((name, traced) for name, traced in shown if traced is not None), words
        ),
    }


def _reason(found: Conditions, reason: Reason, words: Words) -> dict[str, Any]:
    return {**write_reason(reason, words), "activities": list(found.held_up[reason.key])}


def _assumptions(found: Conditions) -> list[Assumption]:
    assumed = []
    if found.query.resin is None:
        assumed.append(Assumption("/resin", Sentence("assumed-resin", {"value": found.resin})))
    if found.query.units is None:
        assumed.append(Assumption("/units", Sentence("assumed-units")))
    return assumed
