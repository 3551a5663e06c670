"""Shapes that hold themselves, to their leaves: a question as read, a record of an edition."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from upstand.edition.schema.values import GRADES
from upstand_api.openapi.shapes_of_answers.parts import COMPONENT, NODE, READ

__all__ = ["OPEN", "filled_in"]


def _ref(component: str) -> dict[str, Any]:
    return {"$ref": f"#/components/schemas/{component}"}


def _text(said: str, **more: Any) -> dict[str, Any]:
    return {"type": "string", "description": said, **more}


def _held(component: str, *leaves: Mapping[str, Any]) -> list[Mapping[str, Any]]:
    return [
        {"type": "string"},
        {"type": "number"},
        {"type": "boolean"},
        *leaves,
        {"type": "array", "items": _ref(component)},
        {"type": "object", "additionalProperties": _ref(component)},
    ]


_WRITTEN: Final = {
    "type": "object",
    "description": "A quantity of a record, with the text it was written as.",
    "properties": {
        "value": {"type": "number", "description": "the number, unrounded"},
        "unit": _text("the unit of the number"),
        "text": _text("number and unit for people"),
        "written": _text("the same as the data has it"),
    },
    "required": ["value", "unit", "text"],
}
_BASIS: Final = {
    "type": "object",
    "description": "How a value is known.",
    "properties": {
        "grade": _text("how it was read", enum=list(GRADES)),
        "source": {"type": ["string", "null"], "description": "id of the source"},
        "locator": {"type": ["string", "null"], "description": "where in the source"},
    },
    "required": ["grade", "source", "locator"],
}
_NUMBER: Final = {"anyOf": [_ref("Written"), {"type": "boolean"}], "description": "the value"}
_VALUE: Final = {
    "type": "object",
    "description": "A value with its basis: one number, an end of a range or both, or points.",
    "properties": {
        "value": _NUMBER,
        "low": {**_ref("Written"), "description": "lower end"},
        "high": {**_ref("Written"), "description": "upper end"},
        "at": {**_ref("Written"), "description": "the temperature it holds at"},
        "points": {
            "type": "array",
            "description": "rows of a table by temperature",
            "items": {"type": "object", "additionalProperties": _ref("Written")},
        },
        "by": _text("what it hangs on"),
        "scales": _text("how it changes with temperature"),
        "keep": _text("which end is kept to"),
        "window": {**_ref("Prose"), "description": "a window that is no number"},
        "why_none": {**_ref("Prose"), "description": "why there is none"},
        "note": {**_ref("Prose"), "description": "what else is to say"},
        "basis": {**_ref("Basis"), "description": "how it is known"},
        "checked_on": {"type": ["string", "null"], "description": "day it was last checked"},
        "layer": _text("edition, or the overlay that set it"),
        "ends": {
            "type": "object",
            "description": "basis and layer of each end, where they differ",
            "additionalProperties": {
                "type": "object",
                "properties": {
                    "basis": _ref("Basis"),
                    "layer": _text("edition, or the overlay that set it"),
                },
            },
        },
    },
    "required": ["basis", "checked_on", "layer"],
}

OPEN: Final[Mapping[str, Any]] = {
    READ: {
        "description": "A part of a question as it was read: a quantity where a size was given, "
        "else the text, number, list or object that stood there.",
        "anyOf": _held(READ, _ref("Quantity")),
    },
    NODE: {
        "description": "A part of a record: a value with its basis, prose in both languages, or "
        "text, numbers, lists and objects of these.",
        "anyOf": [*_held(NODE, _ref("Value"), _ref("Prose")), {"type": "null"}],
    },
    "Prose": {
        "type": "object",
        "description": "A text in both languages.",
        "properties": {"en": _text("English, which governs"), "es": _text("Spanish")},
        "required": ["en", "es"],
    },
    "Value": _VALUE,
    "Basis": _BASIS,
    "Written": _WRITTEN,
}


def filled_in(node: Any) -> Any:
    """Put a component's name where a field was marked with it."""
    if isinstance(node, list):
        return [filled_in(each) for each in node]
    if not isinstance(node, dict):
        return node
    made = {name: filled_in(each) for name, each in node.items() if name != COMPONENT}
    if COMPONENT in node:
        made["additionalProperties"] = _ref(node[COMPONENT])
    return made
