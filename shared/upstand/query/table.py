"""The table of inputs as a question's fields: each record of kind `inputs` is one field.

Where a record has `at`, the field stands there ("now.air", "opening.width"); else under its id.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any

from marshmallow import fields

from upstand import LANGUAGES
from upstand.edition import Edition, Record, Value
from upstand.quantity.shown import Speech
from upstand.query.faults import pointer
from upstand.query.fields import Choice, Flag, KnownId, Moment, QuantityField, Whole
from upstand.query.ids import known_ids, said_ids
from upstand.query.sizes import CEILING_IN, length_field, turn_field
from upstand.query.strict import required
from upstand.telling.said import Both, Said, say
from upstand.words.fill import fill, lower_first

__all__ = ["LISTS", "SIZES", "Input", "field_of", "inputs", "table"]

#: How an input is read that is a size, a choice, a reading on the roof.
SIZES = ("length",)
CHOICES = ("choice", "flag", "whole")
LISTS = ("members", "plates")

#: Editions with their overlays of which tables and schemas are kept.
KEPT = 32


@dataclass(frozen=True, slots=True)
class Input:
    """One input: its name in `Query`, its record and its place in a question.

    reads : how it is written. part : the part of a detail that it is the material of.
    pointer : its place as a JSON pointer; a material's is the list of surfaces.
    """

    name: str
    record: Record
    place: tuple[str, ...]
    reads: str = field(init=False)
    part: str | None = field(init=False)
    pointer: str = field(init=False)

    def __post_init__(self) -> None:
        """Read the record once."""
        part = self.record.get("part")
        object.__setattr__(self, "reads", str(self.record.get("reads")))
        object.__setattr__(self, "part", part)
        where = "/surfaces" if part is not None else pointer(*self.place)
        object.__setattr__(self, "pointer", where)

    def given(self, loaded: Mapping[str, Any]) -> Any:
        """Return what a loaded question holds for it; None where it holds nothing."""
        at: Any = loaded.get(self.place[0])
        for step in self.place[1:]:
            if not isinstance(at, dict):
                return None
            at = at.get(step)
        return at


@lru_cache(maxsize=KEPT)
def inputs(edition: Edition) -> tuple[Input, ...]:
    """Return the inputs of an edition in their order; read once for each edition."""
    records = edition.records.get("inputs", {}).values()
    ordered = sorted(records, key=lambda r: (int(r.get("order")), r.id))
    return tuple(
        Input(name, r, tuple(str(r.get("at", name)).split(".")))
        for r in ordered
        for name in (r.id.replace("-", "_"),)
    )


def table(edition: Edition, group: str | None = None) -> Mapping[str, fields.Field[Any]]:
    """Make the fields that stand at the top of a question, or inside one group of it."""
    made = {}
    for item in inputs(edition):
        *above, name = item.place
        if item.part is None and item.reads not in LISTS and above == ([group] if group else []):
            made[name] = field_of(item, edition)
    return made


def groups(edition: Edition) -> tuple[str, ...]:
    """Return the names of the groups, in order: now, opening."""
    return tuple(dict.fromkeys(i.place[0] for i in inputs(edition) if len(i.place) > 1))


def field_of(item: Input, edition: Edition) -> fields.Field[Any]:
    """Make the field that reads an input."""
    record, reads = item.record, item.reads
    example = str(record.get("example"))
    name = Both(*(record.text("name", lang).lower() for lang in LANGUAGES))
    if reads == "length":
        return _length(record, edition)
    if reads == "angle":
        return turn_field()
    if reads == "temperature":
        return QuantityField(
            "temperature",
            "degF",
            least=-60.0,
            most=200.0,
            bounds_say=say("bounds-temperature"),
        )
    if reads == "fraction":
        told = say("bounds-fraction", name=name)
        return QuantityField("fraction", "percent", least=0.0, most=100.0, bounds_say=told)
    if reads == "speed":
        told = say("bounds-speed", [example], example=example)
        return QuantityField("speed", "mph", least=0.0, most=250.0, bounds_say=told)
    if reads == "whole":
        return Whole(int(record.get("least", 0)), int(record.get("most", 999)))
    if reads == "flag":
        return Flag()
    if reads == "choice":
        return Choice(tuple(record.get("choices")))
    if reads == "moment":
        return Moment(example)
    kind, use = str(record.get("kind")), record.get("used_as")
    must = any(entry.get("measured") and "details" not in entry for entry in record.get("taken"))
    more = {"required": True, "error_messages": required(f'"{example}"')} if must else {}
    return KnownId(
        name, lambda: known_ids(edition, kind, use), said=lambda: said_ids(edition, kind), **more
    )


def _length(record: Record, edition: Edition) -> QuantityField:
    """Make a length's field: its bounds are a limit's that refuses, its own, or more than zero."""
    least = record.get("least")
    obeyed = str(record.get("limit", ""))
    limit = edition.record(obeyed) if edition.has(obeyed) else None
    if limit is not None and limit.get("else") == "refuse":
        bound = limit.value("at_least").traced("in")
        most = limit.value("at_most").traced("in") if limit.has("at_most") else None
        slots = {"limit": Speech("us").text(bound), "range": Speech("us").span(bound, most)}
        told = (lower_first(fill(limit.text("clears", lang), slots)) for lang in LANGUAGES)
        high = CEILING_IN if most is None else most.value
        return _between(bound.value, high, say("bounds-limit", text=Both(*told)))
    if isinstance(least, Value):
        low = least.magnitude("in")
        return _between(low, CEILING_IN, say("bounds-length-least", least=f"{low:g}"))
    if least == 0:
        return _between(0.0, CEILING_IN, say("bounds-length-zero"))
    example = str(record.get("example"))
    return length_field(say("bounds-length-example", [example], example=example))


def _between(low: float, high: float, told: Said) -> QuantityField:
    return QuantityField("length", "in", least=low - 1e-9, most=high + 1e-9, bounds_say=told)
