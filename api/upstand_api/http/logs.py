"""The log: method, path, status, time, id of the request. Never what a caller wrote but that id."""

from __future__ import annotations

import logging
import time
import traceback
from urllib.parse import quote

from flask import Flask, Response, g, request

from upstand_api.http.request_id import request_id

__all__ = ["LOG", "fault", "register"]

LOG = logging.getLogger("upstand_api")


def _path() -> str:
    # quoted again: a decoded line break would forge a line of the log
    return quote(request.path[:200], safe="/")


def fault(error: Exception) -> None:
    """Log a fault of the software: where it came up, without the message, which may quote."""
    where = "".join(traceback.format_tb(error.__traceback__))
    LOG.error(
        "%s at %s %s (%s)\n%s",
        type(error).__name__,
        request.method,
        _path(),
        request_id(),
        where,
    )


def register(app: Flask) -> None:
    """Log each request of an app when it is answered."""

    @app.before_request
    def started() -> None:
        g.started = time.perf_counter()

    @app.after_request
    def answered(response: Response) -> Response:
        taken_ms = (time.perf_counter() - g.get("started", time.perf_counter())) * 1000.0
        LOG.info(
            "%s %s %d %.1f ms %s",
            request.method,
            _path(),
            response.status_code,
            taken_ms,
            request_id(),
        )
        return response
