"""Reading a request: its body, its parameters, and the edition it is asked of."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, TypeVar

from flask import g, request

from upstand import LANGUAGES
from upstand.edition import Edition, Record, UnknownKind
from upstand.edition.load import ID
from upstand.query.faults import Fault, QueryFaults, nearest, pointer
from upstand.telling.said import Or, say
from upstand_api.admission import Gate, is_large
from upstand_api.http import strict_json as strictjson
from upstand_api.http.problems import Problem, fitting, problem
from upstand_api.state import state

__all__ = [
    "answered",
    "answered_body",
    "edition_of_parameters",
    "parameters",
    "read_body",
    "read_lang",
    "read_overlay",
    "read_units",
    "records_of",
]

JSON_TYPE = "application/json"

Told = TypeVar("Told")


def read_body(also: str | None = None) -> Any:
    """Read the body as strict JSON; raises Problem 400, 413, 415.

    `also` is another type of body that is taken here: this comes back as bytes.
    """
    if request.content_length is not None and request.content_length > _most():
        raise problem(413, say("body-too-large", most=str(_most() // 1024)))
    types = [JSON_TYPE] if also is None else [JSON_TYPE, also]
    if request.mimetype not in types:
        raise problem(415, say("body-type", types, types=Or(types)))
    if request.mimetype_params.get("charset", "utf-8").lower() not in ("utf-8", "utf8"):
        raise problem(415, say("body-charset", ("utf-8",)))
    if request.headers.get("Content-Encoding", "identity").lower() != "identity":
        raise problem(415, say("body-packed", ("identity",)))
    if request.mimetype == also:
        return request.get_data(cache=False)
    try:
        return strictjson.read(request.get_data(cache=False))
    except strictjson.Unreadable as error:
        raise Problem(400, error.faults) from None


def _most() -> int:
    return request.max_content_length or 0


def answered(compute: Callable[[Any, Edition], Told]) -> tuple[Told, Edition]:
    """Answer the body of a request from the edition it names.

    `compute` takes body and edition, and may raise QueryFaults. Returns its document and the
    edition. Raises Problem for everything that is wrong with the request.
    """
    parameters()
    return answered_body(read_body(), compute)


def answered_body(body: Any, compute: Callable[[Any, Edition], Told]) -> tuple[Told, Edition]:
    """Answer a body that was read already, as `answered` does."""
    body = _spoken(body)
    edition, faults = _edition_of_body(body)
    try:
        with gate_of(body).inside():
            document = compute(body, edition)
    except QueryFaults as error:
        told = {fault.pointer for fault in faults}
        faults += [fault for fault in error.faults if fault.pointer not in told]
    if faults:
        raise Problem(422, sorted(faults))
    return document, edition


def gate_of(body: object) -> Gate:
    """Return the line to stand in: large work never stands in the way of a usual question."""
    return state().large if is_large(body) else state().gate


def _spoken(body: Any) -> Any:
    """Take the language of Accept-Language where a body names none, and keep which it is."""
    if not isinstance(body, Mapping):
        return body
    if "lang" in body:
        if body["lang"] in LANGUAGES:
            g.lang = body["lang"]
        return body
    wanted = request.accept_languages.best_match(list(LANGUAGES))
    return {**body, "lang": wanted} if wanted else body


def _edition_of_body(body: object) -> tuple[Edition, list[Fault]]:
    """Choose the edition that a body names; with what is wrong in how it names it."""
    named: dict[str, str | None] = {"edition": None, "overlay": None}
    faults = []
    held = body if isinstance(body, Mapping) else {}
    for name in named:
        given = held.get(name)
        if isinstance(given, str):
            named[name] = given
        elif name in held:
            faults.append(Fault(f"/{name}", say("not-text-edition")))
    authorization = request.headers.get("Authorization")
    return state().editions.get(named["edition"], named["overlay"], authorization), faults


def parameters(**readers: Callable[[str], Any]) -> dict[str, Any]:
    """Read the parameters of the address: only those named, each once.

    A reader takes the text and returns a value, or raises ValueError with what is accepted.
    Raises Problem 422; a fault's pointer is the parameter's name.
    """
    found: dict[str, Any] = {}
    faults = []
    for name, texts in request.args.lists():
        where = pointer(name[:64])
        if name not in readers:
            known = nearest(name, readers) if readers else say("no-parameters")
            faults.append(Fault(where, say("not-a-parameter", nearest=known)))
        elif len(texts) > 1:
            faults.append(Fault(where, say("parameter-twice")))
        else:
            try:
                found[name] = readers[name](texts[0])
            except ValueError as error:
                faults.append(Fault(where, error.args[0]))
    if faults:
        raise Problem(422, sorted(set(faults)))
    return found


def edition_of_parameters(id: str, given: Mapping[str, Any]) -> Edition:
    """Return the edition of a path, with the overlay that a parameter names."""
    authorization = request.headers.get("Authorization")
    where = ("", "/overlay")
    return state().editions.get(id, given.get("overlay"), authorization, where)


def records_of(edition: Edition, kind: str) -> Mapping[str, Record]:
    """Return the records of a kind by id; raises Problem 404 with the nearest known kinds."""
    try:
        return edition.kind(kind)
    except UnknownKind:
        told = say("no-such-kind", word=fitting(kind), nearest=nearest(kind, edition.records))
        raise problem(404, told) from None


def read_units(text: str) -> str:
    """Read the parameter `units`; ValueError says what is accepted."""
    if text not in ("us", "si"):
        raise ValueError(say("not-us-or-si", ("us", "si")))
    return text


def read_lang(text: str) -> str:
    """Read the parameter `lang`; ValueError says what is accepted."""
    if text not in LANGUAGES:
        raise ValueError(say("not-en-or-es", LANGUAGES))
    return text


def read_overlay(text: str) -> str:
    """Read the parameter `overlay`; ValueError says what is accepted."""
    if not ID.fullmatch(text):
        raise ValueError(say("not-an-overlay-id"))
    return text
