"""The editions that an app answers from: loaded once, looked at again when their files change.

What once was good is kept while the disk misbehaves: an index that can't be read, that no longer
lists an edition or gives it another digest, a file that was changed or is gone. The draft never
answers instead. What is wrong stands in `troubles` and in the log, until it is right again.
"""

from __future__ import annotations

import logging
import threading
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from upstand.edition import Edition, SpecFault, UnknownEdition, UnknownOverlay, find_root, load
from upstand.edition import Fault as DataFault
from upstand.edition.frozen import read_frozen
from upstand.edition.index import INDEX, Entry, newest, read_index
from upstand.edition.overlay.read import find_folder
from upstand.query.faults import Fault, nearest
from upstand.telling.said import say
from upstand_api.access import Keys
from upstand_api.files import stamp_of, stamps_in
from upstand_api.http.problems import Problem, problem

__all__ = ["DRAFT", "Editions"]

LOG = logging.getLogger("upstand_api")

DRAFT = "next"
NO_OVERLAY = say("no-such-overlay")


class Editions:
    """Loads editions, with overlays for those who may use them, and keeps them."""

    def __init__(self, specdata: Path | None, overlays: Path | None, keys: Keys) -> None:
        """Find the spec data and read its index; raises SpecFault where it can't be used."""
        self.root = find_root(specdata)
        self._overlays = find_folder(self.root, overlays)
        self._keys = keys
        self._lock = threading.RLock()
        self._entries: tuple[Entry, ...] = ()
        self._refused: dict[str, str] = {}
        self._troubles: dict[str, str] = {}
        self._loaded: dict[str, Edition] = {}
        self._overlaid: dict[tuple[str | None, str], tuple[Any, Edition]] = {}
        self._stamp = self._seen()
        self._take(self._listed())

    def entries(self) -> tuple[Entry, ...]:
        """Return the editions that answer, newest first; one refused from the start is left out."""
        with self._lock:
            stamp = self._seen()
            if stamp != self._stamp:
                self._stamp = stamp
                try:
                    self._take(self._listed())
                except SpecFault as error:
                    self._trouble(INDEX, error.faults[0].why)
                else:
                    self._troubles.pop(INDEX, None)
            return self._entries

    def _seen(self) -> object:
        return stamp_of(self.root / INDEX), stamps_in(self.root / "editions")

    def _listed(self) -> list[Entry]:
        """Read the index; raises SpecFault where it is less than what answered before."""

        def refuse(why: str) -> SpecFault:
            cure = "restore the index from where the editions were published"
            return SpecFault([DataFault(INDEX, "", "", "index", why, cure)])

        try:
            listed = read_index(self.root)
        except OSError as error:
            raise refuse(f"can't be read: {error.strerror}") from None
        if not listed and any((self.root / "editions").glob("*.json")):
            raise refuse("lists nothing, and editions lie beside it")
        digests = {entry.id: entry.digest for entry in listed}
        for entry in self._entries:
            # a published edition is withdrawn, never taken out
            if entry.id not in digests:
                raise refuse(f"no longer lists {entry.id}")
            if entry.digest != digests[entry.id]:
                raise refuse(f"gives {entry.id} another digest")
        return listed

    def _take(self, listed: list[Entry]) -> None:
        before = self.notes_held()
        good, refused = [], {}
        for entry in listed:
            file = f"editions/{entry.id}.json"
            try:
                read_frozen(self.root, entry)
            except SpecFault as error:
                why = error.faults[0].why
                if entry.id in before:
                    self._trouble(file, why)
                else:
                    LOG.error("edition %s is refused: %s", entry.id, error)
                    refused[entry.id] = why
                    continue
            else:
                self._troubles.pop(file, None)
            if before.get(entry.id) != entry:
                # withdrawn, maybe: what was loaded does not say so
                self._loaded.pop(entry.id, None)
            good.append(entry)
        self._entries, self._refused = tuple(good), refused

    def notes_held(self) -> Mapping[str, Entry]:
        """Return the entries as last read, by id, without looking at the disk."""
        return {entry.id: entry for entry in self._entries}

    def notes(self) -> Mapping[str, Entry]:
        """Return the index's entries by id."""
        self.entries()
        return self.notes_held()

    def ids(self) -> list[str]:
        """Return the ids that may be asked for, newest first, the draft last."""
        ids = [entry.id for entry in self.entries()]
        return [*ids, DRAFT] if (self.root / DRAFT).is_dir() or DRAFT in self._loaded else ids

    def default_id(self) -> str:
        """Return the id of the edition that answers where none is named."""
        found = newest(self.entries())
        return DRAFT if found is None else found.id

    def troubles(self) -> Mapping[str, str]:
        """Return what is wrong on the disk now: file -> why. Answers come from what was good."""
        with self._lock:
            self.entries()
            for id, overlay in tuple(self._overlaid):
                try:
                    self._with_overlay(id, overlay, ("", ""))
                except Problem:
                    continue  # said in the log, and to whoever asks for it
            return {**self._troubles, **self._keys.troubles()}

    def _trouble(self, file: str, why: str) -> None:
        if self._troubles.get(file) != why:
            LOG.error("%s %s: what was read before still answers", file, why)
        self._troubles[file] = why

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
        422 for an overlay of another edition, 503 for data that can't be used.
        """
        if id is not None and id not in self.ids():
            why = self._refused.get(id)
            known = nearest(id, self.ids())
            if why is None:
                raise problem(404, say("no-such-edition", nearest=known), where[0])
            told = say("edition-refused", id=id, why=why, nearest=known)
            raise problem(404, told, where[0])
        if overlay is not None and not self._keys.access().allows(overlay, authorization):
            raise problem(404, NO_OVERLAY, where[1])
        with self._lock:
            self.entries()
            if overlay is not None:
                return self._with_overlay(id, overlay, where)
            return self._plain(id or self.default_id(), where)

    def _plain(self, id: str, where: tuple[str, str]) -> Edition:
        if id not in self._loaded:
            try:
                self._loaded[id] = load(id, self.root)
            except UnknownEdition:
                known = nearest(id, self.ids())
                raise problem(404, say("no-such-edition", nearest=known), where[0]) from None
            except SpecFault as error:
                LOG.error("edition %s can't be loaded: %s", id, error)
                told = say("edition-unusable", id=id)
                raise problem(503, told, where[0], Retry_After="60") from None
        return self._loaded[id]

    def _with_overlay(self, id: str | None, overlay: str, where: tuple[str, str]) -> Edition:
        key, files = (id, overlay), stamps_in(self._overlays)
        stamp = (files, self._stamp)
        held = self._overlaid.get(key)
        if held is not None and held[0] == stamp:
            return held[1]
        name = f"overlays/{overlay}"
        try:
            found = load(id, self.root, overlay=overlay, overlays=self._overlays)
        except (UnknownOverlay, SpecFault, UnknownEdition) as error:
            gone = isinstance(error, UnknownOverlay) and files is not None
            if held is not None and not gone and self._still_says(held[1]):
                why = str(error) if isinstance(error, SpecFault) else "can't be reached"
                self._trouble(name, why)
                self._overlaid[key] = (stamp, held[1])
                return held[1]
            self._overlaid.pop(key, None)
            if isinstance(error, UnknownOverlay):
                raise problem(404, NO_OVERLAY, where[1]) from None
            raise self._unusable(id, overlay, error, where) from None
        self._troubles.pop(name, None)
        self._overlaid[key] = (stamp, found)
        return found

    def _still_says(self, edition: Edition) -> bool:
        """Tell whether an edition kept with an overlay was not withdrawn since."""
        entry = self.notes_held().get(edition.id)
        return edition.id == DRAFT or (entry is not None and entry.status == edition.status)

    def _unusable(
        self, id: str | None, overlay: str, error: Exception, where: tuple[str, str]
    ) -> Problem:
        if id is not None and isinstance(error, SpecFault):
            # written for another edition is the caller's to mend, all else is the server's
            self._with_overlay(None, overlay, where)
            told = (say("overlay-of-another", path=f.path, why=f.why) for f in error.faults)
            return Problem(422, [Fault(where[1], each) for each in told])
        LOG.error("overlay %s can't be used: %s", overlay, error)
        return problem(503, say("overlay-unusable"), where[1], Retry_After="60")
