"""A run along a wall or a line: which of its ends are free, and its lengths."""

from __future__ import annotations

from upstand.formulas import areas, runs
from upstand.layout.builder import Builder
from upstand.layout.model import Line
from upstand.quantity.traced import Traced, constant, reckon


class Run:
    """A run's two ends: which are free, and how long it is masked and in fleece."""

    def __init__(self, build: Builder, length: Traced, start: float = 0.0) -> None:
        """Read how many ends go on; the first that does is the right one."""
        self.start = start
        number = int(build.settled.choices.get("joined", 0))
        self.joined = constant(float(number), "1", "ends that go on")
        self.ends = reckon(runs.free_ends, joined=self.joined)
        self.free = number < 2, number < 1
        reveal, lap = build.reveal, build.lap
        self.length = length
        self.masked = reckon(runs.masked_run, length=length, ends=self.ends, reveal=reveal)
        self.fleece = reckon(runs.fleece_run, length=length, joined=self.joined, lap=lap)
        r, half = reveal.value, lap.value / 2.0
        self.inner = start, start + length.value
        #: How far it is masked along its axis.
        self.outer = tuple(
            at + way * r if free else at
            for at, way, free in zip(self.inner, (-1.0, 1.0), self.free, strict=True)
        )
        self.past_left, self.past_right = (0.0 if free else half for free in self.free)

    def end_tape(self, build: Builder, *heights: Traced) -> None:
        """Tape both free ends, across every face that ends there."""
        for height in heights:
            if self.ends.value:
                build.tape.append(build.times(height, self.ends.value, "free ends"))

    def goes_on(self, high: float, low: float = 0.0) -> list[Line]:
        """Lines of the ends that go on, across a face of the run."""
        ends = zip(self.inner, self.free, strict=True)
        return [((x, low), (x, high)) for x, free in ends if not free]


def list_ground(b: Builder, area: Traced, plates: list[Traced]) -> None:
    """List the roof with its islands, its plates taken out."""
    whole = b.plus(area, *b.islands)
    if plates:
        taken = b.plus(*plates)
        whole = reckon(areas.difference, whole=whole, part=taken)
    b.ground(whole)
