"""The question `cutlist`: pieces to cut and the rolls they come from."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from math import inf
from typing import Any

from marshmallow import Schema, ValidationError, fields

from upstand.cutting.model import Roll, Wanted
from upstand.edition import Edition
from upstand.query.faults import Fault, QueryFaults, pointer
from upstand.query.fields import NULL, Flag, Whole
from upstand.query.model import Language, System
from upstand.query.sizes import length_field
from upstand.query.strict import QuestionSchema, StrictSchema, listed, read_body, required
from upstand.telling.said import say

__all__ = ["CutListQuery", "read_cut_list"]

MAX_PIECES = 2_000
MAX_ROLLS = 50
EXAMPLE = '{"id": "B1", "width": "6 in", "length": "13 in", "count": 2}'
#: Names that come back in drawings and tables: nothing in them means anything to a program.
NAME = re.compile(r"[A-Za-z0-9._-][A-Za-z0-9 ._-]{0,63}")


@dataclass(frozen=True, slots=True)
class CutListQuery:
    """Pieces and rolls; `stocked` where none were named and those of the edition are taken."""

    pieces: tuple[Wanted, ...]
    rolls: tuple[Roll, ...]
    units: System | None = None
    lang: Language = "en"
    stocked: bool = False


_NO_ROLL = say("not-such-an-object", what=say("a-roll"), example='{"width": "20 in"}')
_NO_PIECE = say("not-such-an-object", what=say("a-piece"), example=EXAMPLE)


class _Name(fields.Field[str]):
    default_error_messages = NULL

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> str:
        if not isinstance(value, str) or not NAME.fullmatch(value) or value.startswith("-"):
            raise ValidationError(say("not-a-name"))
        return value


class RollSchema(StrictSchema):
    """A kind of roll; without a count it is used as often as needed."""

    width = length_field(required=True)
    length = length_field()
    count = Whole(1, MAX_PIECES)


class PieceSchema(StrictSchema):
    """One size to cut."""

    id = _Name(required=True, error_messages={**NULL, **required('"B1"')})
    width = length_field(required=True)
    length = length_field(required=True)
    count = Whole(1, MAX_PIECES)
    may_turn = Flag()
    group = _Name()


class CutListSchema(QuestionSchema):
    """Pieces, and the rolls to cut them from."""

    roll = fields.Nested(RollSchema, error_messages={**NULL, "type": _NO_ROLL})
    rolls = listed(
        fields.Nested(
            RollSchema,
            error_messages={**NULL, "type": _NO_ROLL},
        ),
        MAX_ROLLS,
        "rolls",
        '{"width": "20 in", "length": "50 ft"}',
    )
    pieces = listed(
        fields.Nested(PieceSchema, error_messages={**NULL, "type": _NO_PIECE}),
        MAX_PIECES,
        "pieces",
        EXAMPLE,
    )


_SCHEMA: Schema = CutListSchema()


def stocked_rolls(edition: Edition) -> tuple[Roll, ...]:
    """Return the rolls that the edition's default fleece is sold in."""
    resin = str(edition.record("parameters/default-resin").get("choice"))
    fleece = str(edition.record(resin).get("fleece"))
    return tuple(
        Roll(pack.value("width").magnitude("in"), pack.value("length").magnitude("in"))
        for pack in edition.kind("packs").values()
        if pack.get("of") == fleece
    )


def read_cut_list(body: object, edition: Edition) -> CutListQuery:
    """Read pieces and rolls; raises QueryFaults with everything wrong with them."""
    given = body.get("pieces") if isinstance(body, Mapping) else None
    if isinstance(given, list) and len(given) > MAX_PIECES:
        # before a schema is put to work on them
        told = say("entries-most", many=f"{len(given):,}", most=f"{MAX_PIECES:,}")
        raise QueryFaults([Fault("/pieces", told)])
    loaded = read_body(body, _SCHEMA, f'{{"pieces": [{EXAMPLE}]}}')
    faults = []
    rows = loaded.get("pieces") or []
    if not rows:
        faults.append(Fault("/pieces", say("nothing-to-cut", [EXAMPLE], example=EXAMPLE)))
    total = sum(row.get("count", 1) for row in rows)
    if total > MAX_PIECES:
        told = say("pieces-together", total=f"{total:,}", most=f"{MAX_PIECES:,}")
        faults.append(Fault("/pieces", told))
    if "roll" in loaded and "rolls" in loaded:
        faults.append(Fault("/rolls", say("beside-other", other="roll")))
    names: dict[str, int] = {}
    for index, row in enumerate(rows):
        if row["id"] in names:
            faults.append(
                Fault(
                    pointer("pieces", index, "id"),
                    say("piece-twice", other=str(names[row["id"]])),
                )
            )
        names.setdefault(row["id"], index)
    rolls = _rolls(loaded, edition)
    widest = max((roll.width for roll in rolls), default=0.0)
    for index, row in enumerate(rows):
        if not _fits(row, rolls):
            faults.append(
                Fault(
                    pointer("pieces", index),
                    say("fits-no-roll", widest=f"{widest:g} in"),
                )
            )
    if faults:
        raise QueryFaults(faults)
    return CutListQuery(
        tuple(
            Wanted(
                row["id"],
                row["width"],
                row["length"],
                row.get("count", 1),
                row.get("may_turn", True),
                row.get("group", ""),
            )
            for row in rows
        ),
        rolls,
        loaded.get("units"),
        loaded.get("lang", "en"),
        "roll" not in loaded and not loaded.get("rolls"),
    )


def _rolls(loaded: Mapping[str, Any], edition: Edition) -> tuple[Roll, ...]:
    rows = [loaded["roll"]] if "roll" in loaded else loaded.get("rolls") or []
    if not rows:
        return stocked_rolls(edition)
    return tuple(Roll(r["width"], r.get("length", inf), r.get("count")) for r in rows)


def _fits(row: Mapping[str, Any], rolls: tuple[Roll, ...]) -> bool:
    ways = [(row["width"], row["length"])]
    if row.get("may_turn", True):
        ways.append((row["length"], row["width"]))
    return any(w <= roll.width and h <= roll.length for w, h in ways for roll in rolls)
