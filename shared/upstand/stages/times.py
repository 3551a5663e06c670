"""Working times at the temperatures that rule them: pot life, cure, flash-off, windows."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Final, Literal

from upstand.edition import Edition, Record, Value
from upstand.formulas import times as formulas
from upstand.quantity.traced import Origin, Traced, assumed, reckon
from upstand.quantity.units import convert
from upstand.query.defaults import Settled
from upstand.query.model import Now
from upstand.recall import Recall

RESIN_TIMES = ("pot_life", "skin_time", "cure", "watertight", "recoat_within")
PRIMER_TIMES = ("pot_life", "cure", "flash_off", "cover_within")
#: What is kept off the pot life of each kind of product.
MARGINS = {"resins": "parameters/pot-life-margin", "primers": "parameters/primer-pot-life-margin"}
#: What has to pass before resin goes over a primer.
WAITS = ("cure", "flash_off")
NAMES = {
    "pot_life": "pot-life",
    "skin_time": "skin",
    "cure": "cure",
    "watertight": "watertight",
    "recoat_within": "recoat-within",
    "flash_off": "flash-off",
    "cover_within": "cover-within",
}


@dataclass(frozen=True, slots=True)
class WorkingTime:
    """One time in minutes at its temperature. Where there is no number, `why` says why.

    `low` is None for a window that has only an end; `window` is a time given in words only;
    `reference` tells that the temperature was not known and the stated one stands in; `sign` that
    what is on file instead of a number is how to tell that the wait is over.
    """

    id: str
    field: str
    product: Record
    low: Traced | None = None
    high: Traced | None = None
    at: Traced | None = None
    why: str | None = None
    range_from: Value | None = None
    window: bool = False
    reference: bool = False
    sign: bool = False


@dataclass(frozen=True, slots=True)
class Temperatures:
    """What the times go by, °F. None: not known. `planned` tells that the material was not.

    surface : the coldest, for waits. warmest : the warmest, for windows.
    """

    material: Traced
    surface: Traced | None
    planned: bool
    planning: Traced
    warmest: Traced | None = None

    def ruling(self, by: str | None) -> Traced | None:
        """Return the temperature that rules a time."""
        if by == "material":
            return self.material
        return self.warmest if by == "warmest-surface" else self.surface


@dataclass(frozen=True, slots=True)
class Timing:
    """Every working time of an answer, and the temperatures they hold at.

    usable_of : by product, the shortest pot life less the margin kept off it.
    """

    times: tuple[WorkingTime, ...]
    temperatures: Temperatures
    usable_of: Mapping[str, Traced] = field(default_factory=dict)
    by_id: Mapping[str, WorkingTime] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        """Index the times; the first of an id counts."""
        object.__setattr__(self, "by_id", {time.id: time for time in reversed(self.times)})

    def find(self, id: str) -> WorkingTime | None:
        """Return one time by its id, such as `cure/pu-2k`."""
        return self.by_id.get(id)

    def waits_unknown(self, primers: Iterable[Record]) -> tuple[Record, ...]:
        """Name the primers whose wait before resin has neither a number nor a sign on file.

        Out of the range that a primer is applied in nothing is said: a limit says so.
        """
        return tuple(primer for primer in primers if not self._wait_known(primer))

    def _wait_known(self, primer: Record) -> bool:
        # by path: what is remembered may hold the records of another copy of the edition
        waits = [t for t in self.times if t.product.path == primer.path and t.field in WAITS]
        return any(t.low is not None or t.sign or t.window or t.why == "range" for t in waits)


#: Details on one roof are mostly asked about in one weather.
_KEPT: Final[Recall[Timing]] = Recall(64)


def find_temperatures(now: Now, edition: Edition) -> Temperatures:
    """Choose the temperatures that times go by.

    Pot life goes by the material: where it is not known, by the warmest of air, surface and the
    planning temperature. Cure goes by the coldest surface, windows by the warmest; where one
    surface alone was measured it is both, and no surface temperature is unknown.
    """
    warmest = now.surface_warmest or now.surface
    planning = (
        edition.record("parameters/planning-material-temperature").value("value").traced("degF")
    )
    if now.material is not None:
        return Temperatures(now.material, now.surface, False, planning, warmest)
    known = [t for t in (planning, now.air, warmest) if t is not None]
    return Temperatures(max(known, key=lambda t: t.value), now.surface, True, planning, warmest)


def no_times(now: Now) -> Timing:
    """Return no time at all: the edition does not hold what times go by, and the verdict asks."""
    known = [t for t in (now.material, now.surface_warmest, now.surface, now.air) if t is not None]
    material = known[0] if known else assumed(70.0, "degF", "/now/material")
    return Timing((), Temperatures(material, now.surface, False, material))


def find_times(settled: Settled, primers: Sequence[Record], edition: Edition) -> Timing:
    """Work out every time of the resin and of each primer used; the last ones are remembered."""
    now = settled.query.now
    products = (settled.resin, *primers)
    key = (
        edition.digest,
        *(product.path for product in products),
        *(now.surface, now.surface_warmest, now.material or now.air, now.material is None),
    )
    return _KEPT.get(key, lambda: _times(now, products, edition))


def _times(now: Now, products: Sequence[Record], edition: Edition) -> Timing:
    temperatures = find_temperatures(now, edition)
    resin, *primers = products
    step = edition.record("parameters/halving-step").value("value").traced("delta_degF")
    times = [
        *times_of(resin, RESIN_TIMES, temperatures, step),
        *(t for primer in primers for t in times_of(primer, PRIMER_TIMES, temperatures, step)),
    ]
    usable_of = {}
    for time in times:
        kept = MARGINS[time.product.kind]
        if time.field == "pot_life" and time.low is not None and edition.has(kept):
            margin = edition.record(kept).value("value").traced("percent")
            usable_of[time.product.path] = reckon(
                formulas.pot_life_kept, pot_life=time.low, margin=margin
            )
    return Timing(tuple(times), temperatures, usable_of)


def times_of(
    product: Record, names: tuple[str, ...], temperatures: Temperatures, step: Traced
) -> Iterator[WorkingTime]:
    """Work out those of a product's times that are named, at the temperatures that rule them."""
    for name in names:
        if product.has(name):
            value = product.value(name)
            here = WorkingTime(f"{NAMES[name]}/{product.id}", name, product)
            yield _time(here, value, temperatures.ruling(value.by), step)


