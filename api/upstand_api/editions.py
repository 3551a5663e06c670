"""The editions that an app answers from: loaded once, the index read again when it changes."""

from __future__ import annotations

import logging
import threading
from collections.abc import Mapping
from pathlib import Path

from upstand.edition import Edition, SpecFault, UnknownEdition, UnknownOverlay, find_root, load
from upstand.edition.frozen import read_frozen
from upstand.edition.index import INDEX, Entry, newest, read_index
from upstand.query.faults import Fault, nearest
from upstand_api.access import Access
from upstand_api.http.problems import Problem, problem

__all__ = ["DRAFT", "Editions"]

LOG = logging.getLogger("upstand_api")

DRAFT = "next"
NO_OVERLAY = "no overlay of that name may be used here"


class Editions:
    """Loads editions, with overlays for those who may use them, and keeps them."""

    def __init__(self, specdata: Path | None, overlays: Path | None, access: Access) -> None:
        """Find the spec data; raises SpecFault where there is none."""
        self.root = find_root(specdata)
        self._overlays = overlays
        self._access = access
        self._lock = threading.RLock()
        self._stamp: tuple[int, int] | None = None
        self._entries: tuple[Entry, ...] = ()
        self._refused: dict[str, str] = {}
        self._loaded: dict[tuple[str | None, str | None], Edition] = {}

    def entries(self) -> tuple[Entry, ...]:
        """Return the editions that answer, newest first; a file that was changed is left out."""
        with self._lock:
            path = self.root / INDEX
            held = path.stat() if path.is_file() else None
            stamp = (-1, -1) if held is None else (held.st_mtime_ns, held.st_size)
            if stamp != self._stamp:
                # an edition may have been withdrawn: what was loaded no longer says so
                self._refused = {}
                self._entries = tuple(e for e in read_index(self.root) if self._is_whole(e))
                self._loaded.clear()
                self._stamp = stamp
            return self._entries

    def _is_whole(self, entry: Entry) -> bool:
        try:
            read_frozen(self.root, entry)
        except SpecFault as error:
            LOG.error("edition %s is refused: %s", entry.id, error)
            self._refused[entry.id] = error.faults[0].why
            return False
        return True

    def ids(self) -> list[str]:
        """Return the ids that may be asked for, newest first, the draft last."""
        ids = [entry.id for entry in self.entries()]
        return [*ids, DRAFT] if (self.root / DRAFT).is_dir() else ids

    def default_id(self) -> str:
        """Return the id of the edition that answers where none is named."""
        found = newest(self.entries())
        return DRAFT if found is None else found.id

    def get(
        self,
        id: str | None = None,
        overlay: str | None = None,
        authorization: str | None = None,
        where: tuple[str, str] = ("/edition", "/overlay"),
    ) -> Edition:
        """Return an edition, with an overlay laid over it.

        id None is the default one, or the one that the overlay extends. `where` are the places of
        the two in the request, for faults. Raises Problem: 404 for what is unknown or not allowed,
        422 for an overlay that does not fit the edition.
        """
        if id is not None and id not in self.ids():
            why = self._refused.get(id)
            told = "no such edition" if why is None else f"{id} is refused, its file {why}"
            raise problem(404, f"{told}: {nearest(id, self.ids())}", where[0])
        if overlay is not None and not self._access.allows(overlay, authorization):
            raise problem(404, NO_OVERLAY, where[1])
        with self._lock:
            self.entries()
            key = (id if overlay else id or self.default_id(), overlay)
            found = self._loaded.get(key)
            if found is None:
                found = self._loaded[key] = self._load(key[0], overlay, where)
            return found

    def _load(self, id: str | None, overlay: str | None, where: tuple[str, str]) -> Edition:
        try:
            return load(id, self.root, overlay=overlay, overlays=self._overlays)
        except UnknownOverlay:
            raise problem(404, NO_OVERLAY, where[1]) from None
        except UnknownEdition as error:
            raise problem(404, str(error), where[0]) from None
        except SpecFault as error:
            if overlay is None:
                raise
            LOG.error("overlay %s can't be used: %s", overlay, error)
            faults = [
                Fault(where[1], f"{f.path or f.file}: {f.why}; {f.cure}") for f in error.faults
            ]
            raise Problem(422, faults) from None

    def notes(self) -> Mapping[str, Entry]:
        """Return the index's entries by id."""
        return {entry.id: entry for entry in self.entries()}
