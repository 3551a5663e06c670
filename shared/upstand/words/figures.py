"""Figures of the edition inside its own prose: `{parameters/fleece-lap}` stands for its value.

So a text that decides something by a number carries the number that the engine goes by, in the
reader's units, and never another.
"""

from __future__ import annotations

import re
from typing import Final

from upstand.edition.model import Edition, Value
from upstand.quantity.shown import Speech

__all__ = ["FIGURE", "fill_figures"]

FIGURE: Final = re.compile(r"\{((?:parameters|limits)/[a-z0-9-]{1,64})\}")


def fill_figures(text: str, edition: Edition, speech: Speech) -> str:
    """Put each figure in its place: a parameter's value, or the least that a limit asks for."""
    if "{" not in text:
        return text
    return FIGURE.sub(lambda found: _figure(found[1], edition, speech), text)


def _figure(path: str, edition: Edition, speech: Speech) -> str:
    record = edition.record(path)
    held = record.get("at_least" if record.kind == "limits" else "value")
    value: Value = held[0] if isinstance(held, tuple) else held
    return speech.text(value.traced(value.unit or "1"))
