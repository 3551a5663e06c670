"""Errors as `application/problem+json` (RFC 9457), every fault at once, in the trade's words."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping
from typing import Any

from flask import Flask, Response, request
from werkzeug.exceptions import HTTPException, MethodNotAllowed

from upstand.edition.faults import near
from upstand.query.faults import Fault, nearest
from upstand_api.http import logs
from upstand_api.http.links import href
from upstand_api.http.negotiate import speak

__all__ = ["CONTENT_TYPE", "Problem", "fitting", "hint", "problem", "register"]

CONTENT_TYPE = "application/problem+json"

_FITTING = re.compile(r"[A-Za-z0-9._][A-Za-z0-9 ._-]{0,63}", re.ASCII)

MOST_ERRORS = 200
"""Errors listed in one answer; how many more there are is said in the last."""

MOST_LISTED = 30
"""Known words that are listed where one is wrong; of more only the nearest are named."""

TITLES: Mapping[int, str] = {
    400: "The request can't be read",
    404: "There is no such thing here",
    405: "This address is not used that way",
    406: "The answer can't be given in that form",
    413: "The request is too large",
    415: "The request is in a form that is not read here",
    422: "The request can be read, but it is wrong",
    429: "Too many requests",
    431: "The request's headers are too large",
    500: "A fault of this software, not of the request",
    503: "No answer at this moment",
}

TELLING: Mapping[int, str] = {
    400: "Not JSON, or JSON that two readers could take differently: duplicate keys, NaN, a "
    "number too large to be exact, nesting too deep.",
    404: "Unknown path, edition, kind, record or overlay. An overlay that a caller may not use is "
    "unknown too.",
    405: "Known path, other method; the header Allow lists the ones that work.",
    406: "Accept leaves out what the path answers with.",
    413: "The body is over 256 KB.",
    415: "The body is not sent as application/json.",
    422: "Readable but wrong: an unknown field or id, a quantity that can't be, an impossible "
    "section. Every fault is listed, each with its JSON pointer.",
    429: "More requests a minute than this server takes from one address; Retry-After says when "
    "to come again.",
    503: "More questions at once than this server answers, or data on its disk can't be used; "
    "Retry-After says when to come again.",
}


class Problem(Exception):
    """An error that goes to the caller: status, faults, and headers to go with it."""

    def __init__(
        self, status: int, faults: Iterable[Fault], headers: Mapping[str, str] | None = None
    ) -> None:
        """Keep what is told; `faults` are never empty."""
        self.status = status
        self.faults = tuple(faults)
        self.headers = dict(headers or {})
        super().__init__(f"{status}: {len(self.faults)} faults")


def problem(status: int, detail: str, where: str = "", **headers: str) -> Problem:
    """Make a problem with one fault; header names are given with underscores."""
    named = {name.replace("_", "-"): value for name, value in headers.items()}
    return Problem(status, [Fault(where, detail)], named)


def document(status: int, faults: Iterable[Fault], base: str = "") -> dict[str, Any]:
    """Write a problem down as plain JSON values; `base` is what links begin with."""
    listed = [{"pointer": f.pointer, "detail": f.detail} for f in faults]
    if len(listed) > MOST_ERRORS:
        more = len(listed) - MOST_ERRORS + 1
        listed = listed[: MOST_ERRORS - 1]
        listed.append({"pointer": "", "detail": f"has {more:,} more faults, not listed here"})
    first = listed[0]
    said = f"{first['pointer']} {first['detail']}".strip()
    others = f" (and {len(listed) - 1} more)" if len(listed) > 1 else ""
    return {
        "type": f"{base}/docs#problem-{status}" if status in TELLING else "about:blank",
        "title": TITLES.get(status, "Error"),
        "status": status,
        "detail": said + others,
        "errors": listed,
    }


def answer(found: Problem) -> Response:
    """Make the response of a problem."""
    content = json.dumps(document(found.status, found.faults, href("")), ensure_ascii=False)
    response = Response(content, found.status, found.headers, content_type=CONTENT_TYPE)
    response.headers.setdefault("Cache-Control", "no-store")
    return speak(response, "en")


def fitting(word: str) -> str:
    """Return a caller's word where it may be repeated, else an ellipsis.

    >>> fitting("pu-2k"), fitting("<b>")
    ('pu-2k', '…')
    """
    return word if _FITTING.fullmatch(word) else "…"


def hint(word: str, known: Iterable[str]) -> str:
    """Say which known words are nearest, or all of them where they are few.

    >>> hint("resin", ["resins", "primers"])
    'did you mean resins? Known: primers, resins'
    """
    choices = sorted(known)
    if len(choices) <= MOST_LISTED:
        return nearest(word, choices)
    close = near(word, choices)
    return f"did you mean {' or '.join(close)}?" if close else f"{len(choices)} are known"


def _no_such_path(app: Flask) -> Problem:
    known = sorted({rule.rule for rule in app.url_map.iter_rules() if "<" not in rule.rule})
    close = near(request.path.rstrip("/") or "/", known)
    if not close and request.path.startswith("/v1"):
        close = tuple(path for path in known if path.startswith("/v1/"))
    hint = f"did you mean {' or '.join(close)}?" if close else "/docs lists every address"
    return problem(404, f"no such address: {hint}")


def _of_http(error: HTTPException, app: Flask) -> Problem:
    status = error.code or 500
    if status == 404:
        return _no_such_path(app)
    if isinstance(error, MethodNotAllowed):
        allowed = sorted(error.valid_methods or ())
        meant = [method for method in allowed if method not in ("HEAD", "OPTIONS")]
        return problem(405, f"use {' or '.join(meant)} here", Allow=", ".join(allowed))
    if status == 413:
        return problem(413, "the body is over 256 KB: send fewer details at once")
    return problem(status, TITLES.get(status, str(error.name)).lower())


def register(app: Flask) -> None:
    """Answer every error of an app as a problem."""

    @app.errorhandler(Problem)
    def known(error: Problem) -> Response:
        return answer(error)

    @app.errorhandler(HTTPException)
    def http(error: HTTPException) -> Response:
        return answer(_of_http(error, app))

    @app.errorhandler(Exception)
    def unforeseen(error: Exception) -> Response:
        logs.fault(error)
        return answer(problem(500, "this is a fault here: try again, or tell whoever runs this"))
