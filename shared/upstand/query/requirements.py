"""The question `requirements`: one detail, described in the trade's terms."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from marshmallow import Schema, ValidationError, fields

from upstand.edition import Edition
from upstand.quantity.traced import Traced, asked
from upstand.query.faults import Fault, QueryFaults, flatten, pointer
from upstand.query.fields import NULL, Choice, KnownId, QuantityField, Whole
from upstand.query.members import read_members
from upstand.query.model import OtherSurface, Plate, Query
from upstand.query.now import NowSchema, read_now
from upstand.query.sizes import (
    CEILING_IN,
    MAX_POINTS,
    MemberSchema,
    length_field,
    place,
    raw,
    turn_field,
)
from upstand.query.strict import StrictSchema, listed, required, reworded

MAX_MEMBERS = 50
MAX_PLATES = 50
MAX_SURFACES = 20
MAX_COUNT = 500
SIZES = ("height", "flange", "reveal")


def _schema(edition: Edition) -> Schema:
    """Make the schema for one edition: its ids are the known ones."""

    def ids(kind: str, use: str | None = None) -> list[str]:
        records = edition.kind(kind)
        return [i for i, r in records.items() if use is None or use in r.get("used_as", ())]

    class PlateSchema(StrictSchema):
        width = length_field(required=True)
        length = length_field(required=True)
        at = place()
        substrate = KnownId("substrate for a plate", lambda: ids("substrates"))

    class SurfaceSchema(StrictSchema):
        substrate = KnownId(
            "substrate", lambda: ids("substrates"), required=True, error_messages=required('"cmu"')
        )
        orientation = Choice(("flat", "upright"))

    flange_field, reveal_field = (_bounded(edition, name) for name in ("flange", "reveal"))

    class RequirementsSchema(StrictSchema):
        detail = KnownId(
            "detail",
            lambda: ids("details"),
            required=True,
            error_messages=required('"post"'),
        )
        roof = KnownId(
            "roof",
            lambda: ids("substrates", "roof"),
            required=True,
            error_messages=required('"tpo"'),
        )
        members = listed(
            fields.Nested(
                MemberSchema,
                error_messages={**NULL, "type": 'is not a member: write {"section": …}'},
            ),
            MAX_MEMBERS,
            "members",
            '{"section": "pipe", "od": "4 1/2 in", "substrate": "carbon-steel"}',
        )
        plates = listed(
            fields.Nested(
                PlateSchema, error_messages={**NULL, "type": 'is not a plate: write {"width": …}'}
            ),
            MAX_PLATES,
            "plates",
            '{"width": "3 in", "length": "3 in", "at": ["6 in", "0 in"]}',
        )
        surfaces = listed(
            fields.Nested(
                SurfaceSchema,
                error_messages={**NULL, "type": 'is not a surface: write {"substrate": …}'},
            ),
            MAX_SURFACES,
            "surfaces",
            '{"substrate": "cmu"}',
        )
        height = length_field("the reinforced height is more than 0, usually 8 in or more")
        flange = flange_field
        reveal = reveal_field
        mask_turn = turn_field()
        resin = KnownId("resin", lambda: ids("resins"))
        fleece = KnownId("fleece", lambda: ids("fleeces"))
        count = Whole(1, MAX_COUNT)
        now = fields.Nested(
            NowSchema,
            error_messages={
                **NULL,
                "type": 'is not an object: write {"air": "72 F", "surface": "78 F", …}',
            },
        )
        units = Choice(("us", "si"))
        lang = Choice(("en", "es"))
        edition = raw()
        overlay = raw()

    return RequirementsSchema()


_SCHEMAS: dict[str, Schema] = {}


def _bounded(edition: Edition, limit_id: str) -> QuantityField:
    """Make a length field whose bounds are a limit of the edition (flange, reveal)."""
    limit = edition.record(f"limits/{limit_id}")
    least = limit.value("at_least").magnitude("in")
    most = limit.value("at_most").magnitude("in") if limit.has("at_most") else CEILING_IN
    say = limit.text("clears", "en").replace("{limit}", f"{least:g} in")
    return QuantityField(
        "length", "in", least=least - 1e-9, most=most + 1e-9, bounds_say=say[0].lower() + say[1:]
    )


def schema_for(edition: Edition) -> Schema:
    """Return the request schema of an edition; made once for each."""
    made = _SCHEMAS.get(edition.digest)
    if made is None:
        made = _SCHEMAS[edition.digest] = _schema(edition)
    return made


def read_requirements(body: object, edition: Edition) -> Query:
    """Read one detail's description.

    Parameters
    ----------
    body : the request as plain JSON values.
    edition : the edition whose ids and limits it is read against.

    Raises
    ------
    QueryFaults : everything wrong with it, at once, each with its JSON pointer.
    """
    if not isinstance(body, Mapping):
        raise QueryFaults([Fault("", "is not an object: write {…} describing one detail")])
    schema = schema_for(edition)
    faults: list[Fault] = []
    try:
        loaded: dict[str, Any] = dict(schema.load(dict(body)))
    except ValidationError as error:
        faults = [reworded(fault, schema) for fault in flatten(error.messages)]
        loaded = dict(error.valid_data) if isinstance(error.valid_data, Mapping) else {}
    members, member_faults = read_members(body.get("members"), loaded.get("members") or [], edition)
    told = {fault.pointer for fault in faults}
    within = {place.rsplit("/", n)[0] for place in told for n in range(place.count("/"))}
    faults += [fault for fault in member_faults if fault.pointer not in within]
    faults += _relations(loaded, edition, told)
    if faults:
        raise QueryFaults(faults)

    def quantity(value: float | None, unit: str, *where: str | int) -> Traced | None:
        return None if value is None else asked(value, unit, pointer(*where))

    return Query(
        detail=loaded["detail"],
        roof=loaded["roof"],
        members=members,
        plates=_plates(loaded["plates"]) if "plates" in loaded else None,
        surfaces=tuple(
            OtherSurface(s["substrate"], s.get("orientation"), s.get("part"))
            for s in loaded.get("surfaces", ())
        ),
        sizes={name: asked(loaded[name], "in", pointer(name)) for name in SIZES if name in loaded},
        mask_turn=quantity(loaded.get("mask_turn"), "deg", "mask_turn"),
        resin=loaded.get("resin"),
        fleece=loaded.get("fleece"),
        count=loaded.get("count"),
        now=read_now(loaded.get("now") or {}, "now"),
        units=loaded.get("units"),
        lang=loaded.get("lang"),
    )


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


def _relations(loaded: Mapping[str, Any], edition: Edition, told: set[str]) -> list[Fault]:
    """Find what is wrong between fields: members or plates that a detail has, or has not."""
    faults = []
    points = sum(len(m.get("points", ())) for m in loaded.get("members") or () if m)
    if points > MAX_POINTS and "/members" not in told:
        faults.append(
            Fault("/members", f"have {points} polygon points together: the most is {MAX_POINTS}")
        )
    detail_id = loaded.get("detail")
    if isinstance(detail_id, str):
        inputs = edition.record(f"details/{detail_id}").get("inputs", {})
        for name in ("members", "plates", "surfaces"):
            need = inputs.get(name, "none")
            given = bool(loaded.get(name)) or any(p.startswith(f"/{name}") for p in told)
            if need == "required" and not given:
                faults.append(
                    Fault(
                        f"/{name}",
                        f"is missing: the detail {detail_id} needs at least one, such as "
                        '{"section": "angle", "leg_a": "3 in", "leg_b": "3 in", '
                        '"thickness": "1/4 in", "substrate": "carbon-steel"}',
                    )
                )
            if need == "none" and loaded.get(name):
                faults.append(
                    Fault(f"/{name}", f"the detail {detail_id} has no {name}: leave it out")
                )
    return faults
