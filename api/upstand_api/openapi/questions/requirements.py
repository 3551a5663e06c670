"""Schemas of the question about one detail."""

from __future__ import annotations

from typing import Any

from marshmallow import Schema, fields, validate

from upstand.query.requirements import (
    MAX_COUNT,
    MAX_MEMBERS,
    MAX_PLATES,
    MAX_SURFACES,
)
from upstand.query.sizes import MAX_POINTS
from upstand_api.openapi.questions.parts import (
    EDITION,
    LANG,
    OVERLAY,
    UNITS,
    NowSchema,
    choice,
    id_of,
    quantity,
    whole,
)

__all__ = ["RequirementsSchema"]

PLACE = ["6 in", "0 in"]


def _place(said: str) -> fields.List[Any]:
    return fields.List(
        fields.String(),
        validate=validate.Length(equal=2),
        metadata={"description": said, "example": PLACE},
    )


DIMENSIONS = (
    "angle: leg_a, leg_b, thickness; channel, i-section, tee: depth, flange_width, web_thickness, "
    "flange_thickness; tube: width, depth, thickness, corner_radius; pipe: od or nps, thickness; "
    "bar: width, depth; rod: diameter; polygon: points"
)


class MemberSchema(Schema):
    """One upright member: a section with its dimensions, or a standard designation."""

    section = fields.String(
        metadata={
            "description": f"which section, and so which dimensions. {DIMENSIONS}. Left out with "
            "a designation",
            "example": "angle",
        }
    )
    designation = fields.String(
        metadata={
            "description": "a standard shape instead of dimensions: L, W, S, M, HP, C, MC, WT, MT, "
            "ST, HSS, pipe (Pipe 4 STD), conduit (EMT 1, IMC 2, RMC 2-1/2), lumber (2x4)",
            "example": "L3x3x1/4",
        }
    )
    substrate = fields.String(
        required=True,
        metadata={"description": "what it is made of; an id", "example": "carbon-steel"},
    )
    at = _place("centre of the member's own box, before turning; default 0, 0")
    turn = quantity("counter-clockwise; default 0", "90 deg")
    leg_a = quantity("leg along x", "3 in")
    leg_b = quantity("leg along y", "3 in")
    thickness = quantity("of the legs, or of the wall of a tube or pipe", "1/4 in")
    depth = quantity("along y", "8 in")
    width = quantity("along x", "4 in")
    flange_width = quantity("along x", "8 in")
    web_thickness = quantity("of the web", "5/16 in")
    flange_thickness = quantity("of the flange", "7/16 in")
    corner_radius = quantity("outside; default twice the design wall", "1/2 in")
    od = quantity("outside diameter of a pipe", "4 1/2 in")
    nps = fields.String(
        metadata={"description": "nominal size of a pipe instead of od", "example": "4"}
    )
    diameter = quantity("of a rod", "3/4 in")
    points = fields.List(
        fields.List(fields.String(), validate=validate.Length(equal=2)),
        validate=validate.Length(max=MAX_POINTS),
        metadata={"description": "corners of a polygon, in order"},
    )


class PlateSchema(Schema):
    """One fastener plate, its sides along the roof's axes."""

    width = quantity("along x", "3 in", required=True)
    length = quantity("along y", "3 in", required=True)
    at = _place("its centre; default 0, 0")
    substrate = id_of("what it is made of; default galvanized-steel", "galvanized-steel")


class OtherSurfaceSchema(Schema):
    """A surface that a detail is built on besides the roof and its members."""

    substrate = id_of("what it is made of", "cmu", required=True)
    orientation = choice("lies or stands", "flat", "upright")


class RequirementsSchema(Schema):
    """One detail. Quantities are text with a unit: 8 1/2 in, 216 mm, 72 F, 22 °C, 55 %.

    Required: detail, roof, and members where the detail has them. Every other field has a default,
    listed in the answer under `assumed`.
    """

    detail = id_of("what is built", "post", required=True)
    roof = id_of("the roof's sheet", "tpo", required=True)
    members = fields.List(
        fields.Nested(MemberSchema),
        validate=validate.Length(max=MAX_MEMBERS),
        metadata={"description": "what stands on the roof, x and y along the roof's axes"},
    )
    plates = fields.List(
        fields.Nested(PlateSchema),
        validate=validate.Length(max=MAX_PLATES),
        metadata={"description": "fastener plates beside it"},
    )
    surfaces = fields.List(
        fields.Nested(OtherSurfaceSchema),
        validate=validate.Length(max=MAX_SURFACES),
        metadata={"description": "what else it is built on, such as the wall behind a wall base"},
    )
    height = quantity("reinforced height on the upright; default 8 in", "8 in")
    flange = quantity("how far fleece reaches on to the roof; default 4 in", "4 in")
    reveal = quantity("fleece edge to tape, 1/4 to 1/2 in; default 1/2 in", "1/2 in")
    mask_turn = quantity("turn of the masked rectangle; default that of the members", "0 deg")
    resin = id_of("the resin; default the edition's", "pu-2k")
    fleece = id_of("the fleece; default the resin's", "polyester-165")
    count = whole("how many details alike; default 1", 1, MAX_COUNT)
    now = fields.Nested(NowSchema, metadata={"description": "what was measured; without it: ask"})
    units = UNITS
    lang = LANG
    edition = EDITION
    overlay = OVERLAY
