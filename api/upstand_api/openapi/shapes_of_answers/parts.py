"""Pieces that the schemas of answers are made of."""

from __future__ import annotations

from collections.abc import Collection
from copy import copy
from typing import Any, Self

from marshmallow import EXCLUDE, Schema, fields, validate

from upstand.quantity.units import UNITS

__all__ = [
    "COMPONENT",
    "ID",
    "NODE",
    "READ",
    "QuantitySchema",
    "ToldSchema",
    "anything",
    "by_word",
    "choice",
    "flag",
    "listed",
    "may_be_left_out",
    "may_be_missing",
    "number",
    "quantity",
    "record",
    "string",
    "strings",
    "whole",
]

ID = r"^[a-z0-9-]{1,64}$"
COMPONENT = "x-of"
"""Marks a field whose values are a component of `open_shapes`."""
READ = "Read"
NODE = "Node"


def _about(said: str, example: Any = None) -> dict[str, Any]:
    return {"description": said} if example is None else {"description": said, "example": example}


def string(said: str, *, null: bool = False, example: str | None = None) -> fields.String:
    """Make a field of text that is always there; `null` lets it be null."""
    return fields.String(required=True, allow_none=null, metadata=_about(said, example))


def choice(said: str, words: Collection[str], *, null: bool = False) -> fields.String:
    """Make a field that holds one of a few words; `null` lets it be null."""
    one = validate.OneOf(words)
    return fields.String(required=True, allow_none=null, validate=one, metadata=_about(said))


def whole(said: str, example: int | None = None, *, null: bool = False) -> fields.Integer:
    """Make a field of a whole number; `null` lets it be null."""
    return fields.Integer(required=True, allow_none=null, metadata=_about(said, example))


def number(said: str) -> fields.Float:
    """Make a field of a number."""
    return fields.Float(required=True, metadata=_about(said))


def flag(said: str) -> fields.Boolean:
    """Make a field of true or false."""
    return fields.Boolean(required=True, metadata=_about(said))


def by_word(said: str, words: Collection[str], example: dict[str, str]) -> fields.Dict:
    """Make a field that holds one of a few words by id."""
    return fields.Dict(
        keys=fields.String(),
        values=fields.String(validate=validate.OneOf(words)),
        required=True,
        metadata=_about(said, example),
    )


def strings(said: str) -> fields.List[Any]:
    """Make a field of a list of texts."""
    return fields.List(fields.String(), required=True, metadata=_about(said))


def listed(schema: type[Schema], said: str) -> fields.List[Any]:
    """Make a field of a list of objects."""
    return fields.List(fields.Nested(schema), required=True, metadata=_about(said))


def record(schema: type[Schema], said: str, *, null: bool = False) -> fields.Nested:
    """Make a field of an object; `null` lets it be null."""
    return fields.Nested(schema, required=True, allow_none=null, metadata=_about(said))


def anything(said: str, component: str) -> fields.Dict:
    """Make a field of an object whose names are not fixed; `component` says what may be in it."""
    return fields.Dict(
        keys=fields.String(),
        values=fields.Raw(allow_none=True),
        required=True,
        metadata={**_about(said), COMPONENT: component},
    )


def quantity(said: str, *, null: bool = False) -> fields.Nested:
    """Make a field of a quantity; `null` where it may not be known."""
    return record(QuantitySchema, said, null=null)


class ToldSchema(Schema):
    """What the API tells; keys may be added within v1, so that no reader may count on their end."""

    class Meta:
        """Let the document say nothing against more keys."""

        unknown = EXCLUDE

    def __init_subclass__(cls, **more: Any) -> None:
        """Put the docstring of a schema into the document."""
        super().__init_subclass__(**more)
        said = " ".join((cls.__doc__ or "").split())
        described: Any = type("Meta", (cls.Meta,), {"description": said})
        cls.Meta = described  # type: ignore[misc]

    def __deepcopy__(self, _: object) -> Self:
        """Stay one: each note about a route copies those before it, and no shape ever changes."""
        return self


class QuantitySchema(ToldSchema):
    """A quantity: the number unrounded, its unit, and text for people, rounded."""

    value = number("the number, unrounded")
    unit = choice("the unit of the number", tuple(UNITS))
    text = string("number and unit for people", example="1.32 sq ft")


def may_be_missing(field: fields.List[Any]) -> fields.List[Any]:
    """Let a field be left out."""
    field.required = False
    return field


def may_be_left_out(schema: type[Schema]) -> None:
    """Let every key be missing: `fields` in the question names those that are wanted."""
    own = {name: copy(field) for name, field in schema._declared_fields.items()}
    for field in own.values():
        field.required = False
    schema._declared_fields = own