def _time(time: WorkingTime, value: Value, temperature: Traced | None, step: Traced) -> WorkingTime:
    """Bring a stated time to a temperature (°F); None: stated as it is, at its own temperature."""
    if value.window is not None:
        return replace(time, window=True)
    if temperature is not None and value.by != "material" and _outside(time.product, temperature):
        return replace(
            time, at=temperature, why="range", range_from=time.product.value("application")
        )
    if value.points:
        return _from_table(time, value, temperature)
    stated_at = value.traced("degF", "at")
    high = value.traced("min", "high")
    low = value.traced("min", "low") if value.low is not None else high
    if temperature is None:
        return replace(time, low=low, high=high, at=stated_at, reference=True)
    if value.scales == "halves":
        low, high = (_halved(t, value, stated_at, temperature, step) for t in (low, high))
    elif temperature.value < stated_at.value:
        return replace(time, at=temperature, why="below", sign=value.sign is not None)
    return replace(time, low=low, high=high, at=temperature)


def _outside(product: Record, temperature: Traced) -> bool:
    if not product.has("application"):
        return False
    given = product.value("application")
    low = given.low is not None and temperature.value < given.magnitude("degF", "low")
    high = given.high is not None and temperature.value > given.magnitude("degF", "high")
    return low or high


def _halved(
    stated: Traced, value: Value, stated_at: Traced, temperature: Traced, step: Traced
) -> Traced:
    halved = reckon(
        formulas.halved_time, stated=stated, at=stated_at, temperature=temperature, step=step
    )
    if value.keep == "shorter":
        return reckon(formulas.shorter, a=stated, b=halved)
    if value.keep == "longer":
        return reckon(formulas.longer, a=stated, b=halved)
    return halved


def _from_table(time: WorkingTime, value: Value, temperature: Traced | None) -> WorkingTime:
    """Read a table of times: straight in the logarithm between its points, never beyond them."""
    if temperature is None:
        return replace(time, why="table")
    points = [
        (
            _point(value, t, "at", "degF"),
            _point(value, a, "low", "min"),
            _point(value, b, "high", "min"),
        )
        for t, a, b in value.points
    ]
    where = temperature.value
    for here, there in zip(points, points[1:] or points, strict=False):
        if here[0].value <= where <= there[0].value:
            low, high = (_between(temperature, here, there, end) for end in (1, 2))
            return replace(time, low=low, high=high, at=temperature)
    return replace(time, at=temperature, why="table")


def _between(
    temperature: Traced, here: tuple[Traced, ...], there: tuple[Traced, ...], end: int
) -> Traced:
    if here[0].value == there[0].value:
        return here[end]
    return reckon(
        formulas.log_linear,
        temperature=temperature,
        t0=here[0],
        v0=here[end],
        t1=there[0],
        v1=there[end],
    )


def _point(value: Value, number: float, name: str, unit: str) -> Traced:
    held = value.at_unit if name == "at" else value.unit
    end = value.end(name)
    kind: Literal["edition", "overlay"] = "edition" if end.layer == "edition" else "overlay"
    return Traced(
        convert(number, str(held), unit), unit, Origin(kind, value.where, end.grade, end.source)
    )
