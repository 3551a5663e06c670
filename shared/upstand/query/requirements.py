"""The question `requirements`: one detail, described in the trade's terms."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from marshmallow import RAISE, Schema, ValidationError, fields, validate

from upstand.query.faults import Fault, QueryFaults, flatten, nearest, pointer
from upstand.query.fields import NULL, Choice, Flag, KnownId, QuantityField, Whole
from upstand.query.members import read_members
from upstand.query.model import Now, OtherSurface, Plate, Query
from upstand.spec import Edition
from upstand.traced import Traced, asked

MAX_MEMBERS = 50
MAX_PLATES = 50
MAX_SURFACES = 20
MAX_POINTS = 200
MAX_COUNT = 500
CEILING_IN = 12_000.0
UNKNOWN_FIELD = "unknown field"


class StrictSchema(Schema):
    """A schema that refuses what it does not know, in words."""

    error_messages = {"unknown": UNKNOWN_FIELD, "type": "is not an object: write {…} with fields"}  # noqa: RUF012

    class Meta:
        """Unknown fields are faults, not silence."""

        unknown = RAISE


def _required(example: str) -> dict[str, str]:
    return {
        "required": f"is missing: write it, such as {example}",
        "null": f"is null: write it, such as {example}, or leave it out",
    }


def length_field(
    least_say: str = "write more than 0, up to 1,000 ft", **kwargs: Any
) -> QuantityField:
    """Make a field for a length above zero, loaded in inches."""
    return QuantityField(
        "length",
        "in",
        above=0.0,
        most=CEILING_IN,
        bounds_say=least_say,
        error_messages=_required('"3 in"'),
        **kwargs,
    )


def _raw() -> fields.Raw:
    return fields.Raw(error_messages=NULL)


def place() -> fields.Tuple:
    """Make a field for a place on the roof: two lengths, either of which may be negative."""
    say = 'is not a place: write two lengths, such as ["6 in", "0 in"]'
    both = fields.Tuple((_along(), _along()), error_messages={**NULL, "invalid": say})
    both.validate_length = validate.Length(equal=2, error=say)
    return both


def _along() -> QuantityField:
    return QuantityField(
        "length",
        "in",
        signed=True,
        least=-CEILING_IN,
        most=CEILING_IN,
        bounds_say="write a length within 1,000 ft either way",
    )


def _turn() -> QuantityField:
    return QuantityField(
        "angle",
        "deg",
        signed=True,
        least=-360.0,
        most=360.0,
        bounds_say='write an angle from -360 to 360 degrees, such as "30 deg"',
    )


def temperature() -> QuantityField:
    """Make a field for a temperature that a roof can have, loaded in °F."""
    return QuantityField(
        "temperature",
        "degF",
        least=-60.0,
        most=200.0,
        bounds_say="no roof is so cold or so hot; write a temperature from -60 °F to 200 °F "
        "(-51 °C to 93 °C)",
    )


def percent(say: str) -> QuantityField:
    """Make a field for a share from 0 to 100 percent."""
    return QuantityField("fraction", "percent", least=0.0, most=100.0, bounds_say=say)


class NowSchema(StrictSchema):
    """What was measured on the roof."""

    air = temperature()
    surface = temperature()
    material = temperature()
    humidity = percent("write a relative humidity from 0 % to 100 %")
    rain_chance = percent("write a chance of rain from 0 % to 100 %")
    wind = QuantityField(
        "speed", "mph", least=0.0, most=250.0, bounds_say='write a speed such as "12 mph"'
    )
    wet = Flag()


class MemberSchema(StrictSchema):
    """One member; which dimensions belong to it depends on its section."""

    section = _raw()
    designation = _raw()
    substrate = _raw()
    at = place()
    turn = _turn()
    nps = _raw()
    points = fields.List(
        place(),
        validate=validate.Length(
            max=MAX_POINTS, error=f"has more than {MAX_POINTS} points: write at most {MAX_POINTS}"
        ),
        error_messages={**NULL, "invalid": 'is not a list of points: write [["0 in", "0 in"], …]'},
    )
    leg_a = length_field()
    leg_b = length_field()
    thickness = length_field()
    depth = length_field()
    flange_width = length_field()
    web_thickness = length_field()
    flange_thickness = length_field()
    width = length_field()
    corner_radius = QuantityField(
        "length", "in", least=0.0, most=CEILING_IN, bounds_say="write 0 or more"
    )
    od = length_field()
    diameter = length_field()


def _listed(inner: fields.Field[Any], most: int, what: str, example: str) -> fields.List[Any]:
    # marshmallow formats this message, so braces in it are doubled
    example = example.replace("{", "{{").replace("}", "}}")
    return fields.List(
        inner,
        validate=validate.Length(
            max=most, error=f"has more than {most} {what}: the most is {most}"
        ),
        error_messages={**NULL, "invalid": f"is not a list of {what}: write [{example}, …]"},
    )


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
            "substrate", lambda: ids("substrates"), required=True, error_messages=_required('"cmu"')
        )
        orientation = Choice(("flat", "upright"))

    flange_field, reveal_field = (_bounded(edition, name) for name in ("flange", "reveal"))

    class RequirementsSchema(StrictSchema):
        detail = KnownId(
            "detail",
            lambda: ids("details"),
            required=True,
            error_messages=_required('"post"'),
        )
        roof = KnownId(
            "roof",
            lambda: ids("substrates", "roof"),
            required=True,
            error_messages=_required('"tpo"'),
        )
        members = _listed(
            fields.Nested(
                MemberSchema,
                error_messages={**NULL, "type": 'is not a member: write {"section": …}'},
            ),
            MAX_MEMBERS,
            "members",
            '{"section": "pipe", "od": "4 1/2 in", "substrate": "carbon-steel"}',
        )
        plates = _listed(
            fields.Nested(
                PlateSchema, error_messages={**NULL, "type": 'is not a plate: write {"width": …}'}
            ),
            MAX_PLATES,
            "plates",
            '{"width": "3 in", "length": "3 in", "at": ["6 in", "0 in"]}',
        )
        surfaces = _listed(
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
        mask_turn = _turn()
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
        edition = _raw()
        overlay = _raw()

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
        faults = [_reworded(fault, schema) for fault in flatten(error.messages)]
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

    now = loaded.get("now") or {}
    degrees = {k: quantity(now.get(k), "degF", "now", k) for k in ("air", "surface", "material")}
    shares = {k: quantity(now.get(k), "percent", "now", k) for k in ("humidity", "rain_chance")}
    return Query(
        detail=loaded["detail"],
        roof=loaded["roof"],
        members=members,
        plates=_plates(loaded["plates"]) if "plates" in loaded else None,
        surfaces=tuple(
            OtherSurface(s["substrate"], s.get("orientation")) for s in loaded.get("surfaces", ())
        ),
        height=quantity(loaded.get("height"), "in", "height"),
        flange=quantity(loaded.get("flange"), "in", "flange"),
        reveal=quantity(loaded.get("reveal"), "in", "reveal"),
        mask_turn=quantity(loaded.get("mask_turn"), "deg", "mask_turn"),
        resin=loaded.get("resin"),
        fleece=loaded.get("fleece"),
        count=loaded.get("count"),
        now=Now(
            **degrees,
            **shares,
            wind=quantity(now.get("wind"), "mph", "now", "wind"),
            wet=now.get("wet"),
        ),
        weather_given=bool(now),
        units=loaded.get("units"),
        lang=loaded.get("lang", "en"),
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


def _reworded(fault: Fault, schema: Schema) -> Fault:
    """Say of an unknown field which ones are known at its place."""
    if fault.detail != UNKNOWN_FIELD:
        return fault
    *where, name = fault.pointer.split("/")[1:]
    here: Any = schema
    for step in where:
        field = here.fields.get(step) if isinstance(here, Schema) else None
        if isinstance(field, fields.List):
            field = field.inner
        if isinstance(field, fields.Nested):
            here = field.schema
    known = here.fields if isinstance(here, Schema) else ()
    return Fault(fault.pointer, f"is not a field here: {nearest(name, known)}")
