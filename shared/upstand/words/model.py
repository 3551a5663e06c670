"""Sentences that are not yet in a language: which one it is, and what its slots hold.

Whatever computes returns these; a document fills them, in the reader's language and units.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal, TypeAlias, Union

from upstand.edition.model import Record
from upstand.quantity.traced import Traced

__all__ = ["Rounded", "Said", "Sentence", "Slot", "Span", "TradeText"]

Style = Literal["down", "up", "up-quarter", "run", "full-hour"]


@dataclass(frozen=True, slots=True)
class Rounded:
    """A quantity whose text is rounded to the safe side."""

    traced: Traced
    style: Style


@dataclass(frozen=True, slots=True)
class Span:
    """A range, its ends rounded to the safe side; an end that is None is left out."""

    low: Traced | None
    high: Traced | None
    styles: tuple[Style | None, Style | None] = (None, None)


@dataclass(frozen=True, slots=True)
class Sentence:
    """A sentence of the software, by its id in `words/*.yaml`."""

    id: str
    slots: Mapping[str, Slot] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class TradeText:
    """A text that stands in a record of the edition, at a dotted path in it.

    `small` begins it with a small letter, to stand inside a sentence.
    """

    record: Record
    path: str
    slots: Mapping[str, Slot] = field(default_factory=dict)
    small: bool = False


Said: TypeAlias = Sentence | TradeText
#: What a slot holds: a quantity, a record (its name), a text alike in every language, another
#: sentence, or several of these in a row ("a, b and c").
Slot: TypeAlias = Union[Traced, Rounded, Span, Record, str, Sentence, TradeText, "tuple[Slot, ...]"]
