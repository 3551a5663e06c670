"""Materials and totals, written down: needs, what to have ready, packs "at least", mixes."""

from __future__ import annotations

from typing import Any

from upstand.document.parts import write_amount
from upstand.document.sentences import Saying
from upstand.document.shelf import Shelf
from upstand.quantity.traced import Traced
from upstand.stages.materials import Material, Supply

__all__ = ["MaterialsWriter"]

#: Sorts of tool that are used up, and so are materials to bring.
USED_UP = ("cleaner", "abrasive", "consumable")


class MaterialsWriter:
    """Writes the materials of one answer, for one detail and for every one of the count."""

    def __init__(self, saying: Saying, shelf: Shelf) -> None:
        """Keep what says it."""
        self.saying, self.shelf, self.answer = saying, shelf, saying.answer
        self.words, self.lang, self.json = saying.words, saying.lang, saying.speech.json
        self._supplies: dict[int, dict[str, Any]] = {}

    def materials(self) -> list[dict[str, Any]]:
        """Write each product with its lines, then what is used up without a rate on file."""
        return [self._material(m) for m in self.answer.takeoff.materials] + self._sundries()

    def _supply(self, supply: Supply) -> dict[str, Any]:
        """Write a supply; that of one detail is that of all where the count is one."""
        if id(supply) not in self._supplies:
            self._supplies[id(supply)] = self._written(supply)
        return self._supplies[id(supply)]

    def _written(self, supply: Supply) -> dict[str, Any]:
        return {
            "need": self._amount(supply.need),
            "with_allowance": self._amount(supply.with_allowance),
            "packs": [
                {"pack": pack, "name": self.shelf.name(f"packs/{pack}"), "count": count}
                for pack, count in supply.packs
            ],
            "leftover": self._amount(supply.leftover),
            "mixes": None
            if supply.mixes is None or supply.mixes.number is None
            else int(supply.mixes.number.value),
            "lay_within": None if supply.mixes is None else self.json(supply.mixes.left, "down"),
            "mixes_text": " ".join(self.words.said(said) for said in supply.about_mixes()),
        }

    def _amount(self, traced: Traced | None) -> dict[str, Any] | None:
        return write_amount(traced, self.words)

    def _material(self, material: Material) -> dict[str, Any]:
        record = material.record
        why = None
        if material.one.need is None:
            # where all is laid out, a question above is open: what a surface is of
            layout = self.answer.layout
            why = self.words.say("no-quantity-ask" if layout.built else layout.why)
        return {
            "id": record.id,
            "kind": material.kind,
            "name": record.text("name", self.lang),
            "lines": [
                {
                    "id": line.id,
                    "label": self._line_label(line.id, line.surface),
                    "surface": line.surface,
                    "amount": self._amount(line.amount),
                }
                for line in material.lines
            ],
            **self._supply(material.one),
            "why": why,
            "neighbours": list(record.texts("neighbours", self.lang))
            if record.has("neighbours")
            else [],
        }

    def _line_label(self, line: str, surface: str | None) -> str:
        name = line.partition("/")[0]
        if surface is None:
            return self.words.say(f"line-{name}")
        label = self.saying.surface(self.saying.surfaces[surface])
        return self.words.say(f"line-{name}", surface=label)

    def _sundries(self) -> list[dict[str, Any]]:
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
        """Write what every one of the count takes together."""
        totals = self.answer.takeoff.totals
        return {
            "count": self.answer.settled.count,
            **{name: self._amount(amount) for name, amount in totals.items()},
            "materials": [
                {
                    "id": m.record.id,
                    "kind": m.kind,
                    "name": m.record.text("name", self.lang),
                    **self._supply(m.all),
                }
                for m in self.answer.takeoff.materials
            ],
        }
