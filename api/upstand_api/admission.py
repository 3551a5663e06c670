"""What one process takes on: answers in a line, and requests a minute from one address."""

from __future__ import annotations

import re
import threading
import time
from collections import OrderedDict
from collections.abc import Iterator
from contextlib import contextmanager

from upstand.telling.said import say
from upstand_api.http.problems import Problem, problem

__all__ = ["LARGE", "Gate", "Rate", "is_large"]

LARGE = 40
"""Weight of a body from which on it is large work; a usual detail has 5 to 15."""

ROLLS_IN = 240.0
"""Inches from which on a side is cut in so many pieces that it weighs something."""

_SIZE = re.compile(r"\s*([\d,]+(?:\.\d+)?)\s*(in|\"|ft|'|mm|m)(?![a-z])")
_INCHES = {"in": 1.0, '"': 1.0, "ft": 12.0, "'": 12.0, "mm": 1 / 25.4, "m": 1000 / 25.4}
_PIECES = 10
"""Pieces of one kind that weigh as much as one thing more in a list."""


def is_large(body: object) -> bool:
    """Tell whether the answer to a body may take long: by how much it holds, how many, how far.

    Each list and object weighs one, ten pieces of a kind as much. A long side weighs by its
    square, as pieces in both directions do; what can't be read weighs nothing, and is refused.

    >>> is_large({"plates": [{}] * 10}), is_large({"plates": [{}] * 50})
    (False, True)
    >>> is_large({"flange": "40 ft"}), is_large({"flange": "250 ft"})
    (False, True)
    >>> is_large({"pieces": [{"id": "a", "width": "4 in", "length": "7 in", "count": 2000}]})
    True
    """
    weight, open_ends = 0.0, [body]
    while open_ends and weight < LARGE:
        node = open_ends.pop()
        if isinstance(node, dict):
            weight += 1.0
            open_ends.extend(node.values())
        elif isinstance(node, list):
            weight += 1.0
            weight += sum(_count(each) for each in node) / _PIECES
            open_ends.extend(node)
        elif isinstance(node, str):
            weight += (_inches(node) / ROLLS_IN) ** 2
    return weight >= LARGE


def _count(entry: object) -> float:
    """Return how many there are of an entry of a list, where it says so."""
    count = entry.get("count") if isinstance(entry, dict) else None
    return min(count, 1e6) if isinstance(count, int | float) else 0.0


def _inches(text: str) -> float:
    """Read how long a text is as a size, roughly; what is no size has no length."""
    found = _SIZE.match(text[:40])
    return float(found[1].replace(",", "") or 0) * _INCHES[found[2]] if found else 0.0


class Gate:
    """Computes one answer at a time; a few wait in line, and who comes when it is full is refused.

    One at a time, since threads that compute side by side in Python only hold each other up.
    """

    def __init__(self, most: int, wait_s: float = 2.0) -> None:
        """Keep how many may be inside, computing or in line, and how long one waits in seconds."""
        self._places = threading.BoundedSemaphore(most)
        self._turn = threading.Lock()
        self._wait_s = wait_s

    @contextmanager
    def inside(self) -> Iterator[None]:
        """Hold a place while something is computed; raises Problem 503."""
        if not self._places.acquire(blocking=False):
            raise self._refusal()
        try:
            if not self._turn.acquire(timeout=self._wait_s):
                raise self._refusal()
            try:
                yield
            finally:
                self._turn.release()
        finally:
            self._places.release()

    def _refusal(self) -> Problem:
        return problem(503, say("too-busy"), Retry_After="2")


class Rate:
    """Counts requests of each address: a bucket that fills again evenly over the minute."""

    MOST_ADDRESSES = 10_000

    def __init__(self, per_minute: int) -> None:
        """Keep the most requests a minute; 0 sets no limit."""
        self.per_minute = per_minute
        self._buckets: OrderedDict[str, tuple[float, float]] = OrderedDict()
        self._lock = threading.Lock()

    def take(self, address: str, now_s: float | None = None) -> None:
        """Count one request of an address; raises Problem 429."""
        if not self.per_minute:
            return
        now = time.monotonic() if now_s is None else now_s
        with self._lock:
            left, since = self._buckets.pop(address, (float(self.per_minute), now))
            left = min(float(self.per_minute), left + (now - since) * self.per_minute / 60.0)
            taken = left >= 1.0
            self._buckets[address] = (left - 1.0 if taken else left, now)
            if len(self._buckets) > self.MOST_ADDRESSES:
                self._buckets.popitem(last=False)
        if not taken:
            wait_s = int((1.0 - left) * 60.0 / self.per_minute) + 1
            raise problem(
                429,
                say("too-often", most=str(self.per_minute), wait=str(wait_s)),
                Retry_After=str(wait_s),
            )
