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
from upstand.telling.said import Or, Said, code_of, say, tell
from upstand_api.http import logs
from upstand_api.http.links import href
from upstand_api.http.negotiate import language, speak
from upstand_api.http.request_id import request_id
from upstand_api.settings import MAX_BODY_BYTES

__all__ = ["CONTENT_TYPE", "Problem", "fitting", "hint", "problem", "register"]

CONTENT_TYPE = "application/problem+json"

_FITTING = re.compile(r"[A-Za-z0-9._][A-Za-z0-9 ._-]{0,63}", re.ASCII)

MOST_ERRORS = 200
"""Errors listed in one answer; how many more there are is said in the last."""

MOST_LISTED = 30
"""Known words that are listed where one is wrong; of more only the nearest are named."""

TITLES: Mapping[int, str] = {
    status: say(f"title-{status}")
    for status in (400, 404, 405, 406, 413, 415, 422, 429, 431, 500, 503)
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


def problem(status: int, detail: Said, where: str = "", **headers: str) -> Problem:
    """Make a problem with one fault; header names are given with underscores."""
    named = {name.replace("_", "-"): value for name, value in headers.items()}
    return Problem(status, [Fault(where, detail)], named)


def document(
    status: int, faults: Iterable[Fault], base: str = "", lang: str = "en", request: str = ""
) -> dict[str, Any]:
    """Write a problem down as plain JSON values; `base` is what links begin with."""
    every = list(faults)
    if len(every) > MOST_ERRORS:
        more = f"{len(every) - MOST_ERRORS + 1:,}"
        every[MOST_ERRORS - 1 :] = [Fault("", say("more-faults", many=more))]
    first = f"{every[0].pointer} {tell(every[0].detail, lang)}".strip()
    if len(every) > 1:
        first = say("first-and-more", first=first, many=str(len(every) - 1)).tell(lang)
    title = f"title-{status}" if status in TITLES else "title-other"
    return {
        "type": f"{base}/docs#problem-{status}" if status in TELLING else "about:blank",
        "title": say(title).tell(lang),
        "status": status,
        "detail": first,
        "request_id": request,
        "errors": [_error(fault, lang) for fault in every],
    }


def _error(fault: Fault, lang: str) -> dict[str, Any]:
    detail = fault.detail
    told = {"pointer": fault.pointer, "code": code_of(detail), "detail": tell(detail, lang)}
    accepted = detail.accepted if isinstance(detail, Said) else ()
    return {**told, "accepted": list(accepted)} if accepted else told


def answer(found: Problem) -> Response:
    """Make the response of a problem."""
    lang = language()
    told = document(found.status, found.faults, href(""), lang, request_id())
    content = json.dumps(told, ensure_ascii=False)
    response = Response(content, found.status, found.headers, content_type=CONTENT_TYPE)
    response.headers.setdefault("Cache-Control", "no-store")
    return speak(response)


def fitting(word: str) -> str:
    """Return a caller's word where it may be repeated, else an ellipsis.

    >>> fitting("pu-2k"), fitting("<b>")
    ('pu-2k', '…')
    """
    return word if _FITTING.fullmatch(word) else "…"


def hint(word: str, known: Iterable[str]) -> Said:
    """Say which known words are nearest, or all of them where they are few.

    >>> hint("resin", ["resins", "primers"])
    'did you mean resins? Known: primers, resins'
    """
    choices = sorted(known)
    if len(choices) <= MOST_LISTED:
        return nearest(word, choices)
    close = near(word, choices)
    if close:
        return say("did-you-mean", close, close=Or(close))
    return say("are-known", many=str(len(choices)))


def _no_such_path(app: Flask) -> Problem:
    known = sorted({rule.rule for rule in app.url_map.iter_rules() if "<" not in rule.rule})
    close = near(request.path.rstrip("/") or "/", known)
    if not close and request.path.startswith("/v1"):
        close = tuple(path for path in known if path.startswith("/v1/"))
    hint = say("did-you-mean", close, close=Or(close)) if close else say("docs-list")
    return problem(404, say("no-such-address", hint=hint))


def _of_http(error: HTTPException, app: Flask) -> Problem:
    status = error.code or 500
    if status == 404:
        return _no_such_path(app)
    if isinstance(error, MethodNotAllowed):
        allowed = sorted(error.valid_methods or ())
        meant = [method for method in allowed if method not in ("HEAD", "OPTIONS")]
        return problem(405, say("use-method", meant, methods=Or(meant)), Allow=", ".join(allowed))
    if status == 413:
        return problem(413, say("body-too-large", most=str(MAX_BODY_BYTES // 1024)))
    return problem(status, say(f"title-{status}" if status in TITLES else "title-other"))


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
        return answer(problem(500, say("own-fault")))
