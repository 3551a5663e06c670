"""How each quantity came about: formula in words, inputs with their origin, result."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import Any

from upstand.answer import Answer
from upstand.document.graph import Graph
from upstand.formulas import REGISTER
from upstand.quantity.shown import NO_BREAK
from upstand.quantity.traced import TOTAL, Origin, Traced
from upstand.words.fill import Words
from upstand.words.formulas import formula_words, name_words, sum_words
from upstand.words.model import Span

__all__ = ["explain", "list_assumed_values", "list_workings", "named_quantities"]


def named_quantities(answer: Answer) -> Iterator[tuple[str, Traced]]:
    """Name every quantity that an answer shows, by its place in the document."""
    layout, takeoff = answer.layout, answer.takeoff
    for surface in layout.surfaces:
        if surface.area is not None:
            yield f"surfaces/{surface.id}/area", surface.area
    if layout.fleece is not None:
        for piece in layout.fleece.pieces:
            yield f"fleece/pieces/{piece.id}/width", piece.width
            yield f"fleece/pieces/{piece.id}/length", piece.length
        for name in ("zone", "net", "cut", "lap_area", "extra"):
            yield f"fleece/{name}", getattr(layout.fleece, name)
    if layout.masking is not None:
        yield "masking/tape", layout.masking.tape
        yield "masking/corners", layout.masking.corners
        if layout.masking.line_height is not None:
            yield "masking/line_height", layout.masking.line_height
    for coat in takeoff.coats:
        yield f"coats/{coat.id}/thickness", coat.thickness
        yield f"coats/{coat.id}/volume", coat.volume
    if takeoff.film is not None:
        yield "film", takeoff.film
    for name, wet in takeoff.gauge.items():
        yield f"gauge/{name}", wet
    for material in takeoff.materials:
        place = f"materials/{material.record.id}"
        for line in material.lines:
            yield f"{place}/lines/{line.id}", line.amount
        for name in ("need", "with_allowance", "leftover"):
            amount = getattr(material.one, name)
            if amount is not None:
                yield f"{place}/{name}", amount
            many = getattr(material.all, name)
            if many is not None:
                yield f"totals/{place}/{name}", many
        for where, supply in ((place, material.one), (f"totals/{place}", material.all)):
            if supply.mixes is not None and supply.mixes.number is not None:
                yield f"{where}/mixes", supply.mixes.number
            if supply.mixes is not None and supply.mixes.left is not None:
                yield f"{where}/lay_within", supply.mixes.left
    for name, amount in takeoff.totals.items():
        yield f"totals/{name}", amount
    for time in answer.timing.times:
        if time.low is not None:
            yield f"times/{time.id}/low", time.low
        if time.high is not None:
            yield f"times/{time.id}/high", time.high
    for path, usable in answer.timing.usable_of.items():
        yield f"times/usable/{path.partition('/')[2]}", usable
    if answer.dew.point is not None:
        yield "conditions/dew_point", answer.dew.point
    if answer.dew.margin is not None:
        yield "conditions/margin", answer.dew.margin
    if answer.dew.least is not None:
        yield "conditions/least_surface", answer.dew.least
    for name, size in answer.settled.sizes.items():
        yield f"sizes/{name}", size


def _origin(origin: Origin) -> dict[str, str]:
    return {
        "kind": origin.kind,
        "where": origin.where,
        "grade": origin.grade,
        "source": origin.source,
    }


def _shown(traced: Traced, words: Words, shown: dict[int, dict[str, Any]]) -> dict[str, Any]:
    written = shown.get(id(traced))
    if written is None:
        written = shown[id(traced)] = words.speech.json(traced) or {}
        written["origin"] = _origin(traced.origin)
    return written


@lru_cache(maxsize=1024)
def _in_words(formula: str, lang: str, factors: bool, no_break: bool) -> str:
    if not formula:
        return ""
    if formula == TOTAL:
        return sum_words(lang)
    text = formula_words(REGISTER[formula], lang, factors=factors)
    return text if no_break else text.replace(NO_BREAK, " ")


def explain(
    traced: Traced, words: Words, shown: dict[int, dict[str, Any]] | None = None
) -> dict[str, Any]:
    """Show one step of working, ready for JSON.

    Returns ``{"formula", "words", "inputs": [{name, label, value, unit, text, origin}], "result",
    "origin"}``; for a number that was not computed, formula and words are empty. The words hold
    the factors between US units for US readers; for others they are left out, and hold in any
    units. `shown` keeps, by identity, what was written of a number: most go into several steps.
    Raises UnitFault for a unit that answers don't show.
    """
    shown = {} if shown is None else shown
    working, speech, lang = traced.working, words.speech, words.lang
    formula = working.formula if working else ""
    inputs = [
        {"name": name, "label": name_words(name, lang), **_shown(part, words, shown)}
        for name, part in (working.inputs if working else ())
    ]
    own = _shown(traced, words, shown)
    return {
        "formula": formula,
        "words": _in_words(formula, lang, speech.system == "us", speech.no_break),
        "inputs": inputs,
        "result": {"value": own["value"], "unit": own["unit"], "text": own["text"]},
        "origin": own["origin"],
    }


def list_workings(graph: Graph, words: Words) -> list[dict[str, Any]]:
    """Explain every named quantity and everything computed on the way to it, inputs first.

    Each entry has an `id`; an input that was itself computed names its entry in `from`.
    """
    names = dict(graph.names)
    entries: list[dict[str, Any]] = []
    written: dict[int, dict[str, Any]] = {}
    for traced in graph.computed:
        assert traced.working is not None
        id_ = names.setdefault(id(traced), f"{traced.working.formula}#{len(entries) + 1}")
        shown = explain(traced, words, written)
        for (_, part), row in zip(traced.working.inputs, shown["inputs"], strict=True):
            row["from"] = names.get(id(part)) if part.working is not None else None
        entries.append({"id": id_, **shown})
    return entries


def list_assumed_values(answer: Answer, graph: Graph, words: Words) -> list[dict[str, Any]]:
    """List the edition's values of grade `assumed` that went into the answer, each once."""
    used: dict[str, list[Traced]] = {}
    for leaf in (*graph.leaves, *answer.layout.parameters.values()):
        if leaf.origin.grade == "assumed" and leaf.origin.kind in ("edition", "overlay"):
            used.setdefault(leaf.origin.where, []).append(leaf)
    found = []
    for where, leaves in sorted(used.items()):
        # a time stands with the temperature it is stated at: the time comes first
        ends = sorted((t for t in leaves if t.unit == leaves[0].unit), key=lambda t: t.value)
        path, _, place = where.partition(": ")
        name = words.name(answer.edition.record(path))
        text = words.say("assumed-value", name=f"{name} ({place})", value=Span(ends[0], ends[-1]))
        found.append({"pointer": where, "text": text})
    return found
