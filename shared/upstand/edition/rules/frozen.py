"""Published editions are as they were published, and the index and the changelog tell of each."""

from __future__ import annotations

from collections.abc import Iterator

from upstand.edition.faults import Fault, SpecFault
from upstand.edition.index import read_index
from upstand.edition.publishing.changelog import CHANGELOG, changelog
from upstand.edition.publishing.compile import verify
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
        for fault in verify(folder / entry.id, entry.id):
            whole = False
            yield fault
    listed = {entry.id for entry in entries}
    for path in sorted(folder.iterdir()):
        if path.name.startswith(".") or path.name in ("index.yaml", *listed):
            continue
        why = "is not in the index"
        cure = "publish it again to finish it, or remove it"
        yield Fault(f"editions/{path.name}", "", "", "frozen", why, cure)
    if entries and whole:
        path = source.root / CHANGELOG
        text = path.read_text("utf-8") if path.is_file() else ""
        if text != changelog(source.root, entries):
            why = "does not tell what the editions recorded"
            cure = "do not edit it; publish and withdraw write it"
            yield Fault(CHANGELOG, "", "", "frozen", why, cure)
