"""The answer as a document: plain JSON values, quantities and words in the reader's own."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import cached_property
from typing import Any

from upstand.answer import Answer
from upstand.document.graph import Graph, walk
from upstand.document.parts import (
    write_amount,
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
from upstand.document.workings import list_assumed_values, list_workings, named_quantities
from upstand.layout import Piece, Surface
from upstand.procedure.cautions import cautions_of_step
from upstand.quantity.shown import Speech
from upstand.quantity.traced import Traced
from upstand.quantity.units import System
from upstand.query.defaults import Assumption
from upstand.stages.materials import Material, Supply
from upstand.stages.times import WorkingTime
from upstand.words.fill import Words
from upstand.words.model import Sentence

__all__ = ["words_for", "write"]

LAP = "parameters/fleece-lap"
#: Sorts of tool that are used up, and so are materials to bring.
USED_UP = ("cleaner", "abrasive", "consumable")


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
        return walk(named_quantities(self.answer))

    @cached_property
    def head(self) -> dict[str, Any]:
        return write_head(self.answer.edition, self.answer.software, self.words)

    def parts(self) -> dict[str, Callable[[], Any]]:
        """Return what writes each key, in the order of the document."""
        answer, settled, words = self.answer, self.answer.settled, self.words
        return {
            "edition": lambda: answer.edition.id,
            "overlay": lambda: answer.edition.overlay,
            "software": lambda: answer.software,
            "notices": lambda: self.head["notices"],
            "detail": lambda: write_record(settled.detail, words),
            "roof": lambda: write_record(settled.roof, words),
            "resin": lambda: write_record(settled.resin, words),
            "units": lambda: self.speech.system,
            "lang": lambda: self.lang,
            "verdict": lambda: write_verdict(answer.verdict, words),
            "confirm": lambda: [write_confirm(c, words) for c in answer.verdict.confirm],
            "assumed": self.assumed,
            "conditions": lambda: {
                "dew_point": self.json(answer.dew.point),
                "kind": answer.dew.kind,
                "margin": self.json(answer.dew.margin, "down"),
                "least_surface": self.json(answer.dew.least, "up"),
            },
            "sizes": self.sizes,
            "surfaces": lambda: [self.surface(s) for s in answer.layout.surfaces],
            "coats": self.coats,
            "film": lambda: self.json(answer.takeoff.film),
            "fleece": self.fleece,
            "masking": self.masking,
            "dimensions": lambda: [
                self.shelf.statement(node)
                for node in settled.detail.get("dimensions", ())
                if not answer.layout.stopped
            ],
            "materials": lambda: (
                [self.material(m) for m in answer.takeoff.materials] + self.sundries()
            ),
            "totals": self.totals,
            "times": lambda: [self.time(t) for t in answer.timing.times],
            "since": lambda: [write_since(s, answer.edition, words) for s in answer.standing],
            "steps": self.steps,
            "checks": lambda: [self.shelf.check(record) for record in answer.checks],
            "cautions": lambda: [self.shelf.caution(c.record, c.because) for c in answer.cautions],
            "tools": lambda: [self.shelf.tool(record) for record in answer.tools],
            "sources": lambda: list_sources(answer, self.graph, self.shelf),
            "workings": lambda: list_workings(self.graph, words),
        }

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

    def coats(self) -> list[dict[str, Any]]:
        return [
            {
                "id": coat.id,
                "label": self.words.say(f"line-{coat.id}"),
                "area": self.json(coat.area),
                "thickness": self.json(coat.thickness),
                "volume": self.json(coat.volume),
                "state": "wet",
                "dry": self.json(coat.dry),
            }
            for coat in self.answer.takeoff.coats
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

    def surface(self, surface: Surface) -> dict[str, Any]:
        if surface.substrate is None:
            return self.unnamed(surface)
        edition = self.answer.edition
        substrate = edition.record(f"substrates/{surface.substrate}")
        primer = self.answer.takeoff.primer_of.get(surface.id)
        path = str(substrate.get("preparation"))
        return {
            "id": surface.id,
            "label": self.saying.surface(surface),
            "substrate": surface.substrate,
            "orientation": surface.orientation,
            "area": self.json(surface.area),
            "area_why": None
            if surface.area is not None
            else self.words.say(self.answer.layout.why),
            "preparation": self.shelf.preparation(path),
            "never": self.never(path, primer),
            "primer": None if primer is None else primer.partition("/")[2],
            "primer_why": substrate.text("primer_why", self.lang)
            if substrate.has("primer_why")
            else None,
            "dry_before_primer": substrate.text("dry_before_primer", self.lang),
        }

    def unnamed(self, surface: Surface) -> dict[str, Any]:
        """Write a surface of which nobody said what it is made of."""
        why = None if surface.area is not None else self.words.say(self.answer.layout.why)
        return {
            "id": surface.id,
            "label": self.saying.surface(surface),
            "substrate": None,
            "orientation": surface.orientation,
            "area": self.json(surface.area),
            "area_why": why,
            "preparation": [],
            "never": [],
            "primer": None,
            "primer_why": None,
            "dry_before_primer": None,
        }

    def never(self, preparation: str, primer: str | None) -> list[str]:
        """Say what is never done to a surface: by its preparation, its primer and the resin."""
        if self.answer.layout.stopped:
            return []
        products = [p for p in (primer, self.answer.settled.resin.path) if p is not None]
        found = [text for path in (preparation, *products) for text in self.shelf.never(path)]
        return list(dict.fromkeys(found))

    def fleece(self) -> dict[str, Any] | None:
        fleece = self.answer.layout.fleece
        if fleece is None:
            return None
        return {
            "id": self.answer.settled.fleece.id,
            "pieces": [self.piece(p) for p in fleece.pieces],
            **{
                name: self.json(getattr(fleece, name))
                for name in ("zone", "net", "cut", "lap_area", "extra")
            },
        }

    def piece(self, piece: Piece) -> dict[str, Any]:
        return {
            "id": piece.id,
            "label": self.saying.piece(piece),
            "kind": piece.kind,
            "letter": piece.letter,
            "width": self.json(piece.width, "up-quarter"),
            "length": self.json(piece.length, "up-quarter"),
            "count": piece.count,
            "order": piece.order,
            "note": self.words.say("slit-note") if piece.slit else None,
            "joint": self.saying.joint(piece),
        }

    def masking(self) -> dict[str, Any] | None:
        masking = self.answer.layout.masking
        if masking is None:
            return None
        return {
            "tape": self.json(masking.tape, "run"),
            "corners": self.json(masking.corners, "run"),
            "flat": [
                {"width": self.json(width), "length": self.json(length)}
                for width, length in masking.flat
            ],
            "line_height": self.json(masking.line_height),
        }

    def supply(self, supply: Supply) -> dict[str, Any]:
        return {
            "need": self.amount(supply.need),
            "with_allowance": self.amount(supply.with_allowance),
            "packs": [
                {"pack": pack, "name": self.shelf.name(f"packs/{pack}"), "count": count}
                for pack, count in supply.packs
            ],
            "leftover": self.amount(supply.leftover),
            "mixes": None
            if supply.mixes is None or supply.mixes.number is None
            else int(supply.mixes.number.value),
            "lay_within": None if supply.mixes is None else self.json(supply.mixes.left, "down"),
            "mixes_text": " ".join(self.words.said(said) for said in supply.about_mixes()),
        }

    def amount(self, traced: Traced | None) -> dict[str, Any] | None:
        return write_amount(traced, self.words)

    def material(self, material: Material) -> dict[str, Any]:
        record = material.record
        why = None
        if material.one.need is None:
            why = self.words.say(self.answer.layout.why)
        return {
            "id": record.id,
            "kind": material.kind,
            "name": record.text("name", self.lang),
            "lines": [
                {
                    "id": line.id,
                    "label": self.line_label(line.id, line.surface),
                    "surface": line.surface,
                    "amount": self.amount(line.amount),
                }
                for line in material.lines
            ],
            **self.supply(material.one),
            "why": why,
            "neighbours": list(record.texts("neighbours", self.lang))
            if record.has("neighbours")
            else [],
        }

    def line_label(self, line: str, surface: str | None) -> str:
        name = line.partition("/")[0]
        if surface is None:
            return self.words.say(f"line-{name}")
        label = self.saying.surface(self.saying.surfaces[surface])
        return self.words.say(f"line-{name}", surface=label)

    def sundries(self) -> list[dict[str, Any]]:
        """Cleaners, abrasives and consumables: to bring, but with no rate of use on file."""
        named = {m.record.path for m in self.answer.takeoff.materials}
        return [
            {
                "id": record.id,
                "kind": record.get("sort"),
                "name": record.text("name", self.lang),
                "lines": [],
                "need": None,
                "with_allowance": None,
                "packs": [],
                "leftover": None,
                "mixes": None,
                "lay_within": None,
                "mixes_text": "",
                "why": self.words.say("no-rate"),
                "neighbours": [],
            }
            for record in self.answer.tools
            if record.get("sort") in USED_UP and record.path not in named
        ]

    def totals(self) -> dict[str, Any]:
        totals = self.answer.takeoff.totals
        return {
            "count": self.answer.settled.count,
            **{name: self.amount(amount) for name, amount in totals.items()},
            "materials": [
                {
                    "id": m.record.id,
                    "kind": m.kind,
                    "name": m.record.text("name", self.lang),
                    **self.supply(m.all),
                }
                for m in self.answer.takeoff.materials
            ],
        }

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

    def added_work(self, activity: str) -> str | None:
        """Return what this detail adds to an activity."""
        for work in self.answer.settled.detail.get("work", ()):
            if work["activity"] == f"activities/{activity}":
                return str(work["say"][self.lang])
        return None

    def steps(self) -> list[dict[str, Any]]:
        found = []
        for number, step in enumerate(self.answer.procedure.steps, 1):
            parts = [
                {
                    "surfaces": list(p.surfaces),
                    "label": self.saying.surface_list(p.surfaces),
                    **self.shelf.preparation_step(p.record.path, p.step),
                }
                for p in step.preparations
            ]
            found.append(
                {
                    "n": number,
                    "name": step.activity.text("name", self.lang),
                    "text": self.saying.step(step),
                    "here": self.added_work(step.activity.id),
                    "activity": step.activity.id,
                    "parts": parts,
                    "primer": None if step.primer is None else step.primer.id,
                    "cautions": list(
                        cautions_of_step(
                            step, number == 1, self.answer.settled, self.answer.cautions
                        )
                    ),
                    "asks": [{"id": i, "text": text} for i, text in self.saying.asks(step)],
                    "holds": [{"id": i, "text": text} for i, text in self.saying.holds(step)],
                }
            )
        return found
