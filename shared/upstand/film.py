"""The door for film: was enough put on, and if not, how much more."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal

from upstand import __version__
from upstand.answer import Answer, answer
from upstand.edition import Edition, Record
from upstand.formulas import resin as resin_formulas
from upstand.formulas import supply
from upstand.quantity.traced import Traced, asked, assumed, reckon, total
from upstand.query.film import FilmQuery
from upstand.query.model import Now
from upstand.stages.coats import drink_of, wet_film_of
from upstand.stages.film import ByGage, ByPacks, Gage, judge_packs, judge_readings, readings_needed
from upstand.stages.materials import Stock, Supply
from upstand.stages.needs import Need

__all__ = ["Film", "film"]

#: The gage and the planes that are taken where none is named: our own choice.
STEP, PLANES, PER_PLANE = 5.0, 2, 3

Note = Literal[
    "film-short", "film-unsure", "film-few", "film-packs-short", "film-thick", "film-on-fleece",
    "film-top-on-rim", "film-laps-left-out", "film-more-readings", "film-detail-unknown",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Film:
    """Whether a layer is thick enough; `state` is what to do, `notes` why.

    wet : what a gage must read, mil. dry : what must be left, mil.
    """

    edition: Edition
    software: str
    query: FilmQuery
    resin: Record
    state: Literal["go", "ask", "hold"]
    notes: tuple[Note, ...]
    confirm: tuple[Note, ...]
    dry: Traced | None
    wet: Traced | None
    area: Traced | None
    gage: Gage
    by_gage: ByGage | None = None
    by_packs: ByPacks | None = None
    top_up: Supply | None = None
    answer: Answer | None = None


def film(query: FilmQuery, edition: Edition) -> Film:
    """Judge readings or packs against what the layer must have."""
    asked_about = _answer_of(query, edition)
    resin = _resin_of(query, asked_about, edition)
    area = query.area
    if asked_about is not None and asked_about.layout.coated is not None:
        fleece = asked_about.layout.fleece
        area = asked_about.layout.coated if query.layer == "top" or fleece is None else fleece.zone
    gage = Gage(query.teeth, STEP if query.step is None else query.step.value)
    layers = _layers(resin, edition)
    dry = layers[query.layer]
    found = Film(
        edition=edition,
        software=__version__,
        query=query,
        resin=resin,
        state="ask",
        notes=(),
        confirm=(),
        dry=dry,
        wet=wet_film_of(dry, resin),
        area=area,
        gage=gage,
        answer=asked_about,
    )
    if area is None:
        return replace(found, notes=("film-detail-unknown",))
    return _by_readings(found, area) if query.readings else _by_packs(found, area, layers)


def _answer_of(query: FilmQuery, edition: Edition) -> Answer | None:
    return None if query.detail is None else answer(replace(query.detail, now=Now()), edition)


def _resin_of(query: FilmQuery, asked_about: Answer | None, edition: Edition) -> Record:
    if asked_about is not None:
        return asked_about.settled.resin
    path = str(edition.record("parameters/default-resin").get("choice"))
    return edition.record(path if query.resin is None else f"resins/{query.resin}")


def _layers(resin: Record, edition: Edition) -> dict[str, Traced]:
    """What each layer must leave at least, dry [mil]; the total is without the fleece's own."""
    base = resin.value("layers.base").traced("mil")
    top = resin.value("layers.top_band").traced("mil", "low")
    drink = drink_of(edition.record(str(resin.get("fleece"))))
    below = total("base and what the fleece drinks", [base, drink])
    return {
        "base": base,
        "top": top,
        "base-by-packs": below,
        "total": total("base, drink and top", [below, top]),
        "most": total(
            "thickest: base, drink and top",
            [below, resin.value("layers.top_band").traced("mil", "high")],
        ),
    }


