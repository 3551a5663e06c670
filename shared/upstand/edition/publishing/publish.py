"""Publishing and withdrawing editions.

An edition is written into a temporary folder beside its place, made durable, and renamed whole.
The index is written last: an edition that is not in it has not been published. Killed at any
moment, ``publish`` leaves no edition or a whole one; run again, it goes on from there.
"""

from __future__ import annotations

import contextlib
import json
import os
import shutil
import tempfile
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from upstand.edition import build
from upstand.edition.check import check
from upstand.edition.dates import is_date
from upstand.edition.faults import Fault, SpecFault, UnknownEdition
from upstand.edition.index import EDITION_ID, INDEX, Entry, newest, order, read_index, write_index
from upstand.edition.load import read_compiled, read_tree, tree_files
from upstand.edition.publishing.changelog import CHANGELOG, changelog, record_changes
from upstand.edition.publishing.compile import CHANGES, COMPILED, SUMS, compiled, sums, verify
from upstand.edition.strict_yaml import read_text

__all__ = ["publish", "withdraw"]

_TEMPORARY = ".publishing-"


def publish(root: Path | str, id: str, *, date: str, note: Mapping[str, str]) -> Path:
    """Freeze ``next`` as edition ``id`` and return its folder.

    ``date`` is the day ("YYYY-MM-DD"), ``note`` one sentence for people in ``en`` and ``es``.
    Raises SpecFault where the check fails, the edition exists, or an argument is no good.
    """
    place = Path(root)
    _arguments(id, date, note)
    editions = place / "editions"
    editions.mkdir(exist_ok=True)
    with _alone(editions):
        entries = read_index(place)
        _refuse_listed(id, entries)
        raw = _checked(place, id, date)
        for left in editions.glob(f"{_TEMPORARY}*"):
            shutil.rmtree(left)  # from a publish that was killed
        final = editions / id
        if final.exists() or final.is_symlink():
            _refuse_other(final, id, raw)
        else:
            _write(place, editions, final, id, raw, newest(entries), note)
        entry = Entry(id, "published", date, dict(note))
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
        entry = Entry(id, "withdrawn", held.date, dict(note), date)
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


def _checked(root: Path, id: str, date: str) -> build.Raw:
    """Return the nodes of ``next``, having passed every rule."""
    unfinished = f"editions/{id}"  # what a killed publish of this id left is judged further on
    report = check(root, date=date)
    faults = [
        fault
        for fault in report.faults
        if not (fault.rule == "frozen" and fault.file in (unfinished, CHANGELOG))
    ]
    if faults:
        raise SpecFault(faults)
    raw, _ = read_tree(root / "next")
    return raw


def _refuse_other(final: Path, id: str, raw: build.Raw) -> None:
    """Refuse a folder that stands in the way, unless it is this very edition, whole."""
    name = f"editions/{id}"
    faults = list(verify(final, id))
    if not faults and read_compiled(final, id, f"{name}/{COMPILED}")[0] == raw:
        return
    why = "is there, not in the index, and is not what would be published"
    raise _fault(name, "", why, "look at it, then remove it or take another number")


def _write(
    root: Path,
    editions: Path,
    final: Path,
    id: str,
    raw: build.Raw,
    before: Entry | None,
    note: Mapping[str, str],
) -> None:
    old: build.Raw | None = None
    if before is not None:
        name = f"editions/{before.id}/{COMPILED}"
        old, _ = read_compiled(editions / before.id, before.id, name)
    temporary = Path(tempfile.mkdtemp(prefix=f"{_TEMPORARY}{id}-", dir=editions))
    temporary.chmod(0o755)
    for path, name, _ in tree_files(root / "next"):
        target = temporary / name
        target.parent.mkdir(exist_ok=True)
        _durable(target, read_text(path, name).encode("utf-8"))
    held, faults = read_tree(temporary)
    if faults or held != raw:
        shutil.rmtree(temporary)
        raise _fault("next", "", "changed while it was being published", "publish again")
    _durable(temporary / COMPILED, compiled(id, raw))
    content = record_changes(before.id if before else None, old, raw, note)
    text = json.dumps(content, ensure_ascii=False, indent=1) + "\n"
    _durable(temporary / CHANGES, text.encode("utf-8"))
    _durable(temporary / SUMS, sums(temporary).encode("ascii"))
    for folder in sorted({path.parent for path in temporary.rglob("*")}, reverse=True):
        _sync(folder)
    os.rename(temporary, final)
    _sync(editions)


def _list(root: Path, entries: Sequence[Entry]) -> None:
    """Write the changelog, then the index: the index is what makes an edition published."""
    _replace(root / CHANGELOG, changelog(root, entries))
    _replace(root / INDEX, write_index(entries))


def _durable(path: Path, content: bytes) -> None:
    with path.open("wb") as stream:
        stream.write(content)
        stream.flush()
        os.fsync(stream.fileno())


def _replace(path: Path, text: str) -> None:
    temporary = path.with_name(f".{path.name}.new")
    _durable(temporary, text.encode("utf-8"))
    os.replace(temporary, path)
    _sync(path.parent)


def _sync(folder: Path) -> None:
    if os.name != "posix":
        return  # elsewhere a folder cannot be opened, and a rename is durable by itself
    handle = os.open(folder, os.O_RDONLY)
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
