"""What was done already, written down: how each thing stands, until when, what is done again."""

from __future__ import annotations

from typing import Any

from upstand.edition import Edition
from upstand.stages.since import Standing
from upstand.words.fill import Words


def write_since(standing: Standing, edition: Edition, words: Words) -> dict[str, Any]:
    """Write one thing that was done; moments are unrounded, the text goes by half hours."""
    return {
        "activity": standing.done.activity,
        "name": words.name(standing.activity),
        "at": standing.done.at,
        "product": None if standing.product is None else standing.product.id,
        "state": standing.state,
        "ready": None if standing.ready is None else standing.ready.isoformat(),
        "until": None if standing.until is None else standing.until.isoformat(),
        "again": list(standing.again),
        "text": words.said(standing.say(edition)),
    }
