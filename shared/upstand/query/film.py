"""The question `film`: readings of a wet-film gage, or the packs that were used."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from marshmallow import Schema, ValidationError, fields

from upstand.edition import Edition
from upstand.quantity.traced import Traced, asked
from upstand.query.faults import Fault, QueryFaults, flatten, pointer
from upstand.query.fields import NULL, Choice, KnownId, QuantityField, Whole
from upstand.query.ids import said_ids
from upstand.query.model import Language, Query, System
from upstand.query.requirements import read_requirements
from upstand.query.strict import QuestionSchema, StrictSchema, listed, read_body, required
from upstand.query.table import KEPT
from upstand.telling.said import say

__all__ = ["FilmQuery", "read_film"]

MAX_READINGS = 2_000
LAYERS = ("base", "top", "total")
EXAMPLE = '{"layer": "base", "area": "2 sq ft", "readings": ["40 mil", "40 mil", "45 mil"]}'


@dataclass(frozen=True, slots=True)
class FilmQuery:
    """What was read or used, on which layer; lengths of film in mil, area in in², volumes in gal.

    `detail` is a question about one detail instead of an area; `packs` are (pack, how many).
    """

    layer: str
    resin: str | None = None
    area: Traced | None = None
    detail: Query | None = None
    readings: tuple[Traced, ...] = ()
    packs: tuple[tuple[str, int], ...] = ()
    left: Traced | None = None
    teeth: tuple[float, ...] = ()
    step: Traced | None = None
    planes: int | None = None
    units: System | None = None
    lang: Language = "en"


def _film(told: str, **more: Any) -> QuantityField:
    return QuantityField("film", "mil", above=0.0, most=1_000.0, bounds_say=told, **more)


class GageSchema(StrictSchema):
    """A notch gage: its teeth, or the step from each tooth to the next."""

    teeth = listed(_film(say("bounds-tooth")), 60, "teeth", '"20 mil"')
    step = _film(say("bounds-step"))


class PackSchema(StrictSchema):
    """One kind of pack, and how many of it were used."""

    pack = fields.Raw(required=True, error_messages={**NULL, **required('"pu-2k-1-qt"')})
    count = Whole(1, 10_000)


@lru_cache(maxsize=KEPT)
def schema_for(edition: Edition) -> Schema:
    """Return the request schema of an edition; made once for each."""

    class FilmSchema(QuestionSchema):
        layer = Choice(LAYERS, required=True, error_messages={**NULL, **required('"base"')})
        resin = KnownId(
            say("thing-resin"),
            lambda: edition.kind("resins"),
            said=lambda: said_ids(edition, "resins"),
        )
        area = QuantityField(
            "area",
            "in^2",
            above=0.0,
            most=144_000_000.0,
            bounds_say=say("bounds-area"),
        )
        detail = fields.Raw(error_messages=NULL)
        readings = listed(_film(say("bounds-reading")), MAX_READINGS, "readings", '"40 mil"')
        packs_used = listed(
            fields.Raw(error_messages=NULL),
            50,
            "packs",
            '{"pack": "pu-2k-1-qt", "count": 2}',
        )
        left = QuantityField(
            "volume", "gal", least=0.0, most=10_000.0, bounds_say=say("bounds-zero")
        )
        gauge = fields.Nested(
            GageSchema,
            error_messages={
                **NULL,
                "type": say("not-such-an-object", what=say("a-gauge"), example='{"step": "5 mil"}'),
            },
        )
        planes = Whole(1, 100)

    return FilmSchema()


def read_film(body: object, edition: Edition) -> FilmQuery:
    """Read what was measured or used; raises QueryFaults with everything wrong with it."""
    loaded = read_body(body, schema_for(edition), EXAMPLE)
    faults = list(_relations(loaded))
    packs = _packs(loaded.get("packs_used") or [], edition, faults)
    detail = None
    if "detail" in loaded:
        try:
            detail = read_requirements(_with_shared(loaded), edition)
        except QueryFaults as error:
            faults += [Fault(f"/detail{f.pointer}", f.detail) for f in error.faults]
    if faults:
        raise QueryFaults(faults)

    def quantity(name: str, unit: str) -> Traced | None:
        return asked(loaded[name], unit, pointer(name)) if name in loaded else None

    gauge = loaded.get("gauge") or {}
    return FilmQuery(
        layer=loaded["layer"],
        resin=loaded.get("resin"),
        area=quantity("area", "in^2"),
        detail=detail,
        readings=tuple(
            asked(value, "mil", pointer("readings", n))
            for n, value in enumerate(loaded.get("readings") or ())
        ),
        packs=packs,
        left=quantity("left", "gal"),
        teeth=tuple(sorted(set(gauge.get("teeth") or ()))),
        step=asked(gauge["step"], "mil", "/gauge/step") if "step" in gauge else None,
        planes=loaded.get("planes"),
        units=loaded.get("units"),
        lang=loaded.get("lang", "en"),
    )


def _with_shared(loaded: Mapping[str, Any]) -> Any:
    """Let the detail have the resin of the whole question where it names none."""
    detail = loaded["detail"]
    if isinstance(detail, Mapping) and "resin" in loaded and "resin" not in detail:
        return {**detail, "resin": loaded["resin"]}
    return detail


def _relations(loaded: Mapping[str, Any]) -> list[Fault]:
    faults = []
    readings, packs = loaded.get("readings"), loaded.get("packs_used")
    if bool(readings) == bool(packs):
        id = "readings-and-packs" if readings else "readings-or-packs"
        faults.append(Fault("/readings", say(id, [EXAMPLE], example=EXAMPLE)))
    if ("area" in loaded) == ("detail" in loaded):
        id = "area-and-detail" if "area" in loaded else "area-or-detail"
        faults.append(Fault("/area", say(id, ("2 sq ft",))))
    if "left" in loaded and not packs:
        faults.append(Fault("/left", say("left-without-packs")))
    gauge = loaded.get("gauge") or {}
    if "teeth" in gauge and "step" in gauge:
        faults.append(Fault("/gauge/step", say("beside-other", other="teeth")))
    if loaded.get("detail") is not None and packs and loaded.get("layer") != "total":
        faults.append(Fault("/layer", say("packs-judge-whole", ("total",))))
    return faults


def _packs(rows: list[Any], edition: Edition, faults: list[Fault]) -> tuple[tuple[str, int], ...]:
    """Read packs: ids alone, or objects with a count."""
    known = edition.kind("packs")
    found: dict[str, int] = {}
    for index, row in enumerate(rows):
        where = pointer("packs_used", index)
        if isinstance(row, str):
            row = {"pack": row}
        if not isinstance(row, Mapping):
            faults.append(Fault(where, say("not-a-pack", sorted(known))))
            continue
        try:
            held = PackSchema().load(dict(row))
            name = KnownId(say("thing-pack"), lambda: known).deserialize(held["pack"])
        except ValidationError as error:
            told = flatten(error.messages)
            faults += [Fault(where + f.pointer, f.detail) for f in told]
            continue
        if not known[name].has("size"):
            faults.append(Fault(where, say("pack-without-resin", name=name)))
            continue
        found[name] = found.get(name, 0) + held.get("count", 1)
    return tuple(found.items())
