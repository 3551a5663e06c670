"""Schemas of materials: lines, packs, pieces of fleece, totals."""

from __future__ import annotations

from typing import get_args

from marshmallow import fields

from upstand.layout.model import PieceKind
from upstand_api.openapi.shapes_of_answers.parts import (
    QuantitySchema,
    ToldSchema,
    choice,
    listed,
    quantity,
    string,
    strings,
    whole,
)

__all__ = ["FleeceSchema", "MaterialSchema", "TotalsSchema"]

KINDS = ("resin", "primer", "fleece", "tape", "cleaner", "abrasive", "consumable")


class PackCountSchema(ToldSchema):
    """Packs of one size."""

    pack = string("id of the pack")
    name = string("its name")
    count = whole("how many, at least")


class LineSchema(ToldSchema):
    """One line of a need."""

    id = string("what the line is for")
    label = string("the same in words")
    surface = string("the surface it belongs to", null=True)
    amount = quantity("how much")


class SupplySchema(ToldSchema):
    """A product, how much of it is needed, and the packs for it."""

    id = string("id of the product")
    kind = choice("what sort of material", KINDS)
    name = string("its name")
    need = quantity("sum of the lines; null where not computed", null=True)
    with_allowance = quantity("need and allowance: packs are chosen for it", null=True)
    packs = listed(PackCountSchema, "packs to open, at least")
    leftover = quantity("left over of what is opened", null=True)
    mixes = whole("mixes, at least; null where nothing is mixed or it is not known", null=True)
    lay_within = quantity("once mixed it is laid within this; null: not known", null=True)
    mixes_text = string("the same in words, with the reason; empty where nothing is mixed")


class MaterialSchema(SupplySchema):
    """A material for one detail."""

    lines = listed(LineSchema, "what the need consists of")
    why = string("why there is no quantity", null=True)
    neighbours = strings("what it does to what is near it, and when")


def _if_known(said: str) -> fields.Nested:
    return fields.Nested(QuantitySchema, metadata={"description": f"{said}; left out: not known"})


class TotalsSchema(ToldSchema):
    """Everything for the whole count."""

    count = whole("how many details")
    materials = listed(SupplySchema, "materials for all of them")
    area = _if_known("every surface, out to the tape")
    zone = _if_known("where fleece lies once")
    cut = _if_known("fleece as cut")
    tape = _if_known("tape, without overlaps")


class PieceSchema(ToldSchema):
    """Pieces of fleece of one size."""

    id = string("names the piece in this answer")
    label = string("the same in words")
    kind = choice("what it is", get_args(PieceKind))
    letter = string("tells it from every other piece: the kind's letter, its number")
    width = quantity("width of the rectangle it is cut from")
    length = quantity("length of it")
    count = whole("how many")
    order = whole("place in the order of laying, lowest first")
    note = string("what else is cut", null=True)
    joint = string("where its joint lies", null=True)


class FleeceSchema(ToldSchema):
    """Fleece: the pieces and their areas."""

    id = string("id of the fleece")
    pieces = listed(PieceSchema, "pieces to cut, in the order of laying")
    zone = quantity("where fleece lies once")
    net = quantity("pieces as laid")
    cut = quantity("their rectangles, for buying")
    lap_area = quantity("base laps outside the outline, and wrap joints")
    extra = quantity("net less zone")
