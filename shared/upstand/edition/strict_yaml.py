"""A small, strict part of YAML: what spec data is written in, and nothing else.

Built on the parser's events, so that what PyYAML's own loader passes over in silence is refused:
duplicate keys (it keeps the last), anchors and aliases, tags, merge keys and second documents.
Plain scalars are read as JSON would read them: ``true``, ``false``, ``null``, whole and decimal
numbers; all else is text. So ``no``, ``on``, ``07:30`` and ``2026-11-24`` stay text.
"""

from __future__ import annotations

import math
import os
import re
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

import yaml

from upstand.edition.faults import Fault, SpecFault

__all__ = ["SIZE_LIMIT", "Node", "parse", "read_file"]

Node = Any
"""A node as read: dict, list, str, int, float, bool or None."""

SIZE_LIMIT = 512 * 1024
"""Bytes a file may have."""

DEPTH_LIMIT = 40

_Loader: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_INT = re.compile(r"-?(?:0|[1-9][0-9]{0,14})", re.ASCII)
_FLOAT = re.compile(r"-?(?:0|[1-9][0-9]{0,14})\.[0-9]{1,15}", re.ASCII)
_WORDS: dict[str, bool | None] = {"true": True, "false": False, "null": None, "~": None, "": None}


class _Refused(Exception):
    def __init__(self, line: int, path: str, value: str, why: str, cure: str) -> None:
        self.line, self.path, self.value, self.why, self.cure = line, path, value, why, cure


def parse(text: str, file: str, as_text: Iterable[str] = ()) -> Node:
    """Read one YAML document.

    ``file`` names the source in faults. Scalars under a key in ``as_text`` stay text whatever
    they look like: ``extends: 2026.1`` is an edition, not a number. Raises SpecFault.

    >>> parse("a: {low: 1, high: 2.5}\\nb: no", "x.yaml")
    {'a': {'low': 1, 'high': 2.5}, 'b': 'no'}
    """
    try:
        return _Composer(yaml.parse(text, Loader=_Loader), frozenset(as_text)).document()
    except yaml.YAMLError as error:
        line, problem = "", str(error)
        if isinstance(error, yaml.MarkedYAMLError) and error.problem_mark is not None:
            line, problem = f"line {error.problem_mark.line + 1}", str(error.problem)
        fault = Fault(file, line, "", "yaml", f"is not readable YAML: {problem}", "mend the line")
    except _Refused as refused:
        place = f"line {refused.line}" + (f", {refused.path}" if refused.path else "")
        fault = Fault(file, place, refused.value, "yaml", refused.why, refused.cure)
    raise SpecFault([fault])


def read_file(path: Path, file: str, as_text: Iterable[str] = ()) -> Node:
    """Read one YAML file; refuses symlinks, files over the size limit and text not UTF-8."""
    return parse(read_text(path, file), file, as_text)


def read_text(path: Path, file: str) -> str:
    """Return a plain file's text; raises SpecFault for what :func:`read_file` refuses."""

    def refuse(why: str, cure: str) -> SpecFault:
        return SpecFault([Fault(file, "", "", "file", why, cure)])

    if path.is_symlink():
        raise refuse("is a symbolic link", "put the file itself here")
    try:
        # O_NOFOLLOW: a link put there after the look above is not followed either.
        handle = os.open(path, os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0))
    except OSError as error:
        raise refuse(f"cannot be opened: {error.strerror}", "make it a readable file") from error
    with os.fdopen(handle, "rb") as stream:
        content = stream.read(SIZE_LIMIT + 1)
    if len(content) > SIZE_LIMIT:
        raise refuse(f"is over {SIZE_LIMIT // 1024} KB", "split it: one file, one thing")
    try:
        return content.decode("utf-8")
    except UnicodeDecodeError as error:
        raise refuse(f"is not UTF-8 (byte {error.start})", "save it as UTF-8") from error


def _line(event: Any) -> int:
    line: int = event.start_mark.line
    return line + 1


class _Composer:
    """Builds nodes from parser events."""

    def __init__(self, events: Iterator[Any], as_text: frozenset[str]) -> None:
        self.events = events
        self.as_text = as_text

    def document(self) -> Node:
        node: Node = None
        documents = 0
        for event in self.events:
            if isinstance(event, yaml.DocumentStartEvent):
                documents += 1
                if documents > 1:
                    line = _line(event)
                    raise _Refused(line, "", "---", "starts a second document", "one thing a file")
            elif isinstance(
                event, (yaml.StreamStartEvent, yaml.StreamEndEvent, yaml.DocumentEndEvent)
            ):
                continue
            else:
                node = self.node(event, "", "", 0)
        if documents == 0:
            raise _Refused(1, "", "", "is empty", "write the record or remove the file")
        return node

    def node(self, event: Any, path: str, key: str, depth: int) -> Node:
        line = _line(event)
        if isinstance(event, yaml.AliasEvent):
            raise _Refused(line, path, f"*{event.anchor}", "uses an alias", "write the value out")
        if event.anchor is not None:
            raise _Refused(line, path, f"&{event.anchor}", "sets an anchor", "write the value out")
        if event.tag is not None:
            raise _Refused(line, path, str(event.tag), "carries a tag", "write a plain value")
        if depth > DEPTH_LIMIT:
            raise _Refused(line, "", "", f"nests over {DEPTH_LIMIT} deep", "make it flatter")
        if isinstance(event, yaml.ScalarEvent):
            return self.scalar(event, path, key)
        if isinstance(event, yaml.SequenceStartEvent):
            return self.sequence(path, depth)
        return self.mapping(path, depth)

    def scalar(self, event: Any, path: str, key: str) -> Node:
        text: str = event.value
        if event.style or key in self.as_text:
            return text.rstrip("\n")  # block text ends in a line break that no reader wants
        if text in _WORDS:
            return _WORDS[text]
        if _INT.fullmatch(text):
            return int(text)
        if _FLOAT.fullmatch(text):
            number = float(text)
            if math.isfinite(number):
                return number
        return text

    def sequence(self, path: str, depth: int) -> list[Node]:
        items: list[Node] = []
        for event in self.events:
            if isinstance(event, yaml.SequenceEndEvent):
                break
            place = f"{path}.{len(items)}" if path else str(len(items))
            items.append(self.node(event, place, "", depth + 1))
        return items

    def mapping(self, path: str, depth: int) -> dict[str, Node]:
        found: dict[str, Node] = {}
        for event in self.events:
            if isinstance(event, yaml.MappingEndEvent):
                break
            line = _line(event)
            if not isinstance(event, yaml.ScalarEvent) or event.anchor or event.tag:
                raise _Refused(line, path, "", "has a key that is not a plain word", "name it")
            key = str(event.value)
            place = f"{path}.{key}" if path else key
            if key == "<<" and not event.style:
                raise _Refused(line, path, "<<", "merges another mapping", "write the fields out")
            if key in found:
                raise _Refused(line, place, key, "stands twice", "keep one of the two")
            found[key] = self.node(next(self.events), place, key, depth + 1)
        return found
