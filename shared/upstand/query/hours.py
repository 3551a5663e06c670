"""The question `conditions` by the hour: a forecast or a list of hours, and when work goes on."""

from __future__ import annotations

import copy
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from marshmallow import Schema, ValidationError, fields

from upstand.edition import Edition
from upstand.quantity.traced import Traced, asked
from upstand.query.faults import Fault, QueryFaults, flatten, nearest, pointer
from upstand.query.fields import NULL, Choice, KnownId, QuantityField
from upstand.query.forecast import read_forecast
from upstand.query.model import Language, System
from upstand.query.now import read_now
from upstand.query.readings import READ, Hour, Hours, put_in_order, read_start, too_many
from upstand.query.strict import StrictSchema, reworded
from upstand.query.table import KEPT, table
from upstand.telling.said import say

__all__ = ["DAY", "HoursQuery", "by_hour", "read_hours"]

HOUR_EXAMPLE = '{"start": "2031-05-14T09:00-05:00", "air": "72 F", "humidity": "55 %"}'
#: When work begins and ends where nothing is said, in minutes of the day.
DAY = (7 * 60, 17 * 60 + 30)
_CLOCK = re.compile(r"([01]\d|2[0-3]):([0-5]\d)", re.ASCII)


@dataclass(frozen=True, slots=True)
class HoursQuery:
    """Hours of weather and what is done in them. Fields left None take a default.

    work : minutes of the day between which work goes on. above : how far a surface is over the air
    where none was measured [delta_degF]. place : latitude and longitude, for the sunset.
    """

    hours: Hours
    resin: str | None = None
    material: Traced | None = None
    above: Traced | None = None
    work: tuple[int, int] | None = None
    place: tuple[float, float] | None = None
    units: System | None = None
    lang: Language = "en"


class Clock(fields.Field[int]):
    """A time of day as text, 07:00; loads as its minute of the day."""

    default_error_messages = NULL

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> int:
        found = _CLOCK.fullmatch(value) if isinstance(value, str) else None
        if found is None:
            raise ValidationError(say("not-a-clock"))
        return int(found[1]) * 60 + int(found[2])


class Degrees(fields.Field[float]):
    """A latitude or a longitude, as a number of degrees."""

    default_error_messages = NULL

    def __init__(self, most: float, **kwargs: Any) -> None:
        """Keep how far from zero it may be."""
        super().__init__(**kwargs)
        self.most = most

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> float:
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise ValidationError(say("not-degrees", most=f"{self.most:g}"))
        if not -self.most <= value <= self.most:
            raise ValidationError(say("not-degrees", most=f"{self.most:g}"))
        return float(value)


def by_hour(body: object) -> bool:
    """Whether a body about the weather asks by the hour."""
    return isinstance(body, Mapping) and ("forecast" in body or "hours" in body)


def _schema(edition: Edition) -> Schema:
    class WorkSchema(StrictSchema):
        from_ = Clock(data_key="from")
        to = Clock()

    class PlaceSchema(StrictSchema):
        lat = Degrees(90.0, required=True)
        lon = Degrees(180.0, required=True)

    class MaterialSchema(StrictSchema):
        material = copy.copy(table(edition, "now")["material"])

    class HoursSchema(StrictSchema):
        resin = KnownId(say("thing-resin"), lambda: edition.kind("resins"))
        hours = fields.Raw(error_messages=NULL)
        forecast = fields.Raw(error_messages=NULL)
        now = fields.Nested(MaterialSchema, error_messages=NULL)
        surface_above_air = QuantityField(
            "temperature_difference",
            "delta_degF",
            least=-40.0,
            most=100.0,
            bounds_say=say("bounds-above-air"),
        )
        work = fields.Nested(WorkSchema, error_messages=NULL)
        place = fields.Nested(PlaceSchema, error_messages=NULL)
        units = Choice(("us", "si"))
        lang = Choice(("en", "es"))
        edition = fields.Raw(error_messages=NULL)
        overlay = fields.Raw(error_messages=NULL)

    return HoursSchema()


@lru_cache(maxsize=KEPT)
def schema_for(edition: Edition) -> Schema:
    """Return the request schema of an edition, less the readings; made once for each."""
    return _schema(edition)


@lru_cache(maxsize=KEPT)
def reading_fields(edition: Edition) -> Mapping[str, fields.Field[Any]]:
    """Return the fields of one hour of our own, by name."""
    known = {**table(edition, "now"), "dew_point": table(edition, "now")["air"]}
    return {name: known[name] for name in READ}


def read_hours(body: Mapping[str, Any], edition: Edition) -> HoursQuery:
    """Read a question about hours.

    Raises QueryFaults: everything wrong with it, each with its JSON pointer.
    """
    schema = schema_for(edition)
    try:
        loaded: Mapping[str, Any] = schema.load(dict(body))
    except ValidationError as error:
        raise QueryFaults(reworded(fault, schema) for fault in flatten(error.messages)) from None
    if "hours" in loaded and "forecast" in loaded:
        raise QueryFaults([Fault("/hours", say("beside-other", other="forecast"))])
    work = loaded.get("work", {})
    begins, ends = work.get("from_", DAY[0]), work.get("to", DAY[1])
    if begins >= ends:
        raise QueryFaults([Fault("/work", say("work-backwards"))])
    if "forecast" in loaded:
        hours = read_forecast(loaded["forecast"])
    else:
        hours = _listed(loaded["hours"], edition)
    place = loaded.get("place")
    above = loaded.get("surface_above_air")
    return HoursQuery(
        hours=hours,
        resin=loaded.get("resin"),
        material=read_now(loaded.get("now", {}), "now").material,
        above=None if above is None else asked(above, "delta_degF", "/surface_above_air"),
        work=(begins, ends) if work else None,
        place=(place["lat"], place["lon"]) if place else hours.place,
        units=loaded.get("units"),
        lang=loaded.get("lang", "en"),
    )


def _listed(given: object, edition: Edition) -> Hours:
    """Read hours of our own."""
    if not isinstance(given, Sequence) or isinstance(given, str) or not given:
        told = say("not-a-list-of-hours", [HOUR_EXAMPLE], example=HOUR_EXAMPLE)
        raise QueryFaults([Fault("/hours", told)])
    too_many(len(given), ("hours",))
    faults: list[Fault] = []
    read = [
        (number, hour)
        for number, one in enumerate(given)
        if (hour := _hour(number, one, edition, faults)) is not None
    ]
    if faults:
        raise QueryFaults(faults)
    return put_in_order(read, ("hours",), {})


def _hour(number: int, one: object, edition: Edition, faults: list[Fault]) -> Hour | None:
    if not isinstance(one, Mapping):
        told = say("not-an-object", [HOUR_EXAMPLE], example=HOUR_EXAMPLE)
        faults.append(Fault(pointer("hours", number), told))
        return None
    known = reading_fields(edition)
    for name in one:
        if name != "start" and name not in known:
            told = say("unknown-field", nearest=nearest(str(name), ("start", *known)))
            faults.append(Fault(pointer("hours", number, str(name)), told))
    start = read_start(one.get("start"))
    if start is None:
        faults.append(Fault(pointer("hours", number, "start"), say("hour-start")))
        return None
    readings: dict[str, Traced] = {}
    for name, unit in READ.items():
        if one.get(name) is None:
            continue
        try:
            value: Any = known[name].deserialize(one[name])
        except ValidationError as error:
            faults += flatten(error.messages, "hours", number, name)
            continue
        readings[name] = asked(value, unit, f"/hours/{number}/{name}")
    return Hour(start, 60.0, **readings)
