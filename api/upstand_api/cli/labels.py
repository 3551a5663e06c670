"""Labels of the terminal in the reader's language.

Words of the trade are the edition's terms; sentences and short labels are the software's, `cli-…`.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from upstand.edition import Edition
from upstand.quantity.shown import Speech
from upstand.words.fill import Words


class Labels:
    """Says labels in one language; words of the trade and sentences come from one edition."""

    def __init__(self, edition: Edition, lang: str) -> None:
        """Keep the edition and the language, `en` or `es`."""
        self.edition, self.lang = edition, lang
        self.words = Words(lang, Speech("us"))

    def __getitem__(self, label: str) -> str:
        """Return a short label."""
        return self.words.say(f"cli-{label}")

    def say(self, sentence: str, /, **slots: str) -> str:
        """Return a sentence of the terminal's own."""
        return self.words.say(f"cli-{sentence}", **slots)

    def grade(self, grade: str) -> str:
        """Say how well a value of this grade is known."""
        return self.words.say(f"grade-{grade}")

    def rule(self, statement: Mapping[str, Any]) -> str:
        """Say a rule with its grade, and the source where one is named."""
        source = statement["source"]
        named = "" if source is None else f": {self.name(f'sources/{source}')}"
        return f"{statement['text']} ({self.grade(statement['grade'])}{named})"

    def rule_lead(self, statement: Mapping[str, Any]) -> str:
        """Return what leads a rule: published only where a source is named."""
        return f"{self['published' if statement['source'] else 'measure-of']}: "

    def term(self, term: str) -> str:
        """Return a word of the trade, such as `height` or `hold-point`."""
        return self.edition.record(f"terms/{term}").text("name", self.lang)

    def name(self, path: str) -> str:
        """Return a record's name; the id itself where the edition has no such record."""
        if not self.edition.has(path):
            return path.partition("/")[2]
        return self.edition.record(path).text("name", self.lang)
