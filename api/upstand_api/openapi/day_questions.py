"""What is asked about film, cutting and take-off: schemas of the three questions."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from upstand.edition import Edition
from upstand.query.cutlist import MAX_PIECES, MAX_ROLLS
from upstand.query.film import LAYERS, MAX_READINGS
from upstand.query.takeoff import MAX_COUNT, MAX_DETAILS, SHARED
from upstand_api.openapi.notation import PATTERN

__all__ = ["schemas"]

SERVICE: Final = ("units", "lang", "edition", "overlay")


def _quantity(said: str, example: str) -> dict[str, Any]:
    return {
        "type": "string",
        "minLength": 1,
        "maxLength": 40,
        "pattern": PATTERN,
        "example": example,
        "description": said,
    }


def _text(said: str) -> dict[str, Any]:
    return {"type": "string", "minLength": 1, "maxLength": 64, "description": said}


def _whole(most: int, said: str) -> dict[str, Any]:
    return {"type": "integer", "minimum": 1, "maximum": most, "description": said}


def _list(items: Mapping[str, Any], most: int, said: str) -> dict[str, Any]:
    return {"type": "array", "items": dict(items), "maxItems": most, "description": said}


def _object(required: tuple[str, ...] = (), **properties: Any) -> dict[str, Any]:
    whole: dict[str, Any] = {
        "type": "object",
        "properties": properties,
        "additionalProperties": False,
    }
    return {**whole, "required": list(required)} if required else whole


PACKS: Final = _object(
    ("pack",), pack=_text("id of the pack"), count=_whole(10_000, "how many; default 1")
)
ROLL: Final = _object(
    ("width",),
    width=_quantity("width of the roll", "20 in"),
    length=_quantity("its length; default: without end", "50 ft"),
    count=_whole(MAX_PIECES, "how many there are; default: as many as needed"),
)
PIECE: Final = _object(
    ("id", "width", "length"),
    id=_text("its name"),
    width=_quantity("across", "6 in"),
    length=_quantity("along", "13 in"),
    count=_whole(MAX_PIECES, "how many; default 1"),
    may_turn={"type": "boolean", "description": "whether it may lie turned; default true"},
    group=_text("what it belongs to"),
)
GAUGE: Final = _object(
    teeth=_list(_quantity("a tooth", "20 mil"), 60, "its teeth"),
    step=_quantity("from each tooth to the next", "5 mil"),
)


def schemas(edition: Edition, detail: Mapping[str, Any]) -> dict[str, Any]:
    """Return the components of the three questions; `detail` is that of one detail."""
    asked = detail["properties"]
    shared = {name: asked[name] for name in SHARED if name in asked}
    service = {name: asked[name] for name in SERVICE}
    one = {"$ref": "#/components/schemas/Requirements", "description": "a detail instead"}
    film = _object(
        ("layer",),
        layer={"type": "string", "enum": list(LAYERS), "description": "which layer was laid"},
        resin=asked["resin"],
        area=_quantity("the area it lies on", "2 sq ft"),
        detail=one,
        readings=_list(_quantity("a reading", "40 mil"), MAX_READINGS, "what the gage read"),
        packs_used=_list(PACKS, 50, "packs that were used, instead of readings"),
        left=_quantity("what is left of them; default nothing", "8 fl oz"),
        gauge={**GAUGE, "description": "the gage; default one that steps by 5 mil"},
        planes=_whole(100, "planes that were read; default 2"),
        **service,
    )
    cut = _object(
        ("pieces",),
        pieces=_list(PIECE, MAX_PIECES, "what to cut"),
        roll={**ROLL, "description": "one kind of roll"},
        rolls=_list(ROLL, MAX_ROLLS, "several; default those that the fleece is sold in"),
        **service,
    )
    line = _object(
        ("id", "detail"),
        **{**asked, "id": _text("its name"), "count": _whole(MAX_COUNT, "how many; default 1")},
    )
    take = _object(
        ("details",),
        details=_list(line, MAX_DETAILS, "each detail, as for its requirements"),
        stock=_list(PACKS, 100, "packs that are there already"),
        **{**shared, **service},
    )
    return {"FilmQuestion": film, "CutListQuestion": cut, "TakeOffQuestion": take}
