"""Publishing and withdrawing editions.

An edition's file is written beside its place, made durable, and renamed. The index is written
last: an edition that is not in it has not been published. Killed at any moment, ``publish`` leaves
no edition or a whole one; run again, it goes on from there.
"""

from __future__ import annotations

import contextlib
import os
import shutil
import tempfile
from collections.abc import Callable, Iterator, Mapping, Sequence
from pathlib import Path

from upstand.edition.build import Raw
from upstand.edition.check import check
from upstand.edition.dates import is_date
from upstand.edition.faults import Fault, SpecFault, UnknownEdition
from upstand.edition.frozen import digest_of, file_of, name_of, write_frozen
from upstand.edition.index import EDITION_ID, INDEX, Entry, newest, order, read_index, write_index
from upstand.edition.load import read_tree
from upstand.edition.publishing.changelog import CHANGELOG, changelog
from upstand.edition.publishing.overlays import move_overlays
from upstand.edition.source import Source

__all__ = ["Texts", "publish", "withdraw"]

Texts = Mapping[Path, str]
"""Files that name the newest edition, as they read once there is another."""


def _none(root: Path, id: str) -> Texts:
    return {}


def publish(
    root: Path | str,
    id: str,
    *,
    date: str,
    note: Mapping[str, str],
    others: Callable[[Path, str], Texts] = _none,
) -> Path:
    """Freeze ``next`` as edition ``id`` and return its file.

    ``date`` is the day ("YYYY-MM-DD"), ``note`` one sentence for people in ``en`` and ``es``.
    ``others`` is given a folder of spec data in which the edition is published already, and its id;
    the texts it returns are written too. Raises SpecFault where the check fails, the edition
    exists, or an argument is no good.
    """
    place = Path(root)
    _arguments(id, date, note)
    editions = place / "editions"
    editions.mkdir(exist_ok=True)
    with _alone(editions):
        entries = read_index(place)
        _refuse_listed(id, entries)
        content = write_frozen(id, _checked(place, id, date))
        final = file_of(place, id)
        _refuse_other(final, id, content)
        entry = Entry(id, "published", date, dict(note), digest_of(content))
        texts = _texts(place, content, [entry, *entries], others)
        if not final.exists():
            _replace(final, content)
        for path, text in texts.items():
            _replace(path, text.encode("utf-8"))
        _list(place, [entry, *entries])
        return final


def withdraw(root: Path | str, id: str, *, date: str, note: Mapping[str, str]) -> None:
    """Mark an edition as withdrawn on a day, and why; it still answers, with a warning.

    Raises UnknownEdition, and SpecFault where it is withdrawn already or an argument is no good.
    """
    place = Path(root)
    _arguments(id, date, note)
    with _alone(place / "editions"):
        entries = read_index(place)
        held = next((entry for entry in entries if entry.id == id), None)
        if held is None:
            raise UnknownEdition(id, [entry.id for entry in entries])
        if held.status == "withdrawn":
            raise _fault(INDEX, "status", f"says that {id} is withdrawn already", "nothing to do")
        entry = Entry(id, "withdrawn", held.date, held.note, held.digest, date, dict(note))
        _list(place, [entry if old.id == id else old for old in entries])


def _fault(file: str, path: str, why: str, cure: str) -> SpecFault:
    return SpecFault([Fault(file, path, "", "publish", why, cure)])


def _arguments(id: str, date: str, note: Mapping[str, str]) -> None:
    if not EDITION_ID.fullmatch(id):
        raise _fault(f"editions/{id}", "", "is not an edition id", "write <year>.<n>: 2026.1")
    if not is_date(date):
        raise _fault(f"editions/{id}", "date", f"is not a day: {date}", "write YYYY-MM-DD")
    texts = [note.get(lang) for lang in ("en", "es")]
    if set(note) != {"en", "es"} or not all(
        isinstance(text, str) and text.strip() and text.isprintable() for text in texts
    ):
        cure = "one sentence in English and one in Spanish"
        raise _fault(f"editions/{id}", "note", "is not one line in each language", cure)


