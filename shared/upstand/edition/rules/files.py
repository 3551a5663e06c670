"""Every file is readable: strict YAML, one thing a file, under its kind, named by its id."""

from __future__ import annotations

from collections.abc import Iterator

from upstand.edition.faults import Fault
from upstand.edition.source import Source


def check(source: Source) -> Iterator[Fault]:
    """Yield what reading the folder found."""
    yield from source.file_faults
