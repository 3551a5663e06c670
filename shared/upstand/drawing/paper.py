"""A cut on paper: inches along the chain of faces it meets, and units off it to the film's side."""

from __future__ import annotations

import math
from dataclasses import dataclass

from upstand.drawing.chain import Chain, Leg
from upstand.drawing.svg import Pair


@dataclass(frozen=True, slots=True)
class Paper:
    """Maps the chain on to paper: inches along it, and units off it to the film's side."""

    chain: Chain
    scale: float
    x0: float
    y0: float

    def at(self, point: Pair) -> Pair:
        """Place a point of the cut [in]."""
        return (self.x0 + point[0] * self.scale, self.y0 - point[1] * self.scale)

    def normal(self, leg: Leg) -> Pair:
        """Return the direction to the film's side on paper: left of the way along."""
        (x1, y1), (x2, y2) = self.at(leg.start), self.at(leg.end)
        run = math.hypot(x2 - x1, y2 - y1)
        return ((y2 - y1) / run, -(x2 - x1) / run)

    def tangent(self, leg: Leg) -> Pair:
        """Return the direction along a leg on paper."""
        nx, ny = self.normal(leg)
        return (-ny, nx)

    def leg_at(self, along: float) -> int:
        """Return which leg a place along the chain lies on."""
        starts = self.chain.starts
        for index in range(len(self.chain.legs)):
            if along <= starts[index + 1] + 1e-9:
                return index
        return len(self.chain.legs) - 1

    def off(self, along: float, away: float, leg_index: int | None = None) -> Pair:
        """Return the point at a place along the chain, some units off it."""
        index = self.leg_at(along) if leg_index is None else leg_index
        leg = self.chain.legs[index]
        part = (along - self.chain.starts[index]) / leg.length
        x, y = self.at(
            (
                leg.start[0] + (leg.end[0] - leg.start[0]) * part,
                leg.start[1] + (leg.end[1] - leg.start[1]) * part,
            )
        )
        nx, ny = self.normal(leg)
        return (x + nx * away, y + ny * away)

    def corner(self, index: int, away: float) -> Pair:
        """Return the mitred point off the fold between a leg and the one before it."""
        before, after = self.chain.legs[index - 1], self.chain.legs[index]
        (ax, ay), (bx, by) = self.normal(before), self.normal(after)
        x, y = self.at(after.start)
        share = away / (1.0 + ax * bx + ay * by)
        return (x + (ax + bx) * share, y + (ay + by) * share)

    def closed_in(self, index: int) -> bool:
        """Whether the film fills the fold before a leg, rather than going round an edge."""
        before, after = self.chain.legs[index - 1], self.chain.legs[index]
        (ax, ay), (bx, by) = self.normal(before), self.normal(after)
        return ax * by - ay * bx > 0.0

    def run(self, first: float, last: float, away: float) -> list[Pair]:
        """Return the line from one place to another, some units off, mitred at the folds."""
        starts = self.chain.starts
        short = away / self.scale + 1e-9
        folds = [
            n for n in range(1, len(self.chain.legs)) if first - short <= starts[n] <= last + short
        ]
        points = []
        inner = [n for n in folds if self.closed_in(n)]
        if not any(
            0.0 <= starts[n] - first < short or 0.0 <= first - starts[n] < short for n in inner
        ):
            points.append(self.off(first, away, self._from(first)))
        for n in folds:
            if first < starts[n] < last or n in inner:
                points.append(self.corner(n, away))
        if not any(abs(starts[n] - last) < short for n in inner):
            points.append(self.off(last, away))
        return points

    def _from(self, along: float) -> int:
        """Return the leg that begins at a place, where one does."""
        starts = self.chain.starts
        for index in range(len(self.chain.legs)):
            if starts[index] - 1e-9 <= along < starts[index + 1] - 1e-9:
                return index
        return len(self.chain.legs) - 1
