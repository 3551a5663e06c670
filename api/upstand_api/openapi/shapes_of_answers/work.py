"""Schemas of the work: preparation, times, steps, checks, cautions, tools."""

from __future__ import annotations

from upstand.edition.schema.kinds.vocabulary import BY
from upstand_api.openapi.shapes_of_answers.parts import (
    ToldSchema,
    choice,
    listed,
    quantity,
    record,
    string,
    strings,
    whole,
)
from upstand_api.openapi.shapes_of_answers.shared import SentenceSchema, StatementSchema

__all__ = [
    "CautionSchema",
    "CheckSchema",
    "PreparationSchema",
    "StepSchema",
    "TimeSchema",
    "ToolSchema",
]


class PreparationSchema(ToldSchema):
    """One step of preparing a surface."""

    activity = string("id of the activity")
    text = string("what is done")
    until = string("what it looks like when it is done")
    wait = string("what to wait for", null=True)
    grit = string("abrasive to use", null=True)
    standard = record(StatementSchema, "a published measure", null=True)
    tools = strings("ids of the tools")


class PartSchema(PreparationSchema):
    """A preparation inside a step, for one or more surfaces."""

    surfaces = strings("ids of the surfaces")
    label = string("the same in words")


class StepSchema(ToldSchema):
    """One step of the work."""

    n = whole("its number", 1)
    name = string("its name")
    text = string("what is done")
    here = string("what this detail adds to it", null=True)
    activity = string("id of the activity")
    parts = listed(PartSchema, "preparations carried out in it")
    primer = string("id of the primer laid in it", null=True)
    cautions = strings("ids of the cautions whose rules are for this step")
    asks = listed(SentenceSchema, "what is open here: reasons of the verdict that say ask")
    holds = listed(SentenceSchema, "hold points")


class TimeSchema(ToldSchema):
    """A working time at its temperature."""

    id = string("which time, and of which product", example="pot-life/pu-2k")
    label = string("the same in words")
    product = string("name of the product")
    low = quantity("shortest", null=True)
    high = quantity("longest", null=True)
    at = quantity("the temperature it holds at", null=True)
    text = string("the time in words, or why there is none")
    why = string("why there is no number", null=True)


class CheckSchema(ToldSchema):
    """What is looked at and recorded."""

    id = string("its id")
    name = string("its name")
    stage = choice("before, at a hold point, or after", ("confirm", "hold", "inspect"))
    by = choice("by when it is confirmed", BY, null=True)
    method = string("how it is looked at")
    acceptance = string("what is good enough")
    standard = record(StatementSchema, "a published measure", null=True)


class CautionSchema(ToldSchema):
    """What can do harm, and what is done about it."""

    id = string("its id")
    name = string("its name")
    severity = choice("how bad", ("danger", "warning", "care"))
    short = string("hazard and measure in a few words")
    text = string("what happens")
    measure = string("what is done about it")
    rules = listed(StatementSchema, "published rules")
    defers = string("what governs: data sheet, code, licensed trade")
    because = strings("what in the answer called it")


class ToolSchema(ToldSchema):
    """A tool, consumable or protection."""

    id = string("its id")
    name = string("its name")
    sort = choice(
        "what sort",
        ("tool", "abrasive", "cleaner", "consumable", "gauge", "protective"),
    )
    use = string("what it is used for")
