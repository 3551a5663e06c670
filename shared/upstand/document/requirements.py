"""The answer as a document: plain JSON values, quantities and words in the reader's own."""

from __future__ import annotations

from typing import Any

from upstand.answer import Answer
from upstand.document.notices import list_notices
from upstand.document.sentences import Saying, safe_style
from upstand.document.sources import list_sources
from upstand.document.workings import list_assumed_values, list_workings
from upstand.edition import Record
from upstand.layout import Piece, Surface
from upstand.quantity.shown import NO_BREAK
from upstand.quantity.traced import Traced
from upstand.stages.materials import Material, Supply
from upstand.stages.times import WorkingTime

#: Sorts of tool that are used up, and so are materials to bring.
USED_UP = ("cleaner", "abrasive", "consumable")


def write_document(answer: Answer, *, no_break: bool = False) -> dict[str, Any]:
    """Write an answer down. Keys are part of the API's promise: added to, never renamed."""
    written = _Writer(answer).document()
    return written if no_break else plain_spaces(written)


def plain_spaces(node: Any) -> Any:
    """Return the same document with plain spaces where numbers are joined to their units."""
    if isinstance(node, str):
        return node.replace(NO_BREAK, " ")
    if isinstance(node, dict):
        return {key: plain_spaces(inner) for key, inner in node.items()}
    if isinstance(node, list):
        return [plain_spaces(inner) for inner in node]
    return node


