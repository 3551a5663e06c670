"""What was measured on the roof: temperatures, humidity, wind, rain, and whether it is wet."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from marshmallow import Schema

from upstand.edition import Edition
from upstand.quantity.traced import asked
from upstand.query.faults import pointer
from upstand.query.model import Now
from upstand.query.strict import StrictSchema
from upstand.query.table import table

UNITS = {
    "air": "degF",
    "surface": "degF",
    "surface_warmest": "degF",
    "material": "degF",
    "humidity": "percent",
    "rain_chance": "percent",
    "wind": "mph",
}


def now_schema(edition: Edition) -> type[Schema]:
    """Make the schema of what was measured, from the edition's table of inputs."""
    return StrictSchema.from_dict(dict(table(edition, "now")), name="NowSchema")


def read_now(loaded: Mapping[str, Any], *place: str | int) -> Now:
    """Make readings of what the schema let through: °F, percent and mph, with their pointers."""
    readings = {
        name: asked(loaded[name], unit, pointer(*place, name))
        for name, unit in UNITS.items()
        if loaded.get(name) is not None
    }
    return Now(**readings, wet=loaded.get("wet"), at=loaded.get("at"))
