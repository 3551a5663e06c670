"""Long answers go out gzipped to whoever asks for that."""

from __future__ import annotations

import gzip
from typing import Final

from flask import Flask, Request, Response, request

__all__ = ["LEAST_BYTES", "register", "takes_gzip"]

LEAST_BYTES: Final = 2048
"""Shorter answers fit into a packet or two as they are."""

# beyond this level an answer shrinks by a hundredth and costs half as much again
_LEVEL: Final = 4
_PACKED_WELL: Final = (
    "application/json",
    "application/problem+json",
    "text/html",
    "text/csv",
    "image/svg+xml",
)


def takes_gzip(asked: Request) -> bool:
    """Tell whether a caller wants gzip: named in Accept-Encoding, not with q=0, not after identity.

    A header that is left out asks for nothing.
    """
    accepted = asked.accept_encodings
    wanted = accepted.quality("gzip")
    plain = dict(accepted).get("identity", 0)
    return bool(wanted > 0 and wanted >= plain)


PACKED: Final = "-gzip"
"""What the ETag of a packed answer ends in: a strong one names bytes."""


def register(app: Flask) -> None:
    """Pack the long answers of an app. What is sent from a file has its packed file beside it."""

    @app.after_request
    def pack(response: Response) -> Response:
        sent_from_file = response.is_streamed or response.direct_passthrough
        if response.mimetype not in _PACKED_WELL or sent_from_file:
            return response
        response.vary.add("Accept-Encoding")
        if (
            response.status_code != 304
            and "Content-Encoding" not in response.headers
            and takes_gzip(request)
        ):
            content = response.get_data()
            if len(content) > LEAST_BYTES:
                response.set_data(gzip.compress(content, _LEVEL, mtime=0))
                response.headers["Content-Encoding"] = "gzip"
                tag, weak = response.get_etag()
                if tag is not None:
                    response.set_etag(f"{tag}{PACKED}", bool(weak))
        return response
