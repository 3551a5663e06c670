"""Schemas of what the API is asked: made from the schemas that read it, and the table of inputs.

A field is described by its record: what it is called, how it is measured, what is taken where
nothing is said. Fields of the service itself are described here.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from marshmallow import Schema, fields, validate

from upstand.edition import Edition
from upstand.query import conditions, requirements
from upstand.query.drawing import VIEWS
from upstand.query.fields import Choice, Flag, KnownId, Moment, QuantityField, Whole
from upstand.query.table import Input, inputs
from upstand_api.openapi import day_questions as day
from upstand_api.openapi import hour_questions
from upstand_api.openapi.notation import PATTERN

__all__ = ["CONDITIONS", "CUTLIST", "DRAWING", "FILM", "REQUIREMENTS", "TAKEOFF", "schemas"]

REQUIREMENTS: Final = "Requirements"
CONDITIONS: Final = "Conditions"
DRAWING: Final = "Drawing"
FILM: Final = "FilmQuestion"
CUTLIST: Final = "CutListQuestion"
TAKEOFF: Final = "TakeOffQuestion"

QUANTITY = 40  # characters that are read

TOLD: Final[Mapping[str, str]] = {
    "detail": "what is built; an id of the edition",
    "members": "what stands on the roof, x and y along the roof's axes",
    "plates": "fastener plates beside it",
    "surfaces": "what else it is built on, by part; one without a part serves every part not named",
    "confirmed": "checks that a hold names and that were confirmed; ids",
    "since": "work done before: which activity, and when it ended",
    "fields": "the top-level keys of the answer that are wanted; default all",
    "units": "units of the answer; default us",
    "lang": "language of the answer; default en, which governs",
    "edition": "which edition answers; else the newest published one",
    "overlay": "id of an overlay to lay over it, for those who may use it "
    "(Authorization: Bearer <key>)",
    "now": "what was measured on the roof; what is left out is unknown, never taken from elsewhere",
    "opening": "the clear opening",
    "section": "which section, and so which dimensions; left out with a designation",
    "designation": "a standard shape instead of dimensions, such as L3x3x1/4",
    "substrate": "what it is made of; an id, or what crews call it",
    "at": "where its center is; default 0, 0",
    "turn": "counterclockwise; default 0",
    "nps": "nominal size of a pipe instead of its outside diameter",
    "points": "corners of a polygon, in order",
    "width": "along x",
    "length": "along y",
    "orientation": "lies or stands",
    "part": "which part of the detail it is",
    "activity": "what was done; an id",
    "resin": "the resin; default the edition's",
}
MANY: Final[Mapping[str, str]] = {
    "members": "Member",
    "plates": "Plate",
    "surfaces": "OtherSurface",
    "since": "Done",
    "now": "Now",
    "opening": "Opening",
}


def schemas(edition: Edition) -> dict[str, Any]:
    """Return the components that describe both questions, for one edition."""
    made: dict[str, Any] = {}
    told = {".".join(item.place): _told(item) for item in inputs(edition)}
    for record in edition.kind("sections").values():
        for name, node in (record.get("inputs") or {}).items():
            told.setdefault(f"members.{name}", node["name"]["en"])
    made[REQUIREMENTS] = _object(requirements.schema_for(edition), "", told, made)
    detail = made[REQUIREMENTS]
    now = _object(conditions.schema_for(edition), "", told, made)
    made["ConditionsNow"] = now
    made["ConditionsByHour"] = hour_questions.schema(made["Now"]["properties"], now["properties"])
    made[CONDITIONS] = {
        "oneOf": [
            {"$ref": f"#/components/schemas/{name}"}
            for name in ("ConditionsNow", "ConditionsByHour")
        ],
        "description": "What was measured now, or hours: a forecast or a list.",
    }
    view = {
        "type": "string",
        "enum": list(VIEWS),
        "description": "plan (from above), section (from the side), cut-sheet (the pieces)",
    }
    made[DRAWING] = {
        **detail,
        "properties": {"view": view, **detail["properties"]},
        "required": ["view", *detail.get("required", ())],
        "description": "One detail, described as for its requirements, and the view of it.",
    }
    made[REQUIREMENTS]["description"] = (
        "One detail. Quantities are text with a unit: 8 1/2 in, 216 mm, 72 F, 22 °C, 55 %. A "
        "detail takes the fields that name it. What is left out takes its default, listed in the "
        "answer under `assumed`; a size without a default is asked for."
    )
    made |= day.schemas(edition, detail)
    return made


def _told(item: Input) -> str:
    """Describe an input in a line: name, how it is measured, and which details take it."""
    how = item.record.text("how", "en").rstrip(".")
    taken = item.record.get("taken")
    details = dict.fromkeys(d for entry in taken for d in entry.get("details", ()))
    of = f"; for {', '.join(details)}" if details else ""
    return f"{item.record.text('name', 'en')}. {how}{of}"


def _object(
    schema: Schema, place: str, told: Mapping[str, str], made: dict[str, Any]
) -> dict[str, Any]:
    properties = {
        name: _field(field, f"{place}.{name}" if place else name, told, made)
        for name, field in schema.fields.items()
    }
    required = [name for name, field in schema.fields.items() if field.required]
    if place == "members":
        required.append("substrate")
    # unknown fields are refused, so a reader of the description is told
    whole: dict[str, Any] = {
        "type": "object",
        "properties": properties,
        "additionalProperties": False,
    }
    return {**whole, "required": required} if required else whole


def _field(
    field: fields.Field[Any], place: str, told: Mapping[str, str], made: dict[str, Any]
) -> dict[str, Any]:
    name = place.rsplit(".", 1)[-1]
    said = {"description": told.get(place) or TOLD.get(name, name)}
    if isinstance(field, fields.List):
        return {
            "type": "array",
            "items": _field(field.inner, place, told, made),
            **_most(field),
            **said,
        }
    if isinstance(field, fields.Tuple):
        length = {"type": "string", "maxLength": QUANTITY, "pattern": PATTERN}
        pair = {"type": "array", "items": length, "minItems": 2, "maxItems": 2}
        return {**pair, "example": ["6 in", "0 in"], **said}
    if isinstance(field, fields.Nested):
        component = MANY.get(name, name.title())
        if component not in made:
            made[component] = _object(field.schema, place, told, made)
        return {"$ref": f"#/components/schemas/{component}", **said}
    return {**_kind(field), **said}


def _most(field: fields.List[Any]) -> dict[str, int]:
    most = [rule.max for rule in field.validators if isinstance(rule, validate.Length)]
    return {"maxItems": most[0]} if most and most[0] is not None else {}


def _kind(field: fields.Field[Any]) -> dict[str, Any]:
    """Return the type of a single value."""
    if isinstance(field, QuantityField):
        return {
            "type": "string",
            "minLength": 1,
            "maxLength": QUANTITY,
            "pattern": PATTERN,
            "example": field.example,
        }
    if isinstance(field, KnownId):
        return {"type": "string", "minLength": 1, "maxLength": 64}
    if isinstance(field, Choice):
        return {"type": "string", "enum": list(field.choices)}
    if isinstance(field, Flag):
        return {"type": "boolean"}
    if isinstance(field, Whole):
        return {"type": "integer", "minimum": field.least_value, "maximum": field.most_value}
    if isinstance(field, Moment):
        return {"type": "string", "example": field.example}
    return {"type": "string"}
