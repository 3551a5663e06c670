"""Published editions are as they were published, and the index and the changelog tell of each."""

from __future__ import annotations

from collections.abc import Iterator

from upstand.edition.faults import Fault, SpecFault
from upstand.edition.frozen import name_of, read_frozen
from upstand.edition.index import INDEX, read_index
from upstand.edition.publishing.changelog import CHANGELOG, changelog
from upstand.edition.source import Source


def check(source: Source) -> Iterator[Fault]:
    """Yield editions changed, missing or not listed, and a changelog that is not up to date."""
    folder = source.root / "editions"
    if not folder.is_dir():
        return
    try:
        entries = read_index(source.root)
    except SpecFault as error:
        yield from error.faults
        return
    whole = True
    for entry in entries:
        try:
            read_frozen(source.root, entry)
        except SpecFault as error:
            whole = False
            yield from error.faults
    listed = {INDEX, *(name_of(entry.id) for entry in entries)}
    for path in sorted(folder.iterdir()):
        name = f"editions/{path.name}"
        if path.name.startswith(".") or name in listed:
            continue
        cure = "publish it again to finish it, or remove it"
        yield Fault(name, "", "", "frozen", "is not in the index", cure)
    if entries and whole:
        log = source.root / CHANGELOG
        text = log.read_text("utf-8") if log.is_file() else ""
        if text != changelog(source.root, entries):
            why = "does not tell what changed from edition to edition"
            cure = "do not edit it; publish and withdraw write it"
            yield Fault(CHANGELOG, "", "", "frozen", why, cure)
