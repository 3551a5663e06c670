"""What documents say of records alone, written once for each edition and language."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any

from upstand.edition import Edition, Record, Value
from upstand.edition.applies import limits_of
from upstand.quantity.shown import Speech
from upstand.words.fill import Words

__all__ = ["Shelf", "shelf_of", "write_statement"]

#: Editions with their overlays, in each language, that are kept written.
KEPT = 32


@dataclass(frozen=True, slots=True)
class _Key:
    digest: str
    status: str
    lang: str
    edition: Edition = field(compare=False)


def shelf_of(edition: Edition, lang: str) -> Shelf:
    """Return the shelf of an edition, as its digest tells it, in one language."""
    return _shelf(_Key(edition.digest, edition.status, lang, edition))


@lru_cache(KEPT)
def _shelf(key: _Key) -> Shelf:
    return Shelf(key.edition, key.lang)


def write_statement(node: Any, lang: str) -> dict[str, Any] | None:
    """Write down a measure said in words, with its grade and source."""
    if node is None:
        return None
    basis = node["basis"]
    source = basis.get("source")
    return {
        "text": node["says"][lang],
        "grade": basis["grade"],
        "source": None if source is None else str(source).partition("/")[2],
        "locator": basis.get("locator"),
    }


class Shelf:
    """Writes records down in one language; what is written once is kept."""

    def __init__(self, edition: Edition, lang: str) -> None:
        """Keep the edition; nothing is written yet."""
        self.edition, self.lang = edition, lang
        self._words = Words(lang, Speech("us"))
        self._written: dict[tuple[str, str], Any] = {}

    def name(self, path: str) -> str:
        """Name a record."""
        return self.edition.record(path).text("name", self.lang)

    def tool(self, record: Record) -> dict[str, Any]:
        """Write down a tool."""
        key = ("tool", record.path)
        if key not in self._written:
            self._written[key] = {
                "id": record.id,
                "name": record.text("name", self.lang),
                "sort": record.get("sort"),
                "use": record.text("use", self.lang),
            }
        return {**self._written[key]}

    def check(self, record: Record) -> dict[str, Any]:
        """Write down a check."""
        key = ("check", record.path)
        if key not in self._written:
            self._written[key] = {
                "id": record.id,
                "name": record.text("name", self.lang),
                "stage": record.get("stage"),
                "by": record.get("by"),
                "method": record.text("method", self.lang),
                "acceptance": record.text("acceptance", self.lang),
                "standard": self.statement(record.get("standard")),
            }
        return {**self._written[key]}

    def confirm(self, check: Record) -> dict[str, Any]:
        """Write down what of a check a person ticks on the roof."""
        key = ("confirm", check.path)
        if key not in self._written:
            self._written[key] = {
                "id": check.path,
                "name": check.text("name", self.lang),
                "text": check.text("method", self.lang),
                "acceptance": check.text("acceptance", self.lang),
                "whom": check.get("whom") and self._words.say(f"whom-{check.get('whom')}"),
                "by": check.get("by"),
                "standard": self.statement(check.get("standard")),
            }
        return {**self._written[key]}

    def caution(self, record: Record, because: tuple[str, ...]) -> dict[str, Any]:
        """Write down a caution, and what called it."""
        key = ("caution", record.path)
        if key not in self._written:
            self._written[key] = {
                "id": record.id,
                "name": record.text("name", self.lang),
                "severity": record.get("severity"),
                "short": self._short(record),
                "text": record.text("say", self.lang),
                "measure": record.text("measure", self.lang),
                "rules": [self.statement(rule) for rule in record.get("rules", ())],
                "defers": record.text("defers", self.lang),
            }
        return {**self._written[key], "because": list(because)}

    def _short(self, record: Record) -> str:
        """Say hazard and measure in a few words; an edition without them has name and measure."""
        if record.has("short"):
            return record.text("short", self.lang)
        measure = record.text("measure", self.lang).partition(". ")[0].rstrip(".")
        return f"{record.text('name', self.lang)}: {measure}"

    def preparation(self, path: str) -> list[dict[str, Any]]:
        """Write down the steps of a preparation; none where the edition has no such record."""
        return [{**step} for step in self._preparation(path)]

    def preparation_step(self, path: str, number: int) -> dict[str, Any]:
        """Write down one step of a preparation, counted from 0."""
        return {**self._preparation(path)[number]}

    def _preparation(self, path: str) -> list[dict[str, Any]]:
        key = ("preparation", path)
        if key not in self._written:
            known = self.edition.has(path)
            steps = self.edition.record(path).get("steps", ()) if known else ()
            self._written[key] = [self._step(step) for step in steps]
        found: list[dict[str, Any]] = self._written[key]
        return found

    def _step(self, step: Mapping[str, Any]) -> dict[str, Any]:
        wait = step.get("wait")
        return {
            "activity": str(step["activity"]).partition("/")[2],
            "text": step["do"][self.lang],
            "until": step["target"][self.lang],
            "wait": None if wait is None else wait[self.lang],
            "grit": self._grit(step.get("grit")),
            "standard": self.statement(step.get("standard")),
            "tools": [str(tool).partition("/")[2] for tool in step.get("tools", ())],
        }

    def never(self, path: str) -> list[str]:
        """Write down what a preparation or a product forbids."""
        if not self.edition.has(path) or not self.edition.record(path).has("never"):
            return []
        return list(self.edition.record(path).texts("never", self.lang))

    def statement(self, node: Any) -> dict[str, Any] | None:
        """Write down a published rule with its grade and source."""
        return write_statement(node, self.lang)

    def limit_sources(self, detail: Record) -> tuple[tuple[str, str, str], ...]:
        """Name the sources of a detail's limits: (source, grade, what for)."""
        key = ("limits", detail.path)
        if key not in self._written:
            self._written[key] = tuple(
                dict.fromkeys(
                    (value.source, value.grade, value.where)
                    for limit in limits_of(self.edition, detail)
                    for value in limit.values().values()
                    if value.source
                )
            )
        found: tuple[tuple[str, str, str], ...] = self._written[key]
        return found

    def _grit(self, value: Value | None) -> str | None:
        """Say the grit of an abrasive with its grade; None where the step has none."""
        if value is None:
            return None
        ends = [value.value, value.low, value.high]
        numbers = dict.fromkeys(f"{end:g}" for end in ends if end is not None)
        grade = self._words.say(f"grade-{value.grade}")
        return self._words.say("grit", numbers="–".join(numbers), grade=grade)
