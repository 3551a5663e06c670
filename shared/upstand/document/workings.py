"""How each quantity came about: formula in words, inputs with their origin, result."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from upstand.answer import Answer
from upstand.document.graph import Graph, ground_graph
from upstand.formulas import REGISTER
from upstand.quantity.shown import NO_BREAK
from upstand.quantity.traced import TOTAL, Origin, Traced
from upstand.words.fill import Words
from upstand.words.formulas import formula_words, name_words, sum_words
from upstand.words.model import Span
from upstand.words.store import texts

__all__ = ["explain", "list_answer_workings", "list_assumed_values", "list_workings"]


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
    listed = _Listed([], dict(graph.names), {})
    listed.go_on(graph.computed, words)
    return listed.entries


def list_answer_workings(answer: Answer, graph: Graph, words: Words) -> list[dict[str, Any]]:
    """List an answer's workings; those of its ground are written once for all that share it."""
    start, written = ground_graph(answer.ground), answer.ground.written
    key = ("workings", words)
    if key not in written:
        first = _Listed([], dict(start.names), {})
        first.go_on(start.computed, words)
        written[key] = first
    first = written[key]
    listed = _Listed([*first.entries], {**graph.names, **first.names}, {**first.shown})
    listed.go_on(graph.computed[len(start.computed) :], words)
    return listed.entries


@dataclass(frozen=True, slots=True)
class _Listed:
    """Workings listed so far; names, and what was written of a number, by its identity."""

    entries: list[dict[str, Any]]
    names: dict[int, str]
    shown: dict[int, dict[str, Any]]

    def go_on(self, computed: Iterable[Traced], words: Words) -> None:
        """List more of them."""
        for traced in computed:
            assert traced.working is not None
            number = len(self.entries) + 1
            id_ = self.names.setdefault(id(traced), f"{traced.working.formula}#{number}")
            entry = explain(traced, words, self.shown)
            for (_, part), row in zip(traced.working.inputs, entry["inputs"], strict=True):
                row["from"] = self.names.get(id(part)) if part.working is not None else None
            self.entries.append({"id": id_, **entry})


def _called(words: Words, record: str, place: str) -> str:
    """Call a value by its record and, where that holds several, by what it is of it."""
    name = place.replace(".", "-").replace("_", "-")
    for id in (f"field-{name}", f"time-{name}"):
        if id in texts():
            return f"{record}, {words.say(id)}"
    return record


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
        name = _called(words, words.name(answer.edition.record(path)), place)
        text = words.say("assumed-value", name=name, value=Span(ends[0], ends[-1]))
        found.append({"pointer": where, "text": text})
    return found
