"""Headers that every response carries, so that a browser does nothing that was not meant."""

from __future__ import annotations

import base64
import hashlib
from typing import Final

from flask import Flask, Response

__all__ = ["HANDBOOK_POLICY", "page_policy", "register"]

_NOTHING: Final = "default-src 'none'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

HANDBOOK_POLICY: Final = (
    "default-src 'self'; img-src 'self' data:; style-src 'self' 'unsafe-inline'; "
    "script-src 'self'; base-uri 'self'; frame-ancestors 'none'; object-src 'none'"
)
"""For the built handbook, whose drawings carry styles of their own."""

_HEADERS: Final = {
    "Content-Security-Policy": _NOTHING,
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=()",
}


def page_policy(*styles: str) -> str:
    """Return the policy of a page with these inline styles and nothing else."""
    digests = (base64.b64encode(hashlib.sha256(s.encode("utf-8")).digest()) for s in styles)
    allowed = " ".join(f"'sha256-{digest.decode('ascii')}'" for digest in digests)
    return f"{_NOTHING}; style-src {allowed}"


def register(app: Flask) -> None:
    """Set the headers on every response of an app; what a view set itself stands."""

    @app.after_request
    def set_headers(response: Response) -> Response:
        for name, value in _HEADERS.items():
            response.headers.setdefault(name, value)
        return response
