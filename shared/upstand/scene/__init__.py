"""The made-up theater that every example comes from: its details as requests, marked invented.

>>> question("drain")["bowl"], scene()["details"]["drain"]["count"]
('14 in', 2)
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any

from upstand.edition.strict_yaml import read_file

__all__ = ["details", "question", "scene"]


@cache
def scene() -> Mapping[str, Any]:
    """Return the scene as it stands in its file."""
    read: Mapping[str, Any] = read_file(Path(__file__).with_name("theater.yaml"), "theater.yaml")
    return read


def details() -> tuple[str, ...]:
    """Name the details of the scene, in the order in which the crew meets them."""
    return tuple(scene()["details"])


def question(name: str | None = None, *, weather: bool = True) -> dict[str, Any]:
    """Return one detail as a caller would ask for it, in the weather of the scene's day.

    `name` None is the detail that stands for all. Raises KeyError for a detail it does not have.
    """
    held = scene()
    asked = {**held["shared"], **held["details"][name or held["example"]]["ask"]}
    return {**asked, "now": dict(held["now"])} if weather else asked