class _Writer:
    """Writes one answer; holds what every part of it needs."""

    def __init__(self, answer: Answer) -> None:
        self.answer = answer
        self.saying = Saying(answer)
        self.words, self.speech = self.saying.words, self.saying.speech
        self.lang = answer.settled.lang
        self.json = self.speech.json

    def document(self) -> dict[str, Any]:
        answer, settled = self.answer, self.answer.settled
        return {
            "edition": answer.edition.id,
            "overlay": answer.edition.overlay,
            "software": answer.software,
            "notices": list_notices(answer.edition, self.words),
            "detail": {"id": settled.detail.id, "name": settled.detail.text("name", self.lang)},
            "roof": {"id": settled.roof.id, "name": settled.roof.text("name", self.lang)},
            "resin": {"id": settled.resin.id, "name": settled.resin.text("name", self.lang)},
            "units": settled.units,
            "lang": self.lang,
            "verdict": self.verdict(),
            "confirm": [
                {
                    "id": c.id,
                    "name": c.name,
                    "text": c.text,
                    "acceptance": c.acceptance,
                    "whom": None if c.whom is None else self.words.say(f"whom-{c.whom}"),
                }
                for c in answer.verdict.confirm
            ],
            "assumed": self.assumed(),
            "conditions": {
                "dew_point": self.json(answer.dew.point),
                "kind": answer.dew.kind,
                "margin": self.json(answer.dew.margin, "down"),
            },
            "surfaces": [self.surface(s) for s in answer.layout.surfaces],
            "coats": [
                {
                    "id": coat.id,
                    "label": self.words.say(f"line-{coat.id}"),
                    "area": self.json(coat.area),
                    "thickness": self.json(coat.thickness),
                    "volume": self.json(coat.volume),
                    "state": "wet",
                    "dry": self.json(coat.dry),
                }
                for coat in answer.takeoff.coats
            ],
            "film": self.json(answer.takeoff.film),
            "fleece": self.fleece(),
            "masking": self.masking(),
            "dimensions": [self.statement(node) for node in settled.detail.get("dimensions", ())],
            "materials": [self.material(m) for m in answer.takeoff.materials] + self.sundries(),
            "totals": self.totals(),
            "times": [self.time(t) for t in answer.timing.times],
            "steps": self.steps(),
            "checks": self.checks(),
            "cautions": self.cautions(),
            "tools": [self.tool(record) for record in self.tool_records()],
            "sources": list_sources(answer),
            "workings": list_workings(answer),
        }

    def verdict(self) -> dict[str, Any]:
        verdict = self.answer.verdict
        ask = None
        if verdict.whom:
            ask = {
                "whom": self.words.list([self.words.say(f"whom-{w}") for w in verdict.whom]),
                "facts": list(verdict.facts),
            }
        return {
            "state": verdict.state,
            "reasons": [
                {
                    "id": r.id,
                    "state": r.state,
                    "text": r.text,
                    "clears": r.clears,
                    "whom": None if r.whom is None else self.words.say(f"whom-{r.whom}"),
                    "facts": list(r.facts),
                }
                for r in verdict.reasons
            ],
            "ask": ask,
        }

    def assumed(self) -> list[dict[str, Any]]:
        defaults = [{"pointer": a.pointer, "text": a.text} for a in self.answer.settled.assumptions]
        temperatures = self.answer.timing.temperatures
        if temperatures.planned:
            defaults.append(
                {
                    "pointer": "/now/material",
                    "text": self.words.say(
                        "assumed-material",
                        value=self.speech.text(temperatures.material),
                        planned=self.speech.text(temperatures.planning),
                    ),
                }
            )
        if temperatures.surface is None:
            stated = next((t.at for t in self.answer.timing.times if t.reference and t.at), None)
            if stated is not None:
                text = self.words.say("assumed-surface-reference", value=self.speech.text(stated))
                defaults.append({"pointer": "/now/surface", "text": text})
        return [*defaults, *list_assumed_values(self.answer, self.saying)]

    def surface(self, surface: Surface) -> dict[str, Any]:
        edition = self.answer.edition
        substrate = edition.record(f"substrates/{surface.substrate}")
        primer = self.answer.takeoff.primer_of.get(surface.id)
        path = str(substrate.get("preparation"))
        steps = edition.record(path).get("steps") if edition.has(path) else ()
        return {
            "id": surface.id,
            "label": self.saying.surface(surface),
            "substrate": surface.substrate,
            "orientation": surface.orientation,
            "area": self.json(surface.area),
            "area_why": None
            if surface.area is not None
            else self.words.say(self.answer.layout.why),
            "preparation": [self.preparation(step) for step in steps],
            "never": list(edition.record(path).texts("never", self.lang))
            if edition.has(path)
            else [],
            "primer": None if primer is None else primer.partition("/")[2],
            "primer_why": substrate.text("primer_why", self.lang)
            if substrate.has("primer_why")
            else None,
            "dry_before_primer": substrate.text("dry_before_primer", self.lang),
        }

    def preparation(self, step: Any) -> dict[str, Any]:
        standard = step.get("standard")
        wait = step.get("wait")
        return {
            "activity": str(step["activity"]).partition("/")[2],
            "text": step["do"][self.lang],
            "until": step["target"][self.lang],
            "wait": None if wait is None else wait[self.lang],
            "grit": self.saying.grit(step.get("grit")),
            "standard": self.statement(standard),
            "tools": [str(tool).partition("/")[2] for tool in step.get("tools", ())],
        }

    def statement(self, node: Any) -> dict[str, Any] | None:
        """Write down a published rule with its grade and source."""
        if node is None:
            return None
        basis = node["basis"]
        source = basis.get("source")
        return {
            "text": node["says"][self.lang],
            "grade": basis["grade"],
            "source": None if source is None else str(source).partition("/")[2],
            "locator": basis.get("locator"),
        }

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
                {"pack": pack, "name": self.words.name(f"packs/{pack}"), "count": count}
                for pack, count in supply.packs
            ],
            "leftover": self.amount(supply.leftover),
            "mixes": None
            if supply.mixes is None or supply.mixes.number is None
            else int(supply.mixes.number.value),
        }

    def amount(self, traced: Traced | None) -> dict[str, Any] | None:
        """Write an amount; what comes off a roll by length is said in feet and inches."""
        return self.json(traced, "run" if traced is not None and traced.unit == "in" else None)

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
                "why": self.words.say("no-rate"),
            }
            for record in self.tool_records()
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
            "label": self.words.say(f"time-{time.id.partition('/')[0]}"),
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
                    **self.preparation(p.record.get("steps")[p.step]),
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
                    "holds": [{"id": i, "text": text} for i, text in self.saying.holds(step)],
                }
            )
        return found

    def checks(self) -> list[dict[str, Any]]:
        records = [
            self.answer.edition.record(p) for p in self.answer.settled.detail.get("checks", ())
        ]
        return [
            {
                "id": record.id,
                "name": record.text("name", self.lang),
                "stage": record.get("stage"),
                "method": record.text("method", self.lang),
                "acceptance": record.text("acceptance", self.lang),
                "standard": self.statement(record.get("standard")),
            }
            for record in records
        ]

    def cautions(self) -> list[dict[str, Any]]:
        return [
            {
                "id": c.record.id,
                "name": c.record.text("name", self.lang),
                "severity": c.record.get("severity"),
                "text": c.record.text("say", self.lang),
                "measure": c.record.text("measure", self.lang),
                "rules": [self.statement(rule) for rule in c.record.get("rules", ())],
                "defers": c.record.text("defers", self.lang),
                "because": list(c.because),
            }
            for c in self.answer.cautions
        ]

    def tool_records(self) -> list[Record]:
        edition = self.answer.edition
        paths: dict[str, None] = {}
        for step in self.answer.procedure.steps:
            for part in step.preparations:
                paths |= dict.fromkeys(part.record.get("steps")[part.step].get("tools", ()))
            paths |= dict.fromkeys(step.activity.get("tools", ()))
            for work in self.answer.settled.detail.get("work", ()):
                if work["activity"] == step.activity.path:
                    paths |= dict.fromkeys(work.get("tools", ()))
        return [edition.record(path) for path in paths]

    def tool(self, record: Record) -> dict[str, Any]:
        return {
            "id": record.id,
            "name": record.text("name", self.lang),
            "sort": record.get("sort"),
            "use": record.text("use", self.lang),
        }