def _refuse_listed(id: str, entries: Sequence[Entry]) -> None:
    if any(entry.id == id for entry in entries):
        cure = "publish under the next number; a mistake makes a new edition"
        raise _fault(f"editions/{id}", "", "is published already, and frozen", cure)
    later = [entry.id for entry in entries if order(entry.id) > order(id)]
    if later:
        why = f"would come after {later[0]}, which is newer"
        raise _fault(f"editions/{id}", "", why, "take a number above it")


def _checked(root: Path, id: str, date: str) -> Raw:
    """Return the nodes of ``next``, having passed every rule but that of overlays.

    Overlays lie on the edition before: whether they lie on this one is judged in ``_texts``.
    """
    unfinished = name_of(id)  # what a killed publish of this id left is judged further on
    faults = [
        fault
        for fault in check(root, date=date).faults
        if fault.file not in (unfinished, CHANGELOG) and fault.rule != "overlays"
        if not fault.file.startswith("overlays/")
    ]
    if faults:
        raise SpecFault(faults)
    raw, _ = read_tree(root / "next")
    return raw


def _refuse_other(final: Path, id: str, content: bytes) -> None:
    """Refuse a file that stands in the way, unless it is this very edition, whole."""
    if not final.exists() and not final.is_symlink():
        return
    if final.is_symlink() or not final.is_file() or final.read_bytes() != content:
        why = "is there, not in the index, and is not what would be published"
        raise _fault(name_of(id), "", why, "look at it, then remove it or take another number")


def _texts(
    root: Path, content: bytes, entries: Sequence[Entry], others: Callable[[Path, str], Texts]
) -> dict[Path, str]:
    """Return what else is to be written, having seen that it holds on the new edition."""
    from upstand.edition.rules import overlays as rule

    before = newest(entries[1:])
    moved = move_overlays(root, before.id if before else "next", entries[0].id)
    with tempfile.TemporaryDirectory() as folder:
        there = Path(folder) / "specdata"
        for name in ("next", "editions", "overlays"):
            if (root / name).is_dir():
                shutil.copytree(root / name, there / name, symlinks=True)
        for name, text in moved.items():
            (there / name).write_text(text, encoding="utf-8")
        file_of(there, entries[0].id).write_bytes(content)
        (there / INDEX).write_text(write_index(entries), encoding="utf-8")
        faults = list(rule.check(Source(there, {}, [], None)))
        if faults:
            raise SpecFault(faults)
        return {root / name: text for name, text in moved.items()} | dict(
            others(there, entries[0].id)
        )


def _list(root: Path, entries: Sequence[Entry]) -> None:
    """Write the changelog, then the index: the index is what makes an edition published."""
    _replace(root / CHANGELOG, changelog(root, entries).encode("utf-8"))
    _replace(root / INDEX, write_index(entries).encode("utf-8"))


def _replace(path: Path, content: bytes) -> None:
    """Write a file whole or not at all, and lastingly."""
    temporary = path.with_name(f".{path.name}.new")
    with temporary.open("wb") as stream:
        stream.write(content)
        stream.flush()
        os.fsync(stream.fileno())
    os.replace(temporary, path)
    if os.name != "posix":
        return  # elsewhere a folder cannot be opened, and a rename is durable by itself
    handle = os.open(path.parent, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


@contextlib.contextmanager
def _alone(editions: Path) -> Iterator[None]:
    """Hold a lock that ends with the process, however it ends."""
    try:
        import fcntl
    except ImportError:  # not a POSIX system: nothing to lock with, one publisher is assumed
        yield
        return
    with (editions / ".lock").open("w") as lock:
        try:
            fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError as error:
            why = "is being written by another publish"
            raise _fault("editions", "", why, "wait for it to end") from error
        yield
