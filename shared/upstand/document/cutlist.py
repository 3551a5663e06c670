"""A cutting plan as a document: rolls with what lies where, and the cuts in their order."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from math import inf
from typing import Any

from upstand.cutlist import CutList
from upstand.cutting.model import NOISE, CutPlan, CutRoll, Placed
from upstand.document.parts import write_assumed, write_head
from upstand.quantity.shown import Speech
from upstand.quantity.traced import Traced, measured
from upstand.quantity.units import System
from upstand.query.defaults import Assumption
from upstand.words.fill import Words
from upstand.words.model import Sentence

__all__ = ["write", "write_plan"]

#: An offcut is worth keeping that a patch can still be cut from [in].
KEPT = 4.0


def write(
    found: CutList,
    lang: str | None = None,
    units: System | None = None,
    *,
    no_break: bool = False,
) -> dict[str, Any]:
    """Write the plan down, in the language and units it was asked in where none are named."""
    query = found.query
    words = Words(lang or query.lang, Speech(units or query.units or "us", no_break))
    assumed = []
    if query.stocked:
        assumed.append(Assumption("/rolls", Sentence("assumed-rolls")))
    if query.units is None:
        assumed.append(Assumption("/units", Sentence("assumed-units")))
    return {
        **write_head(found.edition, found.software, words, found.query),
        "units": words.speech.system,
        "lang": words.lang,
        "assumed": write_assumed(assumed, words),
        **write_plan(found.plan, words),
    }


def _inches(value: float) -> Traced:
    return measured(value, "in", "cutting plan")


def write_plan(plan: CutPlan, words: Words) -> dict[str, Any]:
    """Write rolls, totals and the order of cutting."""
    json = words.speech.json
    return {
        "rolls": [_roll(number, roll, words) for number, roll in enumerate(plan.rolls, 1)],
        "length_used": json(_inches(plan.length_used), "up"),
        "lower_bound": json(_inches(plan.lower_bound)),
        "area_used": json(measured(plan.area_used, "in^2", "cutting plan")),
        "lower_bound_area": json(measured(plan.lower_bound_area, "in^2", "cutting plan")),
        "waste": json(measured(100.0 * plan.waste, "percent", "cutting plan")),
        "order": [
            text
            for number, roll in enumerate(plan.rolls, 1)
            for text in _order(number, roll, words)
        ],
    }


def _roll(number: int, cut: CutRoll, words: Words) -> dict[str, Any]:
    json = words.speech.json
    return {
        "number": number,
        "width": json(_inches(cut.roll.width)),
        "length": None if cut.roll.length == inf else json(_inches(cut.roll.length)),
        "length_used": json(_inches(cut.length_used), "up"),
        "strips": [json(_inches(at)) for at in cut.strips],
        "placed": [
            {
                "id": p.id,
                "x": json(_inches(p.x)),
                "y": json(_inches(p.y)),
                "width": json(_inches(p.width)),
                "length": json(_inches(p.length)),
                "turned": p.turned,
            }
            for p in cut.placed
        ],
        "offcuts": [
            {
                "x": json(_inches(o.x)),
                "y": json(_inches(o.y)),
                "width": json(_inches(o.width)),
                "length": json(_inches(o.length)),
            }
            for o in cut.offcuts
            if min(o.width, o.length) >= KEPT - NOISE
        ],
    }


def _order(number: int, cut: CutRoll, words: Words) -> Iterator[str]:
    """Say each cut right across the roll, and which pieces the strip makes."""
    start = 0.0
    for end in cut.strips:
        inside = [p for p in cut.placed if start - NOISE <= p.y < end - NOISE]
        yield words.say(
            "cut-strip",
            roll=str(number),
            width=_inches(cut.roll.width),
            at=_inches(end),
            length=_inches(end - start),
            pieces="; ".join(_pieces(inside, words)),
        )
        start = end


def _pieces(inside: list[Placed], words: Words) -> Iterator[str]:
    counted = Counter((p.id, p.width, p.length) for p in inside)
    for (id, width, length), count in counted.items():
        yield words.say(
            "cut-piece", count=str(count), id=id, width=_inches(width), length=_inches(length)
        )
