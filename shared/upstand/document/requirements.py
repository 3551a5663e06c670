"""The answer as a document: plain JSON values, quantities and words in the reader's own."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import cached_property, partial
from typing import Any, Final

from upstand.answer import Answer
from upstand.document.graph import Graph, graph_of
from upstand.document.ground import GroundWriter
from upstand.document.materials import MaterialsWriter
from upstand.document.parts import (
    write_assumed,
    write_confirm,
    write_head,
    write_record,
    write_verdict,
)
from upstand.document.sentences import Saying, safe_style, time_label
from upstand.document.shelf import shelf_of
from upstand.document.since import write_since
from upstand.document.sources import list_sources
from upstand.document.steps import write_steps
from upstand.document.workings import list_answer_workings, list_assumed_values
from upstand.quantity.shown import Speech
from upstand.quantity.units import System
from upstand.query.defaults import Assumption
from upstand.stages.times import WorkingTime
from upstand.verdict.model import Confirmation
from upstand.words.fill import Words
from upstand.words.model import Sentence

__all__ = ["words_for", "write"]

LAP = "parameters/fleece-lap"


def words_for(
    answer: Answer,
    lang: str | None = None,
    units: System | None = None,
    *,
    no_break: bool = False,
) -> Words:
    """Return the words an answer is said in: the question's own where none are named."""
    query = answer.settled.query
    return Words(lang or query.lang or "en", Speech(units or query.units or "us", no_break))


def write(
    answer: Answer,
    lang: str | None = None,
    units: System | None = None,
    fields: Iterable[str] | None = None,
    *,
    no_break: bool = False,
) -> dict[str, Any]:
    """Write an answer down. Keys are part of the API's promise: added to, never renamed.

    Parameters: lang and units, those of the question where None; fields, the keys wanted (the
    question's own where None, and all where it names none): what is not wanted is not computed;
    no_break keeps numbers and units together, for what will be wrapped on a page or a screen.
    """
    writer = _Writer(answer, words_for(answer, lang, units, no_break=no_break))
    wanted = answer.settled.query.fields if fields is None else tuple(fields)
    parts = writer.parts()
    return {key: write() for key, write in parts.items() if wanted is None or key in wanted}


#: What every answer begins with.
HEAD: Final = (
    "edition",
    "digest",
    "overlay",
    "overlay_digest",
    "software",
    "notices",
    "question",
)


class _Writer:
    """Writes one answer; holds what every part of it needs."""

    def __init__(self, answer: Answer, words: Words) -> None:
        self.answer, self.words = answer, words
        self.saying = Saying(answer, words)
        self.speech, self.lang = words.speech, words.lang
        self.json = self.speech.json
        self.shelf = shelf_of(answer.edition, words.lang)

    @cached_property
    def graph(self) -> Graph:
        return graph_of(self.answer)

    @cached_property
    def head(self) -> dict[str, Any]:
        query = self.answer.settled.query
        return write_head(self.answer.edition, self.answer.software, self.words, query)

    def top(self, name: str) -> Any:
        return self.head[name]

    def parts(self) -> dict[str, Callable[[], Any]]:
        """Return what writes each key, in the order of the document."""
        answer, settled, words = self.answer, self.answer.settled, self.words
        ground = GroundWriter(self.saying, self.shelf)
        materials = MaterialsWriter(self.saying, self.shelf)
        return {
            **{name: partial(self.top, name) for name in HEAD},
            "detail": lambda: write_record(settled.detail, words),
            "roof": lambda: write_record(settled.roof, words),
            "resin": lambda: write_record(settled.resin, words),
            "units": lambda: self.speech.system,
            "lang": lambda: self.lang,
            "verdict": lambda: write_verdict(answer.verdict, words),
            "confirm": lambda: [self.confirm(c) for c in answer.verdict.confirm],
            "assumed": self.assumed,
            "conditions": lambda: {
                "dew_point": self.json(answer.dew.point),
                "kind": answer.dew.kind,
                "margin": self.json(answer.dew.margin, "down"),
                "least_surface": self.json(answer.dew.least, "up"),
            },
            "sizes": self.sizes,
            "surfaces": ground.surfaces,
            "coats": ground.coats,
            "film": lambda: self.json(answer.takeoff.film),
            "fleece": ground.fleece,
            "masking": ground.masking,
            "dimensions": lambda: [
                self.shelf.statement(node)
                for node in settled.detail.get("dimensions", ())
                if not answer.layout.stopped
            ],
            "materials": materials.materials,
            "totals": materials.totals,
            "times": lambda: [self.time(t) for t in answer.timing.times],
            "since": lambda: [write_since(s, answer.edition, words) for s in answer.standing],
            "steps": lambda: write_steps(self.saying, self.shelf),
            "checks": lambda: [self.shelf.check(record) for record in answer.checks],
            "cautions": lambda: [self.shelf.caution(c.record, c.because) for c in answer.cautions],
            "tools": lambda: [self.shelf.tool(record) for record in answer.tools],
            "sources": lambda: list_sources(answer, self.graph, self.shelf),
            "workings": lambda: list_answer_workings(answer, self.graph, words),
        }

    def confirm(self, confirmation: Confirmation) -> dict[str, Any]:
        if confirmation.check is not None:
            return self.shelf.confirm(confirmation.check)
        return write_confirm(confirmation, self.words)

    def assumed(self) -> list[dict[str, Any]]:
        if self.answer.layout.stopped:  # nothing was worked out from what was assumed
            return []
        timing = self.answer.timing
        temperatures = timing.temperatures
        assumptions = list(self.answer.settled.assumptions)
        if temperatures.planned:
            slots = {"value": temperatures.material, "planned": temperatures.planning}
            assumptions.append(Assumption("/now/material", Sentence("assumed-material", slots)))
        if temperatures.surface is None:
            stated = next((t.at for t in timing.times if t.reference and t.at), None)
            if stated is not None:
                said = Sentence("assumed-surface-reference", {"value": stated})
                assumptions.append(Assumption("/now/surface", said))
        return [
            *write_assumed(assumptions, self.words),
            *list_assumed_values(self.answer, self.graph, self.words),
        ]

    def sizes(self) -> list[dict[str, Any]]:
        """Write every size of the detail, asked for or taken, and the lap of the fleece."""
        edition = self.answer.edition
        sizes = self.answer.settled.sizes
        found = {f"inputs/{name.replace('_', '-')}": size for name, size in sizes.items()}
        if edition.has(LAP):
            found[LAP] = edition.record(LAP).value("value").traced("in")
        return [
            {
                "id": path.partition("/")[2],
                "label": self.shelf.name(path) if edition.has(path) else path.partition("/")[2],
                "size": self.json(size),
            }
            for path, size in found.items()
        ]

    def time(self, time: WorkingTime) -> dict[str, Any]:
        return {
            "id": time.id,
            "label": self.words.say(time_label(time)),
            "product": time.product.text("name", self.lang),
            "low": self.json(time.low, safe_style(time)),
            "high": self.json(time.high, safe_style(time)),
            "at": self.json(time.at),
            "text": self.saying.time(time),
            "why": self.saying.time(time) if time.low is None else None,
        }
