"""Pieces that the schemas of questions are made of."""

from __future__ import annotations

from typing import Any

from marshmallow import Schema, fields, validate

__all__ = ["EDITION", "LANG", "OVERLAY", "UNITS", "choice", "flag", "id_of", "quantity", "whole"]

_QUANTITY = 40  # characters that are read


def _told(said: str, **more: Any) -> dict[str, Any]:
    return {"description": said, **more}


def quantity(said: str, example: str, required: bool = False) -> fields.String:
    """Make a field of a quantity written as text with its unit."""
    return fields.String(
        required=required,
        validate=validate.Length(min=1, max=_QUANTITY),
        metadata=_told(said, example=example),
    )


def id_of(said: str, example: str, required: bool = False) -> fields.String:
    """Make a field that holds the id of a record."""
    return fields.String(
        required=required,
        validate=validate.Length(min=1, max=64),
        metadata=_told(f"{said}; an id of the edition", example=example),
    )


def choice(said: str, *words: str) -> fields.String:
    """Make a field that holds one of a few words."""
    return fields.String(validate=validate.OneOf(words), metadata=_told(said))


def flag(said: str) -> fields.Boolean:
    """Make a field of true or false."""
    return fields.Boolean(metadata=_told(said))


def whole(said: str, least: int, most: int) -> fields.Integer:
    """Make a field of a whole number."""
    return fields.Integer(
        validate=validate.Range(min=least, max=most), metadata=_told(said), strict=True
    )


EDITION = fields.String(
    metadata=_told("which edition answers; else the newest published one", example="next")
)
OVERLAY = fields.String(
    metadata=_told(
        "id of an overlay to lay over it, for those who may use it (Authorization: Bearer <key>)"
    )
)
UNITS = choice("units of the answer; default us", "us", "si")
LANG = choice("language of the answer; default en, which governs", "en", "es")


class NowSchema(Schema):
    """What was measured on the roof; what is left out is unknown, never taken from elsewhere."""

    air = quantity("temperature of the air in the shade", "72 F")
    surface = quantity("temperature of the coldest surface", "78 F")
    material = quantity("temperature of the resin in its pack", "70 F")
    humidity = quantity("relative humidity, over water as weather services give it", "55 %")
    rain_chance = quantity("chance of rain until the film is watertight", "10 %")
    wind = quantity("wind, gusts included", "8 mph")
    wet = flag("whether a surface is wet or frosted")
