"""The question `requirements`: one detail, described in the trade's terms."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from marshmallow import Schema, ValidationError, fields

from upstand.edition import Edition
from upstand.quantity.traced import asked
from upstand.quantity.typed import read
from upstand.quantity.units import convert
from upstand.query import relations
from upstand.query.faults import Fault, QueryFaults, flatten, pointer
from upstand.query.fields import NULL, Choice, KnownId, Moment
from upstand.query.ids import held_checks, known_ids, said_ids
from upstand.query.members import read_members
from upstand.query.model import ANSWER_KEYS, Done, OtherSurface, Plate, Query
from upstand.query.now import now_schema, read_now
from upstand.query.sizes import MemberSchema, length_field, place
from upstand.query.strict import QuestionSchema, StrictSchema, listed, required, reworded
from upstand.query.table import CHOICES, KEPT, SIZES, groups, inputs, table
from upstand.telling.said import say

__all__ = ["MOST", "parts_of", "read_requirements", "schema_for"]

#: The most that a list of a question may hold; counted before anything is read.
MOST: Mapping[str, int] = {
    "members": 50,
    "plates": 50,
    "surfaces": 20,
    "confirmed": 100,
    "since": 50,
    "fields": 50,
}


def parts_of(edition: Edition) -> tuple[str, ...]:
    """Return the parts that a surface may be, of any detail."""
    return tuple(dict.fromkeys(i.part for i in inputs(edition) if i.part is not None))


@lru_cache(maxsize=KEPT)
def schema_for(edition: Edition) -> Schema:
    """Return the schema for one edition: its inputs are the fields, its ids the known ones."""

    def ids(what: str, kind: str, **kwargs: Any) -> KnownId:
        return KnownId(
            say(f"thing-{what}"),
            lambda: known_ids(edition, kind),
            said=lambda: said_ids(edition, kind),
            **kwargs,
        )

    class PlateSchema(StrictSchema):
        width = length_field(required=True)
        length = length_field(required=True)
        at = place()
        substrate = ids("plate-substrate", "substrates")

    class SurfaceSchema(StrictSchema):
        substrate = ids("substrate", "substrates", required=True, error_messages=required('"cmu"'))
        orientation = Choice(("flat", "upright"))
        part = Choice(parts_of(edition))

    class DoneSchema(StrictSchema):
        activity = ids(
            "activity", "activities", required=True, error_messages=required('"prime-metal"')
        )
        at = Moment(
            "2026-11-28T15:00", required=True, error_messages=required('"2026-11-28T15:00"')
        )

    def nested(schema: type[Schema] | Schema, what: str, such_as: str) -> fields.Nested:
        return fields.Nested(
            schema,
            error_messages={
                **NULL,
                "type": say("not-such-an-object", what=say(what), example=such_as),
            },
        )

    def many(inner: fields.Field[Any], name: str, example: str) -> fields.List[Any]:
        return listed(inner, MOST[name], name, example)

    here: dict[str, Any] = {
        "detail": ids("detail", "details", required=True, error_messages=required('"post"')),
        **table(edition),
        "members": many(
            nested(MemberSchema, "a-member", '{"section": …}'),
            "members",
            '{"section": "pipe", "od": "4 1/2 in", "substrate": "carbon-steel"}',
        ),
        "plates": many(
            nested(PlateSchema, "a-plate", '{"width": …}'),
            "plates",
            '{"width": "3 in", "length": "3 in", "at": ["6 in", "0 in"]}',
        ),
        "surfaces": many(
            nested(SurfaceSchema, "a-surface", '{"substrate": …}'),
            "surfaces",
            '{"part": "wall", "substrate": "cmu"}',
        ),
        "confirmed": many(
            KnownId(
                say("thing-check"),
                lambda: held_checks(edition),
                said=lambda: said_ids(edition, "checks"),
            ),
            "confirmed",
            '"lead-rules-in-place"',
        ),
        "since": many(
            nested(DoneSchema, "work-done", '{"activity": …, "at": …}'),
            "since",
            '{"activity": "prime-metal", "at": "2026-11-28T15:00"}',
        ),
        "fields": many(Choice(ANSWER_KEYS), "fields", '"verdict"'),
        "now": nested(now_schema(edition), "an-object", '{"air": "72 F", "surface": "78 F", …}'),
    }
    for group in groups(edition):
        if group not in here:
            inner = StrictSchema.from_dict(dict(table(edition, group)))
            names = ", ".join(f'"{name}": …' for name in table(edition, group))
            here[group] = nested(inner, "an-object", f"{{{names}}}")
    return QuestionSchema.from_dict(here)()


def read_requirements(body: object, edition: Edition) -> Query:
    """Read one detail's description; raises QueryFaults with everything wrong with it."""
    if not isinstance(body, Mapping):
        raise QueryFaults([Fault("", say("not-a-detail-object"))])
    kept, faults = relations.within_lengths(body, MOST)
    schema = schema_for(edition)
    try:
        loaded: dict[str, Any] = dict(schema.load(kept))
    except ValidationError as error:
        faults += [reworded(fault, schema) for fault in flatten(error.messages)]
        loaded = dict(error.valid_data) if isinstance(error.valid_data, Mapping) else {}
    members, member_faults = read_members(kept.get("members"), loaded.get("members") or [], edition)
    told = {fault.pointer for fault in faults}
    within = {place.rsplit("/", n)[0] for place in told for n in range(place.count("/"))}
    faults += [fault for fault in member_faults if fault.pointer not in within]
    faults += relations.faults(loaded, members, edition, told)
    if faults:
        raise QueryFaults(faults)

    held = {
        item.name: (item, value)
        for item in inputs(edition)
        if item.place[0] in loaded and (value := item.given(loaded)) is not None
    }
    turn = loaded.get("mask_turn")
    return Query(
        detail=loaded["detail"],
        roof=loaded["roof"],
        members=members,
        plates=_plates(loaded["plates"]) if "plates" in loaded else None,
        surfaces=tuple(
            OtherSurface(s["substrate"], s.get("orientation"), s.get("part"))
            for s in loaded.get("surfaces", ())
        ),
        sizes={
            name: asked(value, "in", item.pointer, also=_metric(item.given(kept)))
            for name, (item, value) in held.items()
            if item.reads in SIZES
        },
        choices={
            name: value
            for name, (item, value) in held.items()
            if item.reads in CHOICES and item.place[0] not in ("now", "count", "crew")
        },
        mask_turn=None if turn is None else asked(turn, "deg", "/mask_turn"),
        resin=loaded.get("resin"),
        fleece=loaded.get("fleece"),
        count=loaded.get("count"),
        crew=loaded.get("crew"),
        confirmed=tuple(f"checks/{id}" for id in loaded.get("confirmed", ())),
        since=tuple(Done(s["activity"], s["at"]) for s in loaded.get("since", ())),
        fields=tuple(loaded["fields"]) if "fields" in loaded else None,
        now=read_now(loaded.get("now") or {}, "now"),
        units=loaded.get("units"),
        lang=loaded.get("lang"),
    )


def _metric(text: object) -> tuple[float, str] | None:
    """Return a size as it was asked in millimeters, so that 200 mm is not held to be 7.87 in."""
    if not isinstance(text, str) or not text.rstrip().endswith("m"):
        return None
    said = read(text, "length")
    return convert(said.value, said.unit, "mm"), "mm"


def _plates(loaded: list[Mapping[str, Any]]) -> tuple[Plate, ...]:
    plates = []
    for i, plate in enumerate(loaded):
        where = ("plates", i)
        at = plate.get("at")
        plates.append(
            Plate(
                width=asked(plate["width"], "in", pointer(*where, "width")),
                length=asked(plate["length"], "in", pointer(*where, "length")),
                at=None
                if at is None
                else (
                    asked(at[0], "in", pointer(*where, "at", 0)),
                    asked(at[1], "in", pointer(*where, "at", 1)),
                ),
                substrate=plate.get("substrate"),
            )
        )
    return tuple(plates)
