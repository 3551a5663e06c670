"""Responses: JSON written one way, and what may be kept of them and by whom."""

from __future__ import annotations

import hashlib
import json
from typing import Any

from flask import Response, request

from upstand.edition import Edition

__all__ = ["reply", "write_json"]

PUBLIC = "public, max-age=300"
PRIVATE = "private, no-cache"
DRAFT = "no-cache"
ANSWER = "no-store"


def write_json(document: Any) -> str:
    """Write a document as JSON: the same numbers to the last digit, wherever it is written.

    >>> write_json({"text": "8 °F", "value": 0.1})
    '{"text":"8 °F","value":0.1}'
    """
    return json.dumps(document, ensure_ascii=False, allow_nan=False, separators=(",", ":"))


def reply(document: Any, *editions: Edition) -> Response:
    """Answer with a document that was computed from editions.

    What is read (GET) from published editions has an ETag and may be kept; a draft may change at
    any moment and has none; what an overlay went into is for its asker alone.
    """
    response = Response(write_json(document) + "\n", content_type="application/json")
    if any(edition.overlay is not None for edition in editions):
        response.headers["Cache-Control"] = PRIVATE
        response.vary.add("Authorization")
    elif request.method not in ("GET", "HEAD"):
        response.headers["Cache-Control"] = ANSWER
    elif any(edition.status == "draft" for edition in editions):
        response.headers["Cache-Control"] = DRAFT
    else:
        response.headers["Cache-Control"] = PUBLIC if editions else DRAFT
        response.set_etag(hashlib.sha256(response.get_data()).hexdigest()[:32])
        response.make_conditional(request)
    return response
