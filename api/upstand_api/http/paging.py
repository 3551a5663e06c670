"""Pages of a list: a cursor says where the page starts, body and header Link lead to the next."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Any, Final, TypeVar
from urllib.parse import urlencode

from flask import Response, request

from upstand.telling.said import say
from upstand_api.http.links import href
from upstand_api.http.problems import Problem, problem

__all__ = [
    "CURSOR",
    "LIMIT",
    "PLACE",
    "cut",
    "linked",
    "next_page",
    "read_cursor",
    "read_limit",
    "read_place",
    "start_behind",
    "unknown_cursor",
]

USUAL: Final = 50
MOST: Final = 100

_CURSOR: Final = "[A-Za-z0-9.-]{1,64}"
_PLACE: Final = "[0-9]{1,7}"

LIMIT: Final[Mapping[str, Any]] = {
    "name": "limit",
    "in": "query",
    "description": f"items on a page, at most {MOST}; default {USUAL}",
    "schema": {"type": "integer", "minimum": 1, "maximum": MOST},
}
CURSOR: Final[Mapping[str, Any]] = {
    "name": "cursor",
    "in": "query",
    "description": "where the page starts, as the link next_page of the page before has it",
    "schema": {"type": "string", "pattern": f"^{_CURSOR}$"},
}
PLACE: Final[Mapping[str, Any]] = {
    **CURSOR,
    "schema": {"type": "string", "pattern": f"^{_PLACE}$"},
}

Item = TypeVar("Item")


def read_limit(text: str) -> int:
    """Read the parameter `limit`; ValueError says what is accepted."""
    if not (text.isascii() and text.isdigit() and len(text) <= 4 and 1 <= int(text) <= MOST):
        raise ValueError(say("not-a-limit", most=str(MOST)))
    return int(text)


def read_cursor(text: str) -> str:
    """Read the parameter `cursor`: an id of the page before."""
    if not re.fullmatch(_CURSOR, text):
        raise unknown_cursor()
    return text


def read_place(text: str) -> int:
    """Read the parameter `cursor` of a list without ids: how many items came before."""
    if not re.fullmatch(_PLACE, text):
        raise unknown_cursor()
    return int(text)


def unknown_cursor() -> Problem:
    """Make the problem of a cursor that no page of the list has."""
    return problem(400, say("unknown-cursor"), "/cursor")


def start_behind(ids: Sequence[str], given: Mapping[str, Any]) -> int:
    """Return where the page behind a cursor starts; raises Problem 400 for one that is no id."""
    cursor = given.get("cursor")
    if cursor is None:
        return 0
    if cursor not in ids:
        raise unknown_cursor()
    return ids.index(cursor) + 1


def cut(items: Sequence[Item], start: int, given: Mapping[str, Any]) -> tuple[Sequence[Item], bool]:
    """Cut a page from `start` on; tells too whether more follows it."""
    end = start + given.get("limit", USUAL)
    return items[start:end], end < len(items)


def linked(response: Response, page: str | None) -> Response:
    """Lead on to the next page by the header Link (RFC 8288), too."""
    if page is not None:
        response.headers["Link"] = f'<{page}>; rel="next"'
    return response


def next_page(given: Mapping[str, Any], cursor: str) -> str:
    """Link to the page behind a cursor, with the parameters of this one."""
    return href(f"{request.path}?{urlencode({**given, 'cursor': cursor})}")
