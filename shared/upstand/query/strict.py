"""Schemas that refuse what they do not know, and say which fields are known."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from marshmallow import RAISE, Schema, ValidationError, fields, validate

from upstand.query.faults import Fault, QueryFaults, flatten, nearest
from upstand.query.fields import NULL, Choice
from upstand.telling.said import Both, say

UNKNOWN_FIELD = say("no-field")


class StrictSchema(Schema):
    """A schema that refuses what it does not know, in words."""

    error_messages = {"unknown": UNKNOWN_FIELD, "type": say("not-an-object-fields")}  # noqa: RUF012

    class Meta:
        """Unknown fields are faults, not silence."""

        unknown = RAISE

    def _deserialize(self, data: Any, **how: Any) -> Any:
        """Read what is given, field by field; what is wrong is found by reading it in full.

        Of some sixty fields a question gives ten; the rest need not be asked for.
        """
        known = self.load_fields
        if data.__class__ is dict and not how.get("many") and data.keys() <= known.keys():
            try:
                return {
                    name: field.deserialize(data[name], name, data)
                    for name, field in known.items()
                    if name in data or field.required
                }
            except (ValidationError, KeyError):
                pass
        return super()._deserialize(data, **how)


class QuestionSchema(StrictSchema):
    """What every question may say: how it is answered, and from which edition."""

    units = Choice(("us", "si"))
    lang = Choice(("en", "es"))
    edition = fields.Raw(error_messages=NULL)
    overlay = fields.Raw(error_messages=NULL)


def read_body(body: object, schema: Schema, example: str) -> Mapping[str, Any]:
    """Read a request; raises QueryFaults: everything wrong with it, at once."""
    if not isinstance(body, Mapping):
        raise QueryFaults([Fault("", say("not-an-object", [example], example=example))])
    try:
        loaded: Mapping[str, Any] = schema.load(dict(body))
    except ValidationError as error:
        raise QueryFaults(reworded(fault, schema) for fault in flatten(error.messages)) from None
    return loaded


def required(example: str) -> dict[str, str]:
    """Word a field that is missing or null, with an example of what is accepted."""
    return {
        "required": say("missing", [example], example=example),
        "null": say("null-example", [example], example=example),
    }


def listed(inner: fields.Field[Any], most: int, what: str | Both, example: str) -> fields.List[Any]:
    """Make a field for a list of at most so many, worded for its sender."""
    return fields.List(
        inner,
        validate=validate.Length(max=most, error=say("more-than", most=str(most), what=what)),
        error_messages={
            **NULL,
            "invalid": say("not-a-list", [f"[{example}]"], what=what, example=example),
        },
    )


def reworded(fault: Fault, schema: Schema) -> Fault:
    """Say of an unknown field which ones are known at its place."""
    if fault.detail != UNKNOWN_FIELD:
        return fault
    *where, name = fault.pointer.split("/")[1:]
    here: Any = schema
    for step in where:
        field = here.fields.get(step) if isinstance(here, Schema) else None
        if isinstance(field, fields.List):
            field = field.inner
        if isinstance(field, fields.Nested):
            here = field.schema
    known = here.fields if isinstance(here, Schema) else ()
    return Fault(fault.pointer, say("unknown-field", nearest=nearest(name, known)))
