"""Fields for lengths, places and turns, and the schema of a member."""

from __future__ import annotations

from typing import Any

from marshmallow import fields, validate

from upstand.query.fields import NULL, QuantityField
from upstand.query.strict import StrictSchema, required
from upstand.telling.said import say

MAX_POINTS = 200
CEILING_IN = 12_000.0


def length_field(least_say: str = say("bounds-length"), **kwargs: Any) -> QuantityField:
    """Make a field for a length above zero, loaded in inches."""
    return QuantityField(
        "length",
        "in",
        above=0.0,
        most=CEILING_IN,
        bounds_say=least_say,
        error_messages=required('"3 in"'),
        **kwargs,
    )


def raw() -> fields.Raw:
    """Make a field that is judged later, with what stands beside it."""
    return fields.Raw(error_messages=NULL)


def place() -> fields.Tuple:
    """Make a field for a place on the roof: two lengths, either of which may be negative."""
    wrong = say("not-a-place", ['["6 in", "0 in"]'])
    both = fields.Tuple((_along(), _along()), error_messages={**NULL, "invalid": wrong})
    both.validate_length = validate.Length(equal=2, error=wrong)
    return both


def _along() -> QuantityField:
    return QuantityField(
        "length",
        "in",
        signed=True,
        least=-CEILING_IN,
        most=CEILING_IN,
        bounds_say=say("bounds-along"),
    )


def turn_field() -> QuantityField:
    """Make a field for a turn, counter-clockwise, in degrees."""
    return QuantityField(
        "angle",
        "deg",
        signed=True,
        least=-360.0,
        most=360.0,
        bounds_say=say("bounds-turn"),
    )


class MemberSchema(StrictSchema):
    """One member; which dimensions belong to it depends on its section."""

    section = raw()
    designation = raw()
    substrate = raw()
    at = place()
    turn = turn_field()
    nps = raw()
    points = fields.List(
        place(),
        validate=validate.Length(max=MAX_POINTS, error=say("more-points", most=str(MAX_POINTS))),
        error_messages={**NULL, "invalid": say("not-points", ['[["0 in", "0 in"]]'])},
    )
    leg_a = length_field()
    leg_b = length_field()
    thickness = length_field()
    depth = length_field()
    flange_width = length_field()
    web_thickness = length_field()
    flange_thickness = length_field()
    width = length_field()
    corner_radius = QuantityField(
        "length", "in", least=0.0, most=CEILING_IN, bounds_say=say("bounds-zero")
    )
    od = length_field()
    diameter = length_field()
