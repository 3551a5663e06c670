"""GET /v1/editions/{edition}: one edition and what it holds."""

from __future__ import annotations

from flask import Response

from upstand import __version__
from upstand_api.http.body import edition_of_parameters, parameters, read_overlay
from upstand_api.http.links import href
from upstand_api.http.responses import reply_kept
from upstand_api.openapi.document import EDITION, OVERLAY, Resource
from upstand_api.openapi.shapes_of_answers.editions import EditionSchema

resource = Resource("edition", "One edition.")


@resource.get("/v1/editions/<edition>", EditionSchema, EDITION, OVERLAY)
def get_edition(edition: str) -> Response:
    """Describe one edition.

    Its status, its digest, and how many records of each kind it holds.
    """
    given = parameters(overlay=read_overlay)
    found = edition_of_parameters(edition, given)
    return reply_kept(
        lambda: {
            "id": found.id,
            "overlay": found.overlay,
            "status": found.status,
            "date": found.date,
            "note": None if found.note is None else dict(found.note),
            "digest": found.base or found.digest,
            "overlay_digest": found.overlay_digest,
            "schema": found.schema,
            "software": __version__,
            "kinds": [
                {
                    "kind": kind,
                    "count": len(records),
                    "href": href(f"/v1/editions/{found.id}/{kind}"),
                }
                for kind, records in found.records.items()
            ],
        },
        found,
    )
