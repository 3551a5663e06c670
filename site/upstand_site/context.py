"""What every page needs: the edition in one language, labels, links, values with their grade."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from posixpath import dirname, relpath
from typing import Any
from unicodedata import normalize

from upstand.edition import Edition, Record, Value
from upstand.quantity.shown import Speech
from upstand.quantity.traced import Traced
from upstand.quantity.units import UNITS, System
from upstand.words.figures import fill_figures
from upstand.words.store import label
from upstand_site.labels import Labels
from upstand_site.markdown import Page, box, bullets, join_units, prose

# a kind of record -> its page; {id} where each has one of its own, else an anchor on a shared one
PAGES: Mapping[str, str] = {
    "details": "details/{id}.md",
    "substrates": "substrates/{id}.md",
    "primers": "primers/{id}.md",
    "resins": "resins/{id}.md",
    "limits": "limits.md",
    "parameters": "limits.md",
    "cautions": "cautions.md",
    "checks": "checks.md",
    "tools": "tools.md",
    "packs": "packs.md",
    "fleeces": "packs.md",
    "sections": "sections.md",
    "sources": "sources.md",
    "terms": "terms.md",
    "troubles": "trouble.md",
    "topics": "look-up.md",
}

TERM_PAGES = ("terms.md", "terms-2.md", "terms-3.md", "terms-4.md")
CHECK_PAGES: Mapping[str, tuple[str, str]] = {
    "checks.md": ("confirm", " 1"),
    "checks-confirm-2.md": ("confirm", " 2"),
    "checks-hold.md": ("hold", ""),
    "checks-inspect.md": ("inspect", ""),
}
"""A page of checks -> their stage, and its number where the stage has several."""


@dataclass(frozen=True)
class Context:
    """One edition in one language."""

    edition: Edition
    lang: str
    label: Labels
    samples: Mapping[str, Any]
    marks: bool = False
    """Grades as one small mark each, told in a legend, instead of in words."""
    units: System = "us"
    """System of units that quantities are written in."""

    @cached_property
    def speech(self) -> Speech:
        """Writes quantities in the context's units, the same in every language."""
        return Speech(self.units, no_break=True)

    # names and links

    def name(self, path: str) -> str:
        """Return the name of a record as Markdown."""
        return prose(self.edition.record(path).text("name", self.lang))

    def text(self, record: Record, path: str) -> str:
        """Return prose of a record as Markdown."""
        return prose(self._figured(record.text(path, self.lang)))

    def texts(self, record: Record, path: str) -> list[str]:
        """Return a list of prose of a record as Markdown."""
        return [prose(self._figured(text)) for text in record.texts(path, self.lang)]

    def said(self, node: Any) -> str:
        """Return a node of prose in the reader's language as Markdown."""
        return prose(self._figured(str(node[self.lang])))

    def _figured(self, text: str) -> str:
        return fill_figures(text, self.edition, self.speech)

    @cached_property
    def pages_of_terms(self) -> Mapping[str, list[Record]]:
        """Return the words by their page, in the order of this language's alphabet."""
        records = sorted(self.edition.kind("terms").values(), key=self._letters)
        return _shared_out(records, TERM_PAGES)

    def _letters(self, record: Record) -> str:
        return normalize("NFKD", record.text("name", self.lang)).casefold()

    @cached_property
    def pages_of_checks(self) -> Mapping[str, list[Record]]:
        """Return the checks by their page: a stage each, a long stage shared out."""
        found: dict[str, list[Record]] = {}
        for stage in dict.fromkeys(stage for stage, _ in CHECK_PAGES.values()):
            files = tuple(file for file, (of, _) in CHECK_PAGES.items() if of == stage)
            held = [r for r in self.edition.kind("checks").values() if r.get("stage") == stage]
            found |= _shared_out(held, files)
        return found

    @cached_property
    def _split(self) -> Mapping[str, str]:
        """Return record -> the page it stands on, of kinds whose records fill several."""
        return {
            record.path: file
            for pages in (self.pages_of_terms, self.pages_of_checks)
            for file, records in pages.items()
            for record in records
        }

    def place(self, path: str) -> str:
        """Return the file that a record stands in, with a slot for its id where it has its own."""
        return self._split.get(path, PAGES[path.partition("/")[0]])

    def kinds_on(self, file: str) -> list[str]:
        """Return the kinds of record that share a page."""
        kinds = [kind for kind, target in PAGES.items() if target == file]
        kinds += ["terms"] if file in TERM_PAGES[1:] else []
        return kinds + (["checks"] if file in CHECK_PAGES and file != PAGES["checks"] else [])

    def href(self, page: Page | str, path: str) -> str:
        """Return the link from a page to a record's page or place on one."""
        id = path.partition("/")[2]
        target = self.place(path)
        here = page if isinstance(page, str) else page.path
        anchor = "" if "{id}" in target else f"#{id}"
        return relpath(target.format(id=id), dirname(here) or ".") + anchor

    def to(self, page: Page, target: str) -> str:
        """Return the link from a page to another page's file."""
        file, _, anchor = target.partition("#")
        return relpath(file, dirname(page.path) or ".") + (f"#{anchor}" if anchor else "")

    def link(self, page: Page, path: str, words: str | None = None) -> str:
        """Return a Markdown link to a record; its name alone where it has no page."""
        words = words or self.name(path)
        if path.partition("/")[0] not in PAGES or not self.edition.has(path):
            return words
        return f"[{words}]({self.href(page, path)})"

    def links(self, page: Page, paths: Iterable[Any]) -> str:
        """Return links to several records, in a row."""
        return ", ".join(self.link(page, str(path)) for path in paths)

    # values

    def quantity(self, traced: Traced) -> str:
        """Write a quantity with its unit."""
        return self.speech.text(traced)

    def amount(self, value: Value) -> str:
        """Write what a value holds: a number, a range, a time at its temperature, or words."""
        if value.window is not None:
            return prose(value.window[self.lang])
        return join_units(self._amount(value))

    def _amount(self, value: Value) -> str:
        if value.flag is not None:
            return self.label("yes" if value.flag else "no")
        if value.points:
            return self._table(value)
        if value.value is not None:
            return self._written(value.traced(str(value.unit or "1")))
        text = self._range(value)
        if value.at is None:
            return text
        return self.label("at-temperature", time=text, at=self.quantity(value.traced("degF", "at")))

    def _range(self, value: Value) -> str:
        unit = str(value.unit or "1")
        low = value.traced(unit, "low") if value.low is not None else None
        high = value.traced(unit, "high") if value.high is not None else None
        if low is not None and high is not None:
            if UNITS[unit] == "count":
                return f"{low.value:g}–{high.value:g}"
            return self.speech.span(low, high)
        if low is not None:
            return self.label("at-least", value=self._written(low))
        assert high is not None
        return self.label("at-most", value=self._written(high))

    def _written(self, traced: Traced) -> str:
        if UNITS.get(traced.unit) == "count":
            return f"{traced.value:g}"
        off_a_roll = traced.unit == "ft"
        return self.speech.text(traced, "run") if off_a_roll else self.quantity(traced)

    def _table(self, value: Value) -> str:
        rows = []
        for at, low, high in value.points:
            point = Value(value.where, value.grade, low=low, high=high, unit=value.unit)
            degrees = Value(value.where, value.grade, value=at, unit=value.at_unit)
            text = self._range(point)
            rows.append(self.label("at-temperature", time=text, at=self.amount(degrees)))
        return "; ".join(rows)

    def grade_word(self, grade: str) -> str:
        """Say a grade in a word or two."""
        return self.label(f"grade.{grade}")

    def grade(self, page: Page, value: Any) -> str:
        """Say a value's or a statement's grade in words, with its source and place in it."""
        if self.marks:
            return self.mark(value.grade if isinstance(value, Value) else value["basis"]["grade"])
        if isinstance(value, Value):
            grade, source, locator = value.grade, value.source, value.locator
        else:
            basis = value["basis"]
            grade, source, locator = basis["grade"], basis.get("source"), basis.get("locator")
        words = self.grade_word(grade)
        if source:
            words += f": {self.link(page, str(source))}"
        if locator:
            cited = prose(str(locator))
            words += f", {cited}" if self.lang == "en" else f', <span lang="en">{cited}</span>'
        return f'<span class="grade">({words})</span>'

    def mark(self, grade: str) -> str:
        """Return a grade's mark, as the legend explains it."""
        return f'<sup class="g">{self.label(f"mark.{grade}")}</sup>'

    def graded(self, page: Page, value: Value) -> str:
        """Write a value and its grade."""
        gap = "" if self.marks else " "
        return f"**{self.amount(value)}**{gap}{self.grade(page, value)}"

    def rows(self, page: Page, record: Record, fields: Iterable[str]) -> list[list[str]]:
        """Return (name, value, grade and note) for each field of a record that is there."""
        rows = []
        for field in fields:
            node = record.get(field)
            if not isinstance(node, Value):
                continue
            note = prose(node.note[self.lang]) if node.note else ""
            # what is on file of a resin is no full cure
            name = "set" if (record.kind, field) == ("resins", "cure") else field
            rows.append(
                [
                    self.label(f"field.{name}"),
                    f"**{self.amount(node)}**",
                    f"{self.grade(page, node)} {note}".strip(),
                ]
            )
        return rows

    # boxes that recur

    def stops(self, record: Record) -> list[str]:
        """Return a box for each place where work on a record stops, or somebody is asked."""
        boxes = []
        for stop in record.get("stops", ()):
            kind = "stop" if stop["state"] == "hold" else "ask"
            whom = self.whom(str(stop["whom"]))
            facts = bullets(self.said(fact) for fact in stop["facts"])
            body = "\n\n".join(
                [
                    f"**{self.label('clears')}** {self.said(stop['clears'])}",
                    f"**{self.label('ask-whom', whom=whom)}** {self.label('facts-ready')}",
                    facts,
                ]
            )
            boxes.append(box(kind, self.title(kind, self.said(stop["because"])), body))
        return boxes

    def whom(self, contact: str) -> str:
        """Name whom to ask."""
        return prose(label(f"whom-{contact}", self.lang))

    def title(self, kind: str, words: str) -> str:
        """Return a box's title: its word, then what it says."""
        return f"{self.label(f'box.{kind}')}: {words}"

    def plain(self, text: str) -> str:
        """Return a text of the engine's own, already in the reader's language, as Markdown."""
        return prose(text)

    def joined(self, *parts: str) -> str:
        """Join sentences, leaving out empty ones."""
        return join_units(" ".join(part for part in parts if part))


def _shared_out(records: list[Record], files: tuple[str, ...]) -> dict[str, list[Record]]:
    """Share records out over pages in even runs."""
    size = -(-len(records) // len(files))
    return {
        file: run for n, file in enumerate(files) if (run := records[n * size : (n + 1) * size])
    }
