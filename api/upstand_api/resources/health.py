"""GET /healthz and /readyz: for whoever keeps the process running."""

from __future__ import annotations

from flask import Response

from upstand import __version__
from upstand.telling.said import say
from upstand_api.http.body import parameters
from upstand_api.http.problems import problem
from upstand_api.http.responses import json_response
from upstand_api.openapi.document import Resource
from upstand_api.openapi.shapes_of_answers.health import HealthSchema, ReadySchema
from upstand_api.state import state

resource = Resource("health", "For whoever keeps the process running.")


@resource.get("/healthz", HealthSchema, problems=(406, 422), kept=False)
def get_healthz() -> Response:
    """Tell that the process runs.

    Says nothing about the data; see /readyz.
    """
    parameters()
    return _unkept({"status": "ok"})


@resource.get("/readyz", ReadySchema, problems=(406, 422, 503), kept=False)
def get_readyz() -> Response:
    """Tell that questions can be answered.

    Names the edition that answers where none is named. 503 while files on the disk are wrong: what
    was read before still answers, and would not after a new start.
    """
    parameters()
    edition = state().editions.get()
    troubles = state().editions.troubles()
    if troubles:
        # names alone: reasons stand in the log
        files = sorted(troubles)
        raise problem(503, say("files-unusable", files=files), Retry_After="60")
    return _unkept(
        {
            "status": "ready",
            "edition": edition.id,
            "digest": edition.digest,
            "software": __version__,
        }
    )


def _unkept(document: dict[str, str]) -> Response:
    response = json_response(document)
    response.headers["Cache-Control"] = "no-store"
    return response
