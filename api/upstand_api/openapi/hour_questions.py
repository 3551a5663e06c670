"""What is asked about the weather hour by hour: the schema of the question."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from upstand.query.readings import MAX_HOURS, READ
from upstand_api.openapi.notation import PATTERN

__all__ = ["schema"]

#: Keys that mean the same in both questions about the weather.
SHARED = ("resin", "units", "lang", "edition", "overlay")


def schema(readings: Mapping[str, Any], now: Mapping[str, Any]) -> dict[str, Any]:
    """Return the component; `readings` are those of one moment, `now` the question about it."""
    told = {name: {**readings.get(name, readings["air"])} for name in READ}
    told["dew_point"]["description"] = "Dew point over water; else it is computed from humidity"
    for reading in told.values():
        reading["type"] = [reading["type"], "null"]
    hour = {
        "type": "object",
        "description": "An hour; a reading that is left out or null is unknown",
        "properties": {
            "start": {
                "type": "string",
                "description": "when it begins, with its offset",
                "example": "2031-05-14T09:00-05:00",
            },
            **told,
        },
        "required": ["start"],
        "additionalProperties": False,
    }
    clock = {"type": "string", "pattern": "^([01][0-9]|2[0-3]):[0-5][0-9]$", "example": "07:00"}
    properties = {
        **{name: now[name] for name in SHARED},
        "hours": {
            "type": "array",
            "items": hour,
            "minItems": 1,
            "maxItems": MAX_HOURS,
            "description": "hours of our own",
        },
        "forecast": {
            "type": "object",
            "description": "instead of hours: the public weather service's hourly GeoJSON feature, "
            f"as downloaded; at most {MAX_HOURS} hours",
        },
        "now": {
            "type": "object",
            "description": "the material's temperature; without it the warm side is planned",
            "properties": {"material": readings["material"]},
            "additionalProperties": False,
        },
        "surface_above_air": {
            "type": "string",
            "maxLength": 40,
            "pattern": PATTERN,
            "description": "how far surfaces are over the air, where none was measured",
            "example": "6 F",
        },
        "work": {
            "type": "object",
            "description": "when work goes on; default 07:00 to 17:30",
            "properties": {"from": clock, "to": {**clock, "example": "17:30"}},
            "additionalProperties": False,
        },
        "place": {
            "type": "object",
            "description": "for the sunset; default: the forecast's own",
            "properties": {
                "lat": {"type": "number", "minimum": -90, "maximum": 90},
                "lon": {"type": "number", "minimum": -180, "maximum": 180},
            },
            "required": ["lat", "lon"],
            "additionalProperties": False,
        },
    }
    return {
        "type": "object",
        "properties": properties,
        "additionalProperties": False,
        "oneOf": [{"required": ["hours"]}, {"required": ["forecast"]}],
    }
