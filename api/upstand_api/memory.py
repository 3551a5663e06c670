"""What the interpreter is told of a process that loads, serves, ends."""

from __future__ import annotations

import gc
import sys
from collections.abc import Iterator
from contextlib import contextmanager

__all__ = ["end", "loading", "settle"]


@contextmanager
def loading() -> Iterator[None]:
    """Keep the collector back while modules and data are loaded: nearly all of it stays."""
    before = gc.get_threshold()
    gc.set_threshold(100_000, 20, 100)
    try:
        yield
    finally:
        gc.set_threshold(*before)


def settle() -> None:
    """Keep the collector off what was loaded, and from walking each answer on its way out.

    What stays for good is never walked again: no pauses, and processes that part share its pages.
    An answer is some ten thousand objects that all go at once when they are no longer named.
    Threads take turns at longer intervals: one answer is done in one or two of them.
    """
    gc.collect()
    gc.freeze()
    gc.set_threshold(20_000, 3, 300)  # little at a time: no answer waits for a long walk
    sys.setswitchinterval(0.02)


def end() -> None:
    """Leave what is held to the system: the process ends."""
    gc.freeze()
