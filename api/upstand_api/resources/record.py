"""GET /v1/editions/{edition}/{kind}/{id}: one record."""

from __future__ import annotations

from flask import Response

from upstand.telling.said import say
from upstand_api.http.body import (
    edition_of_parameters,
    parameters,
    read_overlay,
    read_units,
    records_of,
)
from upstand_api.http.negotiate import BOTH, speak
from upstand_api.http.problems import fitting, hint, problem
from upstand_api.http.responses import reply_kept
from upstand_api.openapi.document import EDITION, ID, KIND, OVERLAY, UNITS, Resource
from upstand_api.openapi.shapes_of_answers.editions import RecordSchema
from upstand_api.resources.record_json import show_record

resource = Resource("record", "One record of an edition.")


@resource.get("/v1/editions/<edition>/<kind>/<id>", RecordSchema, EDITION, KIND, ID, UNITS, OVERLAY)
def get_record(edition: str, kind: str, id: str) -> Response:
    """Show one record.

    Every value with its quantity, grade, source and layer.
    """
    given = parameters(units=read_units, overlay=read_overlay)
    found = edition_of_parameters(edition, given)
    records = records_of(found, kind)
    if id not in records:
        told = say("no-such-record", word=fitting(id), kind=kind, hint=hint(id, records))
        raise problem(404, told)
    kept = reply_kept(lambda: show_record(records[id], found, given.get("units", "us")), found)
    return speak(kept, BOTH)
