"""How each quantity of an answer came about: formula in words, inputs with their origin, result."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from upstand.quantity.traced import Traced, explain

if TYPE_CHECKING:
    from upstand.answer import Answer
    from upstand.document.sentences import Saying


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
        for name in ("tape", "corners", "line_height"):
            yield f"masking/{name}", getattr(layout.masking, name)
    for coat in takeoff.coats:
        yield f"coats/{coat.id}/thickness", coat.thickness
        yield f"coats/{coat.id}/volume", coat.volume
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


def list_workings(answer: Answer) -> list[dict[str, Any]]:
    """Explain every named quantity and everything computed on the way to it, inputs first.

    Each entry has an `id`; an input that was itself computed names its entry in `from`.
    """
    names: dict[int, str] = {}
    for name, traced in named_quantities(answer):
        names.setdefault(id(traced), name)
    system, lang = answer.settled.units, answer.settled.lang
    entries: list[dict[str, Any]] = []
    seen: set[int] = set()

    def walk(traced: Traced) -> None:
        if id(traced) in seen or traced.working is None:
            return
        seen.add(id(traced))
        for _, part in traced.working.inputs:
            walk(part)
        entry_id = names.setdefault(id(traced), f"{traced.working.formula}#{len(entries) + 1}")
        shown = explain(traced, system, lang)
        for (_, part), row in zip(traced.working.inputs, shown["inputs"], strict=True):
            row["from"] = names.get(id(part)) if part.working is not None else None
        entries.append({"id": entry_id, **shown})

    for _, traced in named_quantities(answer):
        walk(traced)
    return entries


def leaves(answer: Answer) -> Iterator[Traced]:
    """Walk every number that was not computed but went into the answer, each once."""
    seen: set[int] = set()
    stack = [traced for _, traced in named_quantities(answer)]
    while stack:
        traced = stack.pop()
        if id(traced) in seen:
            continue
        seen.add(id(traced))
        if traced.working is None:
            yield traced
        else:
            stack.extend(part for _, part in traced.working.inputs)


def list_assumed_values(answer: Answer, saying: Saying) -> list[dict[str, Any]]:
    """List the edition's values of grade `assumed` that went into the answer, each once."""
    used = {
        leaf.origin.where: leaf
        for leaf in (*leaves(answer), *answer.layout.parameters.values())
        if leaf.origin.grade == "assumed" and leaf.origin.kind in ("edition", "overlay")
    }
    found = []
    for where, leaf in sorted(used.items()):
        path = where.partition(": ")[0]
        found.append(
            {
                "pointer": where,
                "text": saying.words.say(
                    "assumed-value",
                    name=f"{saying.words.name(path)} ({where.partition(': ')[2]})",
                    value=saying.speech.text(leaf),
                ),
            }
        )
    return found
