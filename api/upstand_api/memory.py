"""What the collector of a process that serves is told."""

from __future__ import annotations

import gc

__all__ = ["settle"]


def settle() -> None:
    """Keep the collector off what was loaded, and from walking each answer on its way out.

    What stays for good is never walked again: no pauses, and processes that part share its pages.
    An answer is some ten thousand objects that all go at once when they are no longer named.
    """
    gc.collect()
    gc.freeze()
    gc.set_threshold(20_000, 20, 50)
