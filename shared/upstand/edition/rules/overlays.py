"""Every overlay that comes with the data still lies on the edition that it extends."""

from __future__ import annotations

from collections.abc import Iterator

from upstand.edition.faults import Fault, SpecFault, UnknownOverlay
from upstand.edition.overlay.read import load_overlaid, overlay_ids
from upstand.edition.source import Source


def check(source: Source) -> Iterator[Fault]:
    """Yield what keeps an overlay from being laid."""
    folder = source.root / "overlays"
    for id in overlay_ids(folder):
        try:
            load_overlaid(source.root, id, folder)
        except UnknownOverlay as error:
            cure = "keep to the form of an overlay"
            yield Fault(f"overlays/{id}", "", "", "overlays", str(error), cure)
        except SpecFault as error:
            # faults of the edition below it are told by the other rules
            yield from (fault for fault in error.faults if fault.file.startswith("overlays/"))
