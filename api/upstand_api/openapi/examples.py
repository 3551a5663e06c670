"""Requests that are shown: in the document, on the pages, and by `upstand serve`."""

from __future__ import annotations

import json
import os
from collections.abc import Mapping
from typing import Any, Final

from upstand_api.cli.typed.request import EXAMPLE

__all__ = ["CONDITIONS", "DRAWING", "REQUIREMENTS", "curl"]

REQUIREMENTS: Final[Mapping[str, Any]] = EXAMPLE
"""A stanchion of the made-up theater, whole."""

DRAWING: Final[Mapping[str, Any]] = {"view": "plan", **REQUIREMENTS}
"""The same post, seen from above."""

CONDITIONS: Final[Mapping[str, Any]] = {
    "resin": "pu-2k",
    "now": {"air": "72 F", "surface": "78 F", "humidity": "55 %"},
}
"""What was measured on an invented roof."""


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
