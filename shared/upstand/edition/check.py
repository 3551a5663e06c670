"""Checking spec data: every rule of ``edition/rules`` over a folder of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from upstand.edition.faults import Fault
from upstand.edition.rules import RULES
from upstand.edition.source import Source

__all__ = ["Report", "check"]


@dataclass(frozen=True, slots=True)
class Report:
    """What a check found. ``counts``: kind -> grade -> how many values and statements."""

    faults: tuple[Fault, ...]
    counts: Mapping[str, Mapping[str, int]]

    @property
    def ok(self) -> bool:
        """Tell whether nothing is wrong."""
        return not self.faults


def check(root: Path | str, *, date: str | None = None) -> Report:
    """Return what is wrong with a folder of spec data, and how many values have which grade.

    ``root`` holds ``next``, ``editions`` and ``overlays``. ``date`` ("YYYY-MM-DD"), if given, is
    today: nothing can have been checked later.
    """
    source = Source.read(Path(root), date=date)
    faults = [fault for rule in RULES.values() for fault in rule(source)]
    return Report(tuple(faults), source.counts())
