"""The one file of a published edition: how it is written, and read with its digest proved."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import orjson

from upstand.edition.build import SCHEMA, Raw
from upstand.edition.faults import Fault, SpecFault
from upstand.edition.index import Entry

__all__ = ["digest_of", "file_of", "name_of", "read_frozen", "write_frozen"]


def name_of(id: str) -> str:
    """Return the name of an edition's file, from the folder of spec data.

    >>> name_of("2026.1")
    'editions/2026.1.json'
    """
    return f"editions/{id}.json"


def file_of(root: Path, id: str) -> Path:
    """Return the path of an edition's file."""
    return root / name_of(id)


def digest_of(content: bytes) -> str:
    """Return what the index holds of a file: its SHA-256, in hex."""
    return hashlib.sha256(content).hexdigest()


def write_frozen(id: str, raw: Raw) -> bytes:
    """Return an edition's file: schema, id and every record, one field a line.

    Kinds and ids stand in order, fields as in the YAML, so that a change differs in its own lines.
    """
    data = {kind: {name: held[name] for name in sorted(held)} for kind, held in sorted(raw.items())}
    lines = _lines({"schema": SCHEMA, "edition": id, "data": data}, "")
    return ("".join(lines) + "\n").encode("utf-8")


def read_frozen(root: Path, entry: Entry) -> Raw:
    """Return the nodes of a published edition; raises SpecFault where it is not as published."""

    def refuse(why: str) -> SpecFault:
        cure = "restore the edition from where it was published; never edit a frozen one"
        return SpecFault([Fault(name_of(entry.id), "", "", "frozen", why, cure)])

    path = file_of(root, entry.id)
    if path.is_symlink():
        raise refuse("is a symbolic link")
    try:
        content = path.read_bytes()
    except FileNotFoundError:
        raise refuse("is gone") from None
    except OSError as error:
        raise refuse(f"cannot be read: {error.strerror}") from error
    if digest_of(content) != entry.digest:
        raise refuse("was changed after it was published: its digest is not the index's")
    try:
        held = orjson.loads(content)
    except ValueError as error:
        raise refuse("is not JSON") from error
    if not isinstance(held, dict) or held.get("schema") != SCHEMA:
        found = held.get("schema") if isinstance(held, dict) else None
        raise refuse(f"has schema {found}; this software reads {SCHEMA}")
    if held.get("edition") != entry.id:
        raise refuse(f"says it is edition {held.get('edition')}")
    raw: Raw = held["data"]
    return raw


def _lines(node: Any, margin: str) -> Iterator[str]:
    """Yield JSON text: a line for each field, a list of plain values on one line."""
    inner = margin + " "
    if isinstance(node, dict) and node:
        opening = "{\n"
        for key, item in node.items():
            yield f"{opening}{inner}{_plain(key)}: "
            yield from _lines(item, inner)
            opening = ",\n"
        yield f"\n{margin}}}"
    elif isinstance(node, list) and any(isinstance(item, (dict, list)) for item in node):
        opening = "[\n"
        for item in node:
            yield opening + inner
            yield from _lines(item, inner)
            opening = ",\n"
        yield f"\n{margin}]"
    else:
        yield _plain(node)


def _plain(node: Any) -> str:
    return json.dumps(node, ensure_ascii=False, allow_nan=False)
