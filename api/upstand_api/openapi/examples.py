"""Requests that are shown: in the document, on the pages, and by `upstand serve`."""

from __future__ import annotations

import json
import os
from collections.abc import Mapping
from typing import Any, Final

from upstand import scene
from upstand_api.cli.typed.request import EXAMPLE

__all__ = [
    "CONDITIONS",
    "CUTLIST",
    "DRAWING",
    "FILM",
    "REQUIREMENTS",
    "TAKEOFF",
    "TAKEOFF_TABLE",
    "curl",
]

REQUIREMENTS: Final[Mapping[str, Any]] = EXAMPLE
"""A stanchion of the made-up theater, whole."""

DRAWING: Final[Mapping[str, Any]] = {"view": "plan", **REQUIREMENTS}
"""The same post, seen from above."""

CONDITIONS: Final[Mapping[str, Any]] = {
    "resin": "pu-2k",
    "now": {"air": "72 F", "surface": "78 F", "humidity": "55 %"},
}
"""What was measured on an invented roof."""

FILM: Final[Mapping[str, Any]] = {
    "layer": "base",
    "area": "1.73 sq ft",
    "readings": ["40 mil", "45 mil", "40 mil", "45 mil", "40 mil", "45 mil"],
}
"""Readings in the base coat of the stanchion."""

CUTLIST: Final[Mapping[str, Any]] = {
    "pieces": [
        {"id": "C1", "width": "12 in", "length": "7 in", "count": 2},
        {"id": "D1", "width": "10 in", "length": "17 1/4 in"},
        {"id": "E1", "width": "4 in", "length": "4 in", "count": 4},
    ]
}
"""The pieces of the stanchion."""

TAKEOFF: Final[Mapping[str, Any]] = {
    "details": [
        {"id": name, "count": scene.scene()["details"][name]["count"], **scene.question(name)}
        for name in ("screen-post", "soil-vent")
    ]
}
"""Two details of the theater, with their counts."""

TAKEOFF_TABLE: Final = """id,count,detail,roof,member,plate
screen,5,post,epdm,angle 3x3x1/4 in carbon-steel,"3x3 in at 6,0 in"
"""
"""A table of one detail, as a spreadsheet saves it."""


def curl(address: str, body: Mapping[str, Any], windows: bool = os.name == "nt") -> str:
    """Write a command that posts a body, ready to be pasted into the system's own terminal.

    >>> print(curl("http://127.0.0.1:8000/v1/conditions", {"now": {}}, windows=False))
    curl -s -H 'Content-Type: application/json' -d '{"now": {}}' http://127.0.0.1:8000/v1/conditions
    """
    text = json.dumps(body)
    if windows:
        text = text.replace('"', '\\"')
        return f'curl -s -H "Content-Type: application/json" -d "{text}" {address}'
    return f"curl -s -H 'Content-Type: application/json' -d '{text}' {address}"
