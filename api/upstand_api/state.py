"""What one app holds, for its views."""

from __future__ import annotations

from dataclasses import dataclass
from typing import cast

from flask import current_app

from upstand_api.admission import Gate, Rate
from upstand_api.editions import Editions
from upstand_api.settings import Settings

__all__ = ["NAME", "State", "state"]

NAME = "upstand"


@dataclass(frozen=True, slots=True)
class State:
    """Settings, editions and ceilings of one app."""

    settings: Settings
    editions: Editions
    gate: Gate
    large: Gate
    rate: Rate


def state() -> State:
    """Return what the app of the current request holds."""
    return cast(State, current_app.extensions[NAME])
