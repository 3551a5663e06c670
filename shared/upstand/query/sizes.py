"""Fields for lengths, places and turns, and the schema of a member."""

from __future__ import annotations

from typing import Any

from marshmallow import fields, validate

from upstand.query.fields import NULL, QuantityField
from upstand.query.strict import StrictSchema, required

MAX_POINTS = 200
CEILING_IN = 12_000.0


def length_field(
    least_say: str = "write more than 0, up to 1,000 ft", **kwargs: Any
) -> QuantityField:
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
    say = 'is not a place: write two lengths, such as ["6 in", "0 in"]'
    both = fields.Tuple((_along(), _along()), error_messages={**NULL, "invalid": say})
    both.validate_length = validate.Length(equal=2, error=say)
    return both


def _along() -> QuantityField:
    return QuantityField(
        "length",
        "in",
        signed=True,
        least=-CEILING_IN,
        most=CEILING_IN,
        bounds_say="write a length within 1,000 ft either way",
    )


def turn_field() -> QuantityField:
    """Make a field for a turn, counter-clockwise, in degrees."""
    return QuantityField(
        "angle",
        "deg",
        signed=True,
        least=-360.0,
        most=360.0,
        bounds_say='write an angle from -360 to 360 degrees, such as "30 deg"',
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
        validate=validate.Length(
            max=MAX_POINTS, error=f"has more than {MAX_POINTS} points: write at most {MAX_POINTS}"
        ),
        error_messages={**NULL, "invalid": 'is not a list of points: write [["0 in", "0 in"], …]'},
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
        "length", "in", least=0.0, most=CEILING_IN, bounds_say="write 0 or more"
    )
    od = length_field()
    diameter = length_field()
