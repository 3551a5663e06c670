"""GET /v1/editions: which editions there are."""

from __future__ import annotations

from typing import Any

from flask import Response

from upstand_api.editions import DRAFT
from upstand_api.http.body import parameters
from upstand_api.http.links import href
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
from upstand_api.http.responses import reply
from upstand_api.openapi.document import Resource
from upstand_api.openapi.shapes_of_answers.editions import EditionsSchema
from upstand_api.state import state

resource = Resource("editions", "The requirements as data.")


@resource.get("/v1/editions", EditionsSchema, LIMIT, CURSOR, problems=(400, 406, 422, 429))
def get_editions() -> Response:
    """List the editions.

    Newest first, the draft last. One that is withdrawn still answers, with a warning.
    """
    given = parameters(limit=read_limit, cursor=read_cursor)
    ids = state().editions.ids()
    shown, more = cut(ids, start_behind(ids, given), given)
    page = next_page(given, shown[-1]) if more else None
    return linked(reply({"items": [_entry(id) for id in shown], "next_page": page}), page)


def _entry(id: str) -> dict[str, Any]:
    editions = state().editions
    entry = editions.notes().get(id)
    return {
        "id": id,
        "status": "draft" if entry is None else entry.status,
        "date": None if entry is None else entry.date,
        "note": None if entry is None else dict(entry.told),
        "default": id == editions.default_id(),
        "href": href(f"/v1/editions/{DRAFT if entry is None else id}"),
    }
