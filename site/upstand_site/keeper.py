"""Keeping a built handbook at hand while a server runs: found by its stamp, or built by a child.

The server answers everything else meanwhile; the child writes into the cache and renames whole.
"""

from __future__ import annotations

import logging
import subprocess
import sys
import tempfile
import threading
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from upstand import LANGUAGES
from upstand.edition import Edition
from upstand_site.stamp import find_built, place_in, stamp_of

LOG = logging.getLogger("upstand_site")

Start = Callable[[Sequence[str]], Any]


def start_child(command: Sequence[str]) -> subprocess.Popen[bytes]:
    """Start a build with nothing to read, its complaints on our own stderr."""
    return subprocess.Popen(command, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL)


def unwritable(folder: Path) -> str | None:
    """Return why nothing can be kept in a folder, in words; None where something can."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryFile(dir=folder) as tried:
            tried.write(b"tried")
            tried.flush()
    except OSError as error:
        return (
            f"the cache {folder} can't be written ({error.strerror}): set UPSTAND_CACHE to a "
            "folder that can"
        )
    return None


class Keeper:
    """Knows the built handbook of one edition, and has it built where there is none."""

    def __init__(
        self, edition: Edition, specdata: Path, cache: Path, start: Start = start_child
    ) -> None:
        """Look nothing up yet. `cache` is the folder that builds are kept in."""
        self._edition, self._specdata, self._cache, self._start = edition, specdata, cache, start
        self._lock = threading.Lock()
        self._found: Path | None = None
        self._child: Any = None
        self._fault: str | None = None

    @property
    def fault(self) -> str | None:
        """Why there is no handbook and none is being built; None where that is not so."""
        return None if self.folder() is not None else self._fault

    def begin(self) -> None:
        """Start a build where no handbook fits and none is being built."""
        with self._lock:
            if self._child is not None or self._look() is not None:
                return
            self._fault = unwritable(self._cache)
            if self._fault is not None:
                LOG.warning("the handbook can't be built: %s", self._fault)
                return
            target = place_in(self._cache, stamp_of(self._edition, LANGUAGES))
            command = [sys.executable, "-m", "upstand_site", str(target)]
            command += ["--specdata", str(self._specdata), "--edition", self._edition.id]
            try:
                self._child = self._start(command)
            except OSError as error:
                self._fault = f"it can't be built: {error.strerror}"
                LOG.warning("the handbook can't be built: %s", error)

    def folder(self) -> Path | None:
        """Return the built handbook's folder, or None while there is none."""
        with self._lock:
            if (
                self._found is None
                and self._child is not None
                and self._child.poll()
                not in (
                    None,
                    0,
                )
            ):
                LOG.warning("building the handbook failed; `upstand handbook` says why")
                self._fault = "building it failed; `upstand handbook` says why"
                self._child = None
            return self._look()

    def _look(self) -> Path | None:
        if self._found is None or not (self._found / "index.html").is_file():
            self._found = find_built(self._edition, LANGUAGES, self._cache)
        return self._found
