"""What one mix can lay within its pot life, and so how many mixes a job takes at least."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil
from typing import Literal

from upstand.edition import Edition, Record
from upstand.edition.applies import activities_of
from upstand.formulas import placing as formulas
from upstand.formulas.language.constants import HAIR
from upstand.layout import Layout
from upstand.quantity.traced import Traced, constant, measured, reckon, total
from upstand.query.defaults import Settled
from upstand.stages.times import Timing
from upstand.words.model import Rounded, Sentence, Slot

#: What is laid from one mix of resin, wet on wet.
LAYING = ("activities/base-coat", "activities/fleece", "activities/top-coat")

WhyNone = Literal[
    "one-part", "pot-life-unknown", "pot-life-short", "mixing-unknown", "no-area", "not-in-edition"
]


@dataclass(frozen=True, slots=True)
class Labor:
    """Work on one detail from one product: minutes of one worker, by activity.

    why : why there are none.
    """

    minutes: tuple[Traced, ...] = ()
    why: WhyNone | None = None


@dataclass(frozen=True, slots=True)
class Mixes:
    """Mixes of one product for a number of equal details; `why` where there is no number.

    number : mixes at least. parts : equal parts that a detail is laid in, 1 where one mix serves
    it whole. served : parts that one mix serves. left : minutes it can be laid in.
    """

    number: Traced | None = None
    parts: Traced | None = None
    served: Traced | None = None
    left: Traced | None = None
    why: WhyNone | None = None

    def say(self) -> Sentence | None:
        """Say how many mixes, or why their number is not known; None of what is not mixed."""
        if self.number is None or self.parts is None or self.served is None or self.left is None:
            return None if self.why in (None, "one-part") else Sentence(f"mixes-{self.why}")
        slots: dict[str, Slot] = {
            "mixes": self.number,
            "left": Rounded(self.left, "down"),
            "parts": self.parts,
            "served": self.served,
        }
        return Sentence("mixes-whole" if self.parts.value == 1.0 else "mixes-parts", slots)


def laying_labor(settled: Settled, layout: Layout, edition: Edition) -> Labor:
    """Minutes of base coat, fleece and top coat; what is laid in lengths takes less."""
    portion: Traced | None = constant(1.0, "1", "not laid in lengths")
    if settled.detail.get("in_lengths"):
        portion = parameter(edition, "laid-in-lengths", "1")
    paths = [path for path in activities_of(edition, settled.detail) if path in LAYING]
    return _labor([edition.record(path) for path in paths], layout, portion, edition)


def priming_labor(primer: Record, layout: Layout, edition: Edition) -> Labor:
    """Minutes of priming with one primer."""
    whole = constant(1.0, "1", "priming takes them whole")
    return _labor([edition.record(str(primer.get("activity")))], layout, whole, edition)


def _labor(
    activities: list[Record], layout: Layout, portion: Traced | None, edition: Edition
) -> Labor:
    if layout.coated is None:
        return Labor(why="no-area")
    up_to = parameter(edition, "minutes-hold-to", "in^2")
    known = all(activity.has("minutes") for activity in activities)
    if up_to is None or portion is None or not known:
        return Labor(why="not-in-edition")
    return Labor(
        tuple(
            reckon(
                formulas.minutes_by_area,
                minutes=activity.value("minutes").traced("min"),
                area=layout.coated,
                up_to=up_to,
                portion=portion,
            )
            for activity in activities
        )
    )


def parameter(edition: Edition, name: str, unit: str) -> Traced | None:
    """Read a figure that this stage reads; None where an older edition has none."""
    path = f"parameters/{name}"
    return edition.record(path).value("value").traced(unit) if edition.has(path) else None


def workers_on_a_detail(settled: Settled, edition: Edition) -> Traced:
    """Only so many of a crew work on one detail."""
    most = parameter(edition, "workers-on-a-detail", "1")
    return most if most is not None and settled.crew.value >= most.value else settled.crew


def count_mixes(
    product: Record, labor: Labor, count: Traced, workers: Traced, timing: Timing
) -> Mixes:
    """Count the mixes that `count` equal details take at least.

    What one mix serves it serves whole; a detail that one mix can't serve is laid in equal parts,
    as few as fit.
    """
    if product.get("parts") != 2:
        return Mixes(why="one-part")
    usable = timing.usable_of.get(product.path)
    if usable is None:
        return Mixes(why="pot-life-unknown")
    if not product.has("mixing"):
        return Mixes(why="mixing-unknown")
    if labor.why is not None:
        return Mixes(why=labor.why)
    mixing = product.value("mixing").traced("min")
    left = reckon(formulas.minutes_to_lay, usable=usable, mixing=mixing)
    if left.value < len(labor.minutes):
        return Mixes(left=left, why="pot-life-short")
    parts, laying = _parts(labor, left, workers)
    served = reckon(formulas.laid_in_time, left=left, laying=laying)
    number = reckon(formulas.mixes_for, count=count, parts=parts, served=served)
    return Mixes(number, parts, served, left)


def _parts(labor: Labor, left: Traced, workers: Traced) -> tuple[Traced, Traced]:
    """Divide a detail into the fewest equal parts that one mix can serve, each task its minute."""
    whole = sum(minutes.value for minutes in labor.minutes)
    number = max(1.0, float(ceil(whole / (left.value * workers.value) - HAIR)))
    while _lasts(labor, number, workers.value) > left.value:
        number += 1.0
    parts = measured(number, "1", "least parts that one mix can serve")
    tasks = [
        reckon(formulas.minutes_shared, minutes=minutes, parts=parts, workers=workers)
        for minutes in labor.minutes
    ]
    return parts, total("minutes of laying", tasks)


def _lasts(labor: Labor, parts: float, workers: float) -> float:
    return sum(formulas.minutes_shared(each.value, parts, workers) for each in labor.minutes)
