"""Finding the spec data, reading a folder of it, and loading an edition."""

from __future__ import annotations

import os
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from upstand.edition import build
from upstand.edition.faults import Fault, SpecFault, UnknownEdition, near
from upstand.edition.frozen import read_frozen
from upstand.edition.index import Entry, newest, read_index
from upstand.edition.model import Edition
from upstand.edition.schema.kinds import KINDS
from upstand.edition.strict_yaml import read_file

__all__ = ["ENVIRONMENT", "ID", "edition_ids", "find_root", "load", "packaged", "read_tree"]

ENVIRONMENT = "UPSTAND_SPECDATA"
ID = re.compile(r"[a-z0-9-]{1,64}", re.ASCII)


def find_root(root: Path | str | None = None) -> Path:
    """Return the folder of spec data: argument, environment, packaged, checkout, in this order.

    Raises SpecFault where there is none; an argument or environment that names no folder of
    spec data is an error, never passed over.
    """
    if root is not None:
        places = [Path(root)]
    elif os.environ.get(ENVIRONMENT):
        places = [Path(os.environ[ENVIRONMENT])]
    else:
        here = Path(__file__).resolve()
        places = [packaged(), *(up / "specdata" for up in here.parents[3:4])]
    for place in places:
        if (place / "next").is_dir() or (place / "editions").is_dir():
            return place
    names = ", ".join(str(place) for place in places)
    cure = f"give the folder that holds next/ and editions/, or set {ENVIRONMENT}"
    raise SpecFault([Fault(names, "", "", "root", "holds no spec data", cure)])


def packaged() -> Path:
    """Return where an installed package keeps its own spec data; a checkout has no such folder."""
    return Path(__file__).resolve().parents[1] / "_specdata"


def _tree_files(folder: Path) -> Iterator[tuple[Path, str, Fault | None]]:
    """Yield (path, name, fault) for everything in a folder of records, in order of names.

    ``name`` is the path from the folder, with ``/``. A fault says why it is not a record's file.
    Names that start with a dot (what editors and file browsers leave) are passed over.
    """

    def fault(name: str, why: str, cure: str) -> Fault:
        return Fault(name, "", "", "file", why, cure)

    for entry in _listed(folder):
        name = entry.name
        if entry.is_symlink():
            yield entry, name, fault(name, "is a symbolic link", "put the folder itself here")
        elif not entry.is_dir():
            yield entry, name, fault(name, "lies outside the kinds' folders", "move it to one")
        elif name not in KINDS:
            nearest = near(name, KINDS) or tuple(sorted(KINDS))
            cure = f"use one of: {', '.join(nearest)}"
            yield entry, name, fault(name, "is not a kind", cure)
        else:
            for path in _listed(entry):
                yield path, f"{name}/{path.name}", _file_fault(path, f"{name}/{path.name}")


def _listed(folder: Path) -> list[Path]:
    return sorted(path for path in folder.iterdir() if not path.name.startswith("."))


def _file_fault(path: Path, name: str) -> Fault | None:
    def fault(why: str, cure: str) -> Fault:
        return Fault(name, "", "", "file", why, cure)

    if path.is_symlink():
        return fault("is a symbolic link", "put the file itself here")
    if not path.is_file():
        return fault("is not a file", "one YAML file a thing, right under its kind")
    if path.suffix != ".yaml":
        return fault("does not end in .yaml", "name it <id>.yaml")
    if not ID.fullmatch(path.stem):
        return fault(f"has an id ({path.stem!r}) that is not one", "use a-z, 0-9 and -, up to 64")
    return None


def read_tree(folder: Path) -> tuple[dict[str, dict[str, Any]], list[Fault]]:
    """Return (kind -> id -> node, faults) of a folder of records."""
    raw: dict[str, dict[str, Any]] = {}
    faults: list[Fault] = []
    for path, name, fault in _tree_files(folder):
        if fault is not None:
            faults.append(fault)
            continue
        try:
            node = read_file(path, name)
        except SpecFault as error:
            faults += error.faults
            continue
        raw.setdefault(path.parent.name, {})[path.stem] = node
    return raw, faults


def edition_ids(root: Path | str | None = None) -> list[str]:
    """Return the ids that ``load`` takes: those in the index, newest first, then ``next``."""
    place = find_root(root)
    ids = [entry.id for entry in read_index(place)]
    return [*ids, "next"] if (place / "next").is_dir() else ids


def load(
    id: str | None = None,
    root: Path | str | None = None,
    *,
    overlay: str | None = None,
    overlays: Path | str | None = None,
) -> Edition:
    """Return an edition, with an overlay laid over it if one is named.

    Without ``id``: the newest published one not withdrawn, and before there is one ``next``.
    ``root`` and ``overlays`` are folders; see :func:`find_root` and ``overlay.find_folder``.
    Raises SpecFault for data that cannot be used, UnknownEdition, UnknownOverlay.
    """
    place = find_root(root)
    if overlay is not None:
        from upstand.edition.overlay.read import load_overlaid

        return load_overlaid(place, overlay, overlays, id)
    entries = read_index(place)
    if id is None:
        default = newest(entries)
        id = default.id if default else "next"
    if id == "next":
        if not (place / "next").is_dir():
            raise UnknownEdition(id, (entry.id for entry in entries))
        return _load_next(place)
    for entry in entries:
        if entry.id == id:
            return _load_frozen(place, entry)
    raise UnknownEdition(str(id), [*(entry.id for entry in entries), "next"])


def _load_next(root: Path) -> Edition:
    raw, faults = read_tree(root / "next")
    if faults:
        raise SpecFault(faults)
    return build.edition("next", raw, "draft", tuple(KINDS))


def _load_frozen(root: Path, entry: Entry) -> Edition:
    return build.edition(
        entry.id,
        read_frozen(root, entry),
        entry.status,
        tuple(KINDS),
        known_digest=entry.digest,
        date=entry.date,
        note=entry.told,
    )
