"""GET /v1/editions/{edition}/changes: what is different since another edition."""

from __future__ import annotations

from typing import Any

from flask import Response

from upstand.edition.publishing.changes import changes, sentence
from upstand.telling.said import say
from upstand_api.http.body import edition_of_parameters, parameters
from upstand_api.http.paging import (
    LIMIT,
    PLACE,
    cut,
    linked,
    next_page,
    read_limit,
    read_place,
    unknown_cursor,
)
from upstand_api.http.problems import problem
from upstand_api.http.responses import reply_kept
from upstand_api.openapi.document import EDITION, PAGE_PROBLEMS, SINCE, Resource
from upstand_api.openapi.shapes_of_answers.editions import ChangesSchema
from upstand_api.state import state

resource = Resource("changes", "What changed between editions.")


@resource.get(
    "/v1/editions/<edition>/changes",
    ChangesSchema,
    EDITION,
    SINCE,
    LIMIT,
    PLACE,
    problems=PAGE_PROBLEMS,
)
def get_changes(edition: str) -> Response:
    """List what changed since another edition.

    Each change with its place, what stood and what stands there, and the grade and source of it.
    """
    given = parameters(limit=read_limit, cursor=read_place, since=str)
    new = edition_of_parameters(edition, {})
    since = given.get("since")
    if not since:
        others = [id for id in state().editions.ids() if id != new.id]
        known = say("known", others, known=others)
        raise problem(422, say("since-missing", known=known), "/since")
    old = state().editions.get(since, where=("/since", ""))
    start = given.get("cursor", 0)
    page: str | None = None

    def listed() -> dict[str, Any]:
        nonlocal page
        found = changes(old, new)
        if start and start >= len(found):
            raise unknown_cursor()
        shown, more = cut(found, start, given)
        page = next_page(given, str(start + len(shown))) if more else None
        return {
            "edition": new.id,
            "since": old.id,
            "items": [{**change, "sentence": sentence(change)} for change in shown],
            "next_page": page,
        }

    return linked(reply_kept(listed, old, new), page)
