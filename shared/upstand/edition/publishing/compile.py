"""Frozen editions on disk: compiled, summed, and proved unchanged."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from pathlib import Path

from upstand.edition import build
from upstand.edition.faults import Fault, SpecFault
from upstand.edition.load import read_compiled, read_tree

__all__ = ["COMPILED", "SUMS", "compiled", "sums", "verify"]

COMPILED = "edition.json"
CHANGES = "changes.json"
SUMS = "SHA256SUMS"


def compiled(id: str, raw: build.Raw) -> bytes:
    """Return ``edition.json``: schema, id, digest and every record, as canonical JSON."""
    content = {
        "schema": build.SCHEMA,
        "edition": id,
        "digest": build.digest(id, None, raw),
        "data": raw,
    }
    return (build.canonical(content) + "\n").encode("utf-8")


def files_in(folder: Path) -> Iterator[tuple[str, Path]]:
    """Yield (name, path) of everything in a folder that is not itself a folder, sums aside."""
    for path in sorted(folder.rglob("*")):
        name = path.relative_to(folder).as_posix()
        if name != SUMS and (path.is_symlink() or not path.is_dir()):
            yield name, path


def sums(folder: Path) -> str:
    """Return the text of SHA256SUMS for a folder: a line for each file, in order of names."""
    return "".join(
        f"{hashlib.sha256(path.read_bytes()).hexdigest()}  {name}\n"
        for name, path in files_in(folder)
    )


def verify(folder: Path, id: str) -> Iterator[Fault]:
    """Yield what is not as it was published: changed, missing and extra files, a stale compile."""
    place = f"editions/{id}"
    cure = "restore the edition from where it was published; never edit a frozen one"

    def fault(name: str, why: str) -> Fault:
        return Fault(f"{place}/{name}", "", "", "frozen", why, cure)

    try:
        lines = (folder / SUMS).read_text("ascii").splitlines()
    except (OSError, UnicodeDecodeError):
        yield fault(SUMS, "is missing or cannot be read")
        return
    stated = {name: sum for sum, _, name in (line.partition("  ") for line in lines)}
    found = dict(files_in(folder))
    for name, path in found.items():
        if path.is_symlink():
            yield fault(name, "is a symbolic link")
        elif name not in stated:
            yield fault(name, "is an extra file, not in SHA256SUMS")
        elif hashlib.sha256(path.read_bytes()).hexdigest() != stated[name]:
            yield fault(name, "was changed after it was published")
    for name in sorted(set(stated) - set(found)):
        yield fault(name, "is gone")
    raw, faults = read_tree(folder, beside=(COMPILED, CHANGES, SUMS))
    for wrong in faults:
        yield fault(wrong.file, wrong.why)
    try:
        held, _ = read_compiled(folder, id, f"{place}/{COMPILED}")
    except SpecFault as error:
        yield from error.faults
        return
    if not faults and held != raw:
        yield fault(COMPILED, "does not hold what the YAML beside it holds")
