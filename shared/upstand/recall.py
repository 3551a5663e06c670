"""What was made lately, by what it was made from: questions that share a part share its work.

Each stage says by what it can be found again; how much is kept, and what goes first, stands here.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Hashable
from typing import Generic, TypeVar

__all__ = ["Recall"]

T = TypeVar("T")


class Recall(Generic[T]):
    """Keeps the last so many results; the one unused longest goes first.

    >>> squares: Recall[int] = Recall(2)
    >>> squares.get(3, lambda: 9), squares.get(3, lambda: 0)
    (9, 9)
    """

    def __init__(self, most: int) -> None:
        """Keep nothing yet, and never more than `most`."""
        self._most = most
        self._held: OrderedDict[Hashable, T] = OrderedDict()

    def get(self, key: Hashable, make: Callable[[], T]) -> T:
        """Return what is kept under the key, or make it; what making raises is not kept."""
        held = self._held
        try:
            found = held[key]
            held.move_to_end(key)
        except KeyError:  # not kept, or another thread's result just took its place
            found = held[key] = make()
            while len(held) > self._most:
                try:
                    held.popitem(last=False)
                except KeyError:
                    break
        return found
