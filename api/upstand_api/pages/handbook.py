"""/handbook/: a built handbook, or a page that says it is being built."""

from __future__ import annotations

import mimetypes
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from flask import Flask, Response, current_app, render_template, request, send_from_directory

from upstand_api.http.compression import takes_gzip
from upstand_api.http.headers import HANDBOOK_POLICY
from upstand_api.pages.style import html
from upstand_api.state import NAME, State, state

if TYPE_CHECKING:
    from upstand_site.keeper import Keeper

__all__ = ["begin", "find_folder", "register", "why_not"]

Finder = Callable[[], "Path | None"]

KEEPER = "upstand-handbook"

TYPES = {".webmanifest": "application/manifest+json", ".js": "text/javascript"}
"""What some machines don't know, or call otherwise: a worker with another type is refused."""


def find_folder() -> Path | None:
    """Return the folder of a built handbook, or None while there is none.

    What the settings name, else one that came with the release or lies in the cache.
    """
    folder = state().settings.handbook
    if folder is not None:
        return folder if (folder / "index.html").is_file() else None
    return _keeper(current_app).folder()


def begin(app: Flask) -> None:
    """Look for a built handbook whose stamp fits; where there is none, have a child build it.

    For whoever serves for long: the app answers all else meanwhile.
    """
    if app.extensions[NAME].settings.handbook is None:
        _keeper(app).begin()


def why_not(app: Flask) -> str | None:
    """Return why there is no handbook and none is being built; None where there is, or will be."""
    folder = app.extensions[NAME].settings.handbook
    if folder is not None:
        there = (folder / "index.html").is_file()
        return None if there else f"{folder}, which UPSTAND_HANDBOOK names, holds none"
    return _keeper(app).fault


def _keeper(app: Flask) -> Keeper:
    """Return the app's keeper; made on first use, since finding a handbook reads the site."""
    from upstand_site.keeper import Keeper

    if KEEPER not in app.extensions:
        held: State = app.extensions[NAME]
        editions = held.editions
        cache = held.settings.cache_folder()
        app.extensions[KEEPER] = Keeper(editions.get(), editions.root, cache)
    keeper: Keeper = app.extensions[KEEPER]
    return keeper


def register(app: Flask, find: Finder = find_folder) -> None:
    """Mount the handbook.

    `find` is asked on every request for the built folder, so that a handbook whose build ends while
    the app runs is there at once; None says that it is being built.
    """

    @app.get("/handbook", endpoint="handbook_without_slash")
    def without_slash() -> Response:
        # relative, so that it leads to wherever this server is reached
        return Response(status=308, headers={"Location": "handbook/"})

    @app.get("/handbook/", defaults={"name": ""}, endpoint="handbook")
    @app.get("/handbook/<path:name>", endpoint="handbook_page")
    def page(name: str) -> Response:
        folder = find()
        if folder is None:
            why = why_not(current_app)
            return html(render_template("handbook.html", why=why), 404 if why else 202)
        wanted = folder / name
        file = f"{name.rstrip('/')}/index.html".lstrip("/") if wanted.is_dir() else name
        kind = TYPES.get(Path(file).suffix) or mimetypes.guess_type(file)[0]
        # a packed copy lies beside what shrinks; its date and size give it an ETag of its own
        packed = takes_gzip(request) and file and (folder / f"{file}.gz").is_file()
        sent = f"{file}.gz" if packed else file
        response = send_from_directory(folder.absolute(), sent, mimetype=kind)
        response.vary.add("Accept-Encoding")
        if packed:
            response.headers["Content-Encoding"] = "gzip"
        response.headers["Content-Security-Policy"] = HANDBOOK_POLICY
        return response
