"""POST /v1/takeoff: what many details need together; a list or a table in, and out."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, Final

from flask import Response

from upstand.document.takeoff import write
from upstand.document.takeoff_table import write_details, write_order
from upstand.edition import Edition
from upstand.query import Fault, QueryFaults
from upstand.query.detail_table import TableFaults, read_take_off_table
from upstand.query.faults import pointer
from upstand.query.takeoff import read_take_off
from upstand.takeoff import TakeOff, take_off_all
from upstand.telling.said import say
from upstand_api.http.body import (
    answered_body,
    parameters,
    read_body,
    read_lang,
    read_overlay,
    read_units,
)
from upstand_api.http.headers import page_policy
from upstand_api.http.negotiate import CSV, HTML, JSON, best_type, speak
from upstand_api.http.responses import reply, reply_text
from upstand_api.openapi import questions
from upstand_api.openapi.document import Parameter, Resource
from upstand_api.openapi.examples import TAKEOFF, TAKEOFF_TABLE
from upstand_api.openapi.shapes_of_answers.day import TakeOffAnswerSchema
from upstand_api.pages.order_sheet import STYLE, order_sheet

resource = Resource("takeoff", "What many details need together.")

TABLES: Final[Mapping[str, Callable[[TakeOff], bytes]]] = {
    "details": write_details,
    "order": write_order,
}
MOST_CREW: Final = 99


def _table(text: str) -> str:
    if text not in TABLES:
        raise ValueError(say("not-a-choice", TABLES, choices=tuple(TABLES)))
    return text


def _crew(text: str) -> int:
    if not (text.isascii() and text.isdigit() and len(text) < 3 and 1 <= int(text) <= MOST_CREW):
        span = say("whole-span", least="1", most=str(MOST_CREW))
        raise ValueError(say("whole-out-of-range", span=span))
    return int(text)


#: What stands in the address beside a table, which holds details alone.
SHARED: Final[Mapping[str, Callable[[str], Any]]] = {
    "roof": str,
    "resin": str,
    "fleece": str,
    "crew": _crew,
    "units": read_units,
    "lang": read_lang,
    "edition": str,
    "overlay": read_overlay,
}
TABLE: Final[Parameter] = {
    "name": "table",
    "in": "query",
    "description": "where text/csv is accepted: which table, each detail's share or the order; "
    "default details",
    "schema": {"type": "string", "enum": list(TABLES)},
}
BESIDE: Final[tuple[Parameter, ...]] = tuple(
    {
        "name": name,
        "in": "query",
        "description": f"where the body is text/csv: {name} of the whole, as in a body of JSON",
        "schema": {"type": "integer", "minimum": 1, "maximum": MOST_CREW}
        if name == "crew"
        else {"type": "string", "minLength": 1, "maxLength": 64},
    }
    for name in SHARED
)


@resource.post(
    "/v1/takeoff",
    TakeOffAnswerSchema,
    TABLE,
    *BESIDE,
    asks=questions.TAKEOFF,
    example=TAKEOFF,
    also=(CSV, HTML),
    table=TAKEOFF_TABLE,
)
def post_takeoff() -> Response:
    """Add up many details.

    What to order for all of them, what is asked about or held apart, each one's share, and one
    cutting plan for all pieces. The body is JSON, or a table as a spreadsheet saves it (text/csv:
    one detail a row, what they share in the address). Where Accept prefers text/csv the answer is
    a table, where it prefers text/html the order sheet to print. Faults of a table stand at
    /rows/<row as a spreadsheet counts>/<column>.
    """
    body = read_body(also=CSV)
    readers = SHARED if isinstance(body, bytes) else {}
    given = parameters(table=_table, **readers)
    chosen = given.pop("table", "details")
    asked = {**given, TABLE_BODY: body} if isinstance(body, bytes) else body
    kind = best_type((JSON, CSV, HTML))
    made, edition = answered_body(asked, lambda body, edition: _made(body, edition, kind, chosen))
    if kind == JSON:
        return reply(made, edition)
    if kind == CSV:
        response = reply_text(made, f"{CSV}; charset=utf-8; header=present", edition)
        response.headers["Content-Disposition"] = f'attachment; filename="{chosen}.csv"'
        return speak(response)
    response = reply_text(made, f"{HTML}; charset=utf-8", edition)
    response.headers["Content-Security-Policy"] = page_policy(*STYLE)
    return speak(response)


TABLE_BODY: Final = "table"


def _made(body: Any, edition: Edition, kind: str | None, chosen: str) -> Any:
    found = take_off_all(_read(body, edition), edition)
    if kind == CSV:
        return TABLES[chosen](found)
    return order_sheet(found) if kind == HTML else write(found)


def _read(body: Any, edition: Edition) -> Any:
    if not (isinstance(body, Mapping) and isinstance(body.get(TABLE_BODY), bytes)):
        return read_take_off(body, edition)
    shared = {name: value for name, value in body.items() if name != TABLE_BODY}
    try:
        return read_take_off_table(body[TABLE_BODY], shared, edition)
    except TableFaults as error:
        raise QueryFaults(
            Fault(
                pointer(*(("rows", cell.row) if cell.row else ()), *filter(None, [cell.column])),
                cell.detail,
            )
            for cell in error.faults
        ) from None
