"""JSON as RFC 8259 has it and no more: what two readers could take differently is refused.

Refused, every fault at once and each with its pointer: duplicate keys, NaN and Infinity, numbers
too large to be read exactly, halves of characters, deep nesting, objects with very many fields.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

from upstand.query.faults import Fault, pointer
from upstand.telling.said import Said, say

__all__ = ["MAX_DEPTH", "MAX_FIELDS", "MAX_VALUES", "Unreadable", "read"]

MAX_DEPTH = 16
"""Objects and lists inside one another; the deepest question has eight."""

MAX_FIELDS = 100
"""Fields of one object; the largest question has some thirty."""

MAX_VALUES = 50_000
"""Values in one body."""

LONGEST_NAME = 64
_EXACT = 2**53
_LONGEST_NUMBER = 40


class Unreadable(ValueError):
    """A body that can't be read; `faults` holds every reason."""

    def __init__(self, faults: list[Fault]) -> None:
        """Keep the faults in the order in which they were found."""
        self.faults = tuple(faults)
        super().__init__("; ".join(fault.detail for fault in self.faults))


class _Wrong:
    """Stands where a value was that is refused."""

    def __init__(self, detail: Said) -> None:
        self.detail = detail


class _Doubled(dict[str, Any]):
    """An object in which names stood more than once."""

    names: tuple[str, ...] = ()


def read(content: bytes) -> Any:
    """Read one JSON text in UTF-8.

    >>> read(b'{"count": 2}')
    {'count': 2}

    Raises Unreadable.
    """
    if not content.strip():
        raise _refused(say("json-empty", ("{…}",)))
    try:
        text = content.decode("utf-8")
    except UnicodeDecodeError as error:
        raise _refused(say("json-not-utf8", byte=str(error.start + 1))) from None
    if text.startswith("\ufeff"):
        raise _refused(say("json-order-mark"))
    try:
        found = json.loads(
            text,
            object_pairs_hook=_object,
            parse_constant=_constant,
            parse_int=_whole,
            parse_float=_decimal,
        )
    except json.JSONDecodeError as error:
        line, column = str(error.lineno), str(error.colno)
        told = say("not-json", line=line, column=column, why=_said(error.msg))
        raise _refused(told) from None
    except RecursionError:
        raise _refused(say("too-deep", most=str(MAX_DEPTH))) from None
    faults = list(_faults(found))
    if faults:
        raise Unreadable(faults)
    return found


def _refused(detail: Said) -> Unreadable:
    return Unreadable([Fault("", detail)])


def _said(message: str) -> str:
    return message[:1].lower() + message[1:]


def _object(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) == len(pairs):
        return found
    doubled = _Doubled(found)
    seen: set[str] = set()
    doubled.names = tuple(
        dict.fromkeys(name for name, _ in pairs if name in seen or seen.add(name))  # type: ignore[func-returns-value]
    )
    return doubled


def _constant(name: str) -> _Wrong:
    return _Wrong(say("not-a-number", name=name))


def _whole(text: str) -> Any:
    if len(text) <= _LONGEST_NUMBER and abs(int(text)) <= _EXACT:
        return int(text)
    return _Wrong(say("number-too-large"))


def _decimal(text: str) -> Any:
    if len(text) > _LONGEST_NUMBER:
        return _Wrong(say("number-too-long", most=str(_LONGEST_NUMBER)))
    number = float(text)
    return number if abs(number) <= _EXACT else _Wrong(say("number-too-large"))


def _faults(found: Any) -> Iterator[Fault]:
    """Walk the values without recursion; stops at the first level that is too deep."""
    values = 0
    stack: list[tuple[Any, tuple[str | int, ...]]] = [(found, ())]
    while stack:
        node, place = stack.pop()
        values += 1
        if values > MAX_VALUES:
            yield Fault("", say("values-most", most=f"{MAX_VALUES:,}"))
            return
        if isinstance(node, _Wrong):
            yield Fault(pointer(*place), node.detail)
        elif isinstance(node, str):
            if not _whole_characters(node):
                yield Fault(pointer(*place), say("half-character"))
        elif isinstance(node, dict | list) and len(place) >= MAX_DEPTH:
            yield Fault(pointer(*place), say("too-deep", most=str(MAX_DEPTH)))
            return
        elif isinstance(node, dict):
            refused = list(_names(node, place))
            yield from refused
            if not refused:
                stack += [(item, (*place, name)) for name, item in reversed(node.items())]
        elif isinstance(node, list):
            stack += [(node[i], (*place, i)) for i in range(len(node) - 1, -1, -1)]


def _names(node: dict[str, Any], place: tuple[str | int, ...]) -> Iterator[Fault]:
    if len(node) > MAX_FIELDS:
        yield Fault(pointer(*place), say("fields-most", most=str(MAX_FIELDS)))
    elif any(len(name) > LONGEST_NAME or not _whole_characters(name) for name in node):
        yield Fault(pointer(*place), say("name-too-long", most=str(LONGEST_NAME)))
    elif isinstance(node, _Doubled):
        for name in node.names:
            yield Fault(pointer(*place, name), say("field-twice"))


def _whole_characters(text: str) -> bool:
    if text.isascii():
        return True
    try:
        text.encode("utf-8")
    except UnicodeEncodeError:
        return False
    return True
