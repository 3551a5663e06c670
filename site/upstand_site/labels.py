"""The handbook's own words (headings, buttons, column names), one file a language."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from upstand.edition.strict_yaml import read_file
from upstand.words.fill import fill
from upstand_site.markdown import join_units
from upstand_site.places import find_sources

FILE = "labels.yaml"


class UnknownLabel(KeyError):
    """A label that the file of its language does not have."""


@dataclass(frozen=True, slots=True)
class Labels:
    """Labels of one language, by dotted name."""

    lang: str
    texts: Mapping[str, str]

    def __call__(self, name: str, /, **slots: str) -> str:
        """Return a label with its slots filled; raises UnknownLabel, KeyError for a slot."""
        try:
            text = self.texts[name]
        except KeyError:
            raise UnknownLabel(f"{name} is missing in pages/{self.lang}/{FILE}") from None
        return fill(text, slots) if slots else text

    def has(self, name: str) -> bool:
        """Tell whether there is a label of this name."""
        return name in self.texts


def _flat(node: Mapping[str, Any], prefix: str = "") -> dict[str, str]:
    texts: dict[str, str] = {}
    for name, held in node.items():
        if isinstance(held, Mapping):
            texts.update(_flat(held, f"{prefix}{name}."))
        else:
            texts[f"{prefix}{name}"] = join_units(str(held))
    return texts


@cache
def load_labels(lang: str, sources: Path | None = None) -> Labels:
    """Read the labels of one language."""
    path = (sources or find_sources()) / "pages" / lang / FILE
    return Labels(lang, _flat(read_file(path, f"pages/{lang}/{FILE}")))
