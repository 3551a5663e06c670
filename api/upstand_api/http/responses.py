"""Responses: JSON written one way, and what may be kept of them and by whom."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

import orjson
from flask import Response, request

import upstand
import upstand_api
from upstand import __version__
from upstand.edition import Edition
from upstand_api.http.compression import PACKED
from upstand_api.http.links import href
from upstand_api.http.negotiate import speak

__all__ = ["json_response", "reply", "reply_kept", "reply_text", "write_json"]

PUBLIC = "public, max-age=300"
PRIVATE = "private, no-cache"
DRAFT = "no-cache"
ANSWER = "no-store"


def write_json(document: Any) -> str:
    """Write a document as JSON: the same numbers to the last digit, wherever it is written.

    >>> write_json({"text": "8 °F", "value": 0.1})
    '{"text":"8 °F","value":0.1}'
    """
    return orjson.dumps(document).decode("utf-8")


def json_response(document: Any) -> Response:
    """Make a response of a document."""
    content = orjson.dumps(document, option=orjson.OPT_APPEND_NEWLINE)
    return Response(content, content_type="application/json")


def reply(document: Any, *editions: Edition) -> Response:
    """Answer with a document that was computed from editions and from the request's body."""
    response = json_response(document)
    _say_who_keeps(response, editions)
    return speak(response) if "lang" in document else response


def reply_text(content: bytes | str, kind: str, *editions: Edition) -> Response:
    """Answer with what is no JSON, computed from editions and from the request's body."""
    response = Response(content, content_type=kind)
    _say_who_keeps(response, editions)
    return response


def reply_kept(compute: Callable[[], Any], *editions: Edition) -> Response:
    """Answer with a document that depends on address, editions and software alone.

    Of published editions it has an ETag made from these: who has it already costs no computing. A
    draft may change at any moment and has none; what an overlay went into is for its asker alone.
    """
    if not _fixed(editions):
        return reply(compute(), *editions)
    tag = _tag(editions)
    known = request.if_none_match
    for held in (tag, tag + PACKED):
        if known.contains_weak(held):
            response = Response(status=304, content_type="application/json")
            response.set_etag(held)
            break
    else:
        response = json_response(compute())
        response.set_etag(tag)
    _say_who_keeps(response, editions)
    return response


def _fixed(editions: tuple[Edition, ...]) -> bool:
    return bool(editions) and all(e.overlay is None and e.status != "draft" for e in editions)


def _tag(editions: tuple[Edition, ...]) -> str:
    # a note or a status changes when an edition is withdrawn; its digest does not
    told = [(e.id, e.digest, e.status, e.date, e.note and sorted(e.note.items())) for e in editions]
    asked = sorted(request.args.items(multi=True))
    parts = repr((_software(), href(request.path), asked, told))
    return hashlib.sha256(parts.encode("utf-8", "surrogatepass")).hexdigest()[:32]


@cache
def _software() -> str:
    """Return a hash of the software: one version may be worked on, and served meanwhile."""
    total = hashlib.sha256(__version__.encode())
    for package in (upstand, upstand_api):
        root = Path(str(package.__file__)).parent
        for path in sorted((*root.rglob("*.py"), *root.rglob("*.yaml"))):
            total.update(str(path.relative_to(root)).encode() + b"\0" + path.read_bytes())
    return total.hexdigest()


def _say_who_keeps(response: Response, editions: tuple[Edition, ...]) -> None:
    if any(edition.overlay is not None for edition in editions):
        response.headers["Cache-Control"] = PRIVATE
        response.vary.add("Authorization")
    elif request.method not in ("GET", "HEAD"):
        response.headers["Cache-Control"] = ANSWER
    else:
        response.headers["Cache-Control"] = PUBLIC if _fixed(editions) else DRAFT
