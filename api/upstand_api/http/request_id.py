"""An id for each request: the caller's own where it is fit to be written down, else a new one."""

from __future__ import annotations

import re
import uuid
from typing import Final

from flask import Flask, Response, g, request

__all__ = ["HEADER", "register", "request_id"]

HEADER: Final = "X-Request-ID"

_FITTING: Final = re.compile(r"[A-Za-z0-9][A-Za-z0-9._:-]{0,63}", re.ASCII)


def request_id() -> str:
    """Return the id of the current request, which stands in the answer, the log and a problem."""
    if "request_id" not in g:
        given = request.headers.get(HEADER, "")
        g.request_id = given if _FITTING.fullmatch(given) else uuid.uuid4().hex
    return str(g.request_id)


def register(app: Flask) -> None:
    """Send the id back with every response of an app."""

    @app.after_request
    def tell(response: Response) -> Response:
        response.headers[HEADER] = request_id()
        return response