def _by_readings(found: Film, area: Traced) -> Film:
    query = found.query
    assert found.wet is not None
    needed = readings_needed(area.value / 144.0, query.planes or PLANES, PER_PLANE)
    judged = judge_readings(query.readings, found.wet, area, found.gage, needed)
    notes: list[Note] = []
    state: Literal["go", "ask", "hold"] = judged.state
    confirm: list[Note] = []
    if query.layer == "total":
        # a gage rides on the fleece: what it reads there is no film
        state = "ask" if state != "hold" else state
        notes.append("film-on-fleece")
    if query.layer == "top":
        confirm.append("film-top-on-rim")
    if judged.short:
        notes.append("film-short")
    if judged.unsure:
        notes.append("film-unsure")
    if len(query.readings) < needed:
        notes.append("film-few")
    if area.value / 144.0 > 25.0:
        confirm.append("film-more-readings")
    top_up = _packs_for(found, judged.top_up) if judged.top_up.value > 0.0 else None
    return replace(
        found,
        state=state,
        notes=tuple(notes),
        confirm=tuple(confirm),
        by_gage=judged,
        top_up=top_up,
    )


def _by_packs(found: Film, area: Traced, layers: dict[str, Traced]) -> Film:
    query, edition = found.query, found.edition
    allowance = edition.record("parameters/allowance").value("value").traced("percent")
    opened = total(
        "packs used",
        [
            reckon(
                supply.scaled,
                amount=edition.record(f"packs/{pack}").value("size").traced("gal"),
                count=asked(float(count), "1", "/packs_used"),
            )
            for pack, count in query.packs
        ],
    )
    left = query.left if query.left is not None else assumed(0.0, "gal", "/left")
    used = reckon(supply.leftover, opened=opened, need=left)
    if found.answer is not None:
        least = _least_of(found.answer)
        if least is None:
            return replace(found, notes=("film-detail-unknown",))
        judged = judge_packs(used, allowance, least_volume=least)
    else:
        name = "base-by-packs" if query.layer == "base" else query.layer
        judged = judge_packs(
            used,
            allowance,
            area=area,
            least_film=wet_film_of(layers[name], found.resin),
            most_film=wet_film_of(layers["most"], found.resin) if query.layer == "total" else None,
        )
    notes: list[Note] = ["film-packs-short"] if judged.state == "hold" else []
    if judged.thick:
        notes.append("film-thick")
    confirm: tuple[Note, ...] = () if found.answer is not None else ("film-laps-left-out",)
    top_up = _packs_for(found, judged.short) if judged.short.value > 0.0 else None
    return replace(
        found,
        state=judged.state,
        notes=tuple(notes),
        confirm=confirm,
        by_packs=judged,
        top_up=top_up,
    )


def _least_of(asked_about: Answer) -> Traced | None:
    """Least that a detail may have taken: its need with the top coat at the band's low end."""
    resin = asked_about.settled.resin
    need = asked_about.takeoff.materials[0].one.need
    top = next((coat for coat in asked_about.takeoff.coats if coat.id == "top"), None)
    if need is None or top is None:
        return None
    low = wet_film_of(resin.value("layers.top_band").traced("mil", "low"), resin)
    aim = wet_film_of(resin.value("layers.top").traced("mil"), resin)
    spared = reckon(supply.short_of, wanted=aim, found=low)
    less = reckon(resin_formulas.film_volume, area=top.area, thickness=spared)
    return reckon(supply.leftover, opened=need, need=less)


def _packs_for(found: Film, amount: Traced) -> Supply:
    return Stock(found.edition).supply(Need(found.resin, "resin", (), amount))


def quantities(found: Film) -> Iterator[tuple[str, Traced]]:
    """Name every quantity that is shown, by its place in the document."""
    if found.wet is not None:
        yield "least", found.wet
    if found.by_gage is not None:
        yield "mean", found.by_gage.mean
        yield "lowest", found.by_gage.lowest
        yield "short_by", found.by_gage.short_by
        yield "top_up/volume", found.by_gage.top_up
    if found.by_packs is not None:
        yield "net", found.by_packs.net
        yield "short", found.by_packs.short
        for name, traced in (
            ("mean", found.by_packs.mean),
            ("short_by", found.by_packs.short_by),
            ("least_volume", found.by_packs.least_volume),
        ):
            if traced is not None:
                yield name, traced
