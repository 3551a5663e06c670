"""What an earlier edition lacks of what this software reads: it is asked about, never an error."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Final, TypeVar

from upstand.edition.faults import UnknownRecord, UnknownValue

__all__ = ["LACKING", "Lacks"]

LACKING: Final = (UnknownRecord, UnknownValue)

T = TypeVar("T")


class Lacks:
    """Runs stages and keeps what they lack, each once, in order."""

    def __init__(self, wanted: Iterable[str] = ()) -> None:
        """Begin with what is known to be lacking."""
        self.wanted: dict[str, None] = dict.fromkeys(wanted)

    def add(self, wanted: Iterable[str]) -> None:
        """Add what another stage found lacking."""
        self.wanted.update(dict.fromkeys(wanted))

    def or_else(self, stage: Callable[[], T], instead: Callable[[], T]) -> T:
        """Run a stage, or take something instead where the edition lacks what it reads."""
        try:
            return stage()
        except LACKING as lack:
            self.wanted[lack.wanted] = None
            return instead()
