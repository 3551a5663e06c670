"""The software's own sentences and labels, read once from the YAML files beside this module."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import NamedTuple

from upstand import LANGUAGES
from upstand.telling.sheet import read_sheet

__all__ = ["Text", "label", "read_words", "texts"]


class Text(NamedTuple):
    """One sentence or label in both languages."""

    en: str
    es: str


def read_words(folder: Path) -> dict[str, Text]:
    """Read every file of a folder. Raises ValueError for an id that stands twice."""
    found: dict[str, Text] = {}
    for file in sorted(folder.glob("*.yaml")):
        for id, both in read_sheet(file.read_text(encoding="utf-8")).items():
            if id in found:
                raise ValueError(f"{file.name}: {id} stands in another file too")
            found[id] = Text(both["en"], both["es"])
    return found


@cache
def texts() -> Mapping[str, Text]:
    """Return every sentence and label by its id."""
    return read_words(Path(__file__).parent)


def label(id: str, lang: str) -> str:
    """Return a sentence or label as it stands, its slots open. KeyError where there is none.

    >>> label("dew-point", "es")
    'punto de rocío'
    """
    text = texts()[id]
    return text.en if lang == "en" else text[LANGUAGES.index(lang)]
