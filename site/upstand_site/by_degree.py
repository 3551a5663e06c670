"""A product's times at each whole °F, found by the engine: for the day clock and the search.

A time between two degrees is read at the next one to the safe side: pot life at the warmer, a wait
at the colder.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from math import ceil, floor
from pathlib import Path
from typing import Any

from upstand.edition import Edition, Record
from upstand.formulas import times as formulas
from upstand.quantity.traced import assumed, reckon
from upstand.stages.times import MARGINS, Temperatures, WorkingTime, times_of

MATERIAL = (32, 120)
"""Material's temperature, from and to, as in the form of the pot life."""

SURFACE = (20, 120)
WAITS = ("skin_time", "watertight", "cure")

Span = tuple[int, int] | None


def mixed_products(edition: Edition) -> list[Record]:
    """Return what has a pot life: the resin that is taken where none is named first."""
    first = str(edition.record("parameters/default-resin").get("choice"))
    found = [
        record
        for kind in ("resins", "primers")
        for record in edition.kind(kind).values()
        if record.has("pot_life") and edition.has(MARGINS[kind])
    ]
    return sorted(found, key=lambda record: record.path != first)


def pot_lives(edition: Edition, product: Record) -> list[Span]:
    """Return (shortest pot life, what to plan on) in whole minutes; None where none is on file."""
    margin = edition.record(MARGINS[product.kind]).value("value").traced("percent")
    found: list[Span] = []
    for time in _at_each(edition, product, "pot_life", MATERIAL):
        if time.low is None:
            found.append(None)
            continue
        kept = reckon(formulas.pot_life_kept, pot_life=time.low, margin=margin)
        found.append((floor(time.low.value + _SLACK), floor(kept.value + _SLACK)))
    return found


def waits(edition: Edition, product: Record, name: str) -> list[Span]:
    """Return (from, to) in whole minutes of a wait by the surface; None where none is on file."""
    return [
        None
        if time.low is None or time.high is None
        else (ceil(time.low.value - _SLACK), ceil(time.high.value - _SLACK))
        for time in _at_each(edition, product, name, SURFACE)
    ]


def covers(edition: Edition, product: Record) -> list[Span]:
    """Return by when the next layer follows, in whole minutes, by the warmest surface."""
    return [
        None if time.high is None else (floor(time.high.value + _SLACK),) * 2
        for time in _at_each(edition, product, "cover_within", SURFACE)
    ]


def write_times(out: Path, edition: Edition) -> Path:
    """Write them as a script, into the assets of a handbook."""
    held = {
        "material": MATERIAL[0],
        "surface": SURFACE[0],
        "planned": edition.record("parameters/planning-material-temperature")
        .value("value")
        .magnitude("degF"),
        "products": {product.id: _of(edition, product) for product in mixed_products(edition)},
    }
    path = out / "assets" / "times.js"
    path.parent.mkdir(parents=True, exist_ok=True)
    text = json.dumps(held, separators=(",", ":"))
    path.write_text(f"window.upstandTimes={text};\n", encoding="utf-8")
    return path


def used_at(product: Record) -> tuple[float, float]:
    """Return what the material may be at when mixed, °F: its store's least, its use's most."""
    return (
        product.value("storage").magnitude("degF", "low"),
        product.value("application").magnitude("degF", "high"),
    )


def _of(edition: Edition, product: Record) -> dict[str, Any]:
    found: dict[str, Any] = {"life": pot_lives(edition, product), "used": used_at(product)}
    found |= {name: waits(edition, product, name) for name in WAITS if product.has(name)}
    if product.has("cover_within"):
        found["cover_within"] = covers(edition, product)
    return found


_SLACK = 1e-6


def _at_each(
    edition: Edition, product: Record, name: str, span: tuple[int, int]
) -> Iterator[WorkingTime]:
    step = edition.record("parameters/halving-step").value("value").traced("delta_degF")
    for degrees in range(span[0], span[1] + 1):
        here = assumed(float(degrees), "degF", "/now")
        yield from times_of(product, (name,), Temperatures(here, here, False, here, here), step)
