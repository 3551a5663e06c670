"""GET /v1/editions/{edition}/{kind}: the records of one kind."""

from __future__ import annotations

from flask import Response

from upstand_api.http.body import (
    edition_of_parameters,
    parameters,
    read_overlay,
    read_units,
    records_of,
)
from upstand_api.http.negotiate import BOTH, speak
from upstand_api.http.paging import (
    CURSOR,
    LIMIT,
    cut,
    linked,
    next_page,
    read_cursor,
    read_limit,
    start_behind,
)
from upstand_api.http.responses import reply_kept
from upstand_api.openapi.document import EDITION, KIND, OVERLAY, PAGE_PROBLEMS, UNITS, Resource
from upstand_api.openapi.shapes_of_answers.editions import KindSchema
from upstand_api.resources.record_json import show_record

resource = Resource("records", "Records of an edition.")


@resource.get(
    "/v1/editions/<edition>/<kind>",
    KindSchema,
    EDITION,
    KIND,
    LIMIT,
    CURSOR,
    UNITS,
    OVERLAY,
    problems=PAGE_PROBLEMS,
)
def get_records(edition: str, kind: str) -> Response:
    """List the records of one kind.

    Whole records by id, each value with its quantity, grade, source and layer.
    """
    given = parameters(limit=read_limit, cursor=read_cursor, units=read_units, overlay=read_overlay)
    found = edition_of_parameters(edition, given)
    records = records_of(found, kind)
    ids = list(records)
    shown, more = cut(ids, start_behind(ids, given), given)
    page = next_page(given, shown[-1]) if more else None
    kept = reply_kept(
        lambda: {
            "items": [show_record(records[id], found, given.get("units", "us")) for id in shown],
            "next_page": page,
        },
        found,
    )
    return linked(speak(kept, BOTH), page)
