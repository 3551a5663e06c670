"""/handbook/: a built handbook, or a page that says it is being built."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from flask import Flask, Response, render_template, send_from_directory

from upstand_api.headers import HANDBOOK_POLICY
from upstand_api.pages import html
from upstand_api.state import state

__all__ = ["find_folder", "register"]

Finder = Callable[[], "Path | None"]


def find_folder() -> Path | None:
    """Return the folder of a built handbook that the settings name, or None while there is none."""
    folder = state().settings.handbook
    return folder if folder is not None and (folder / "index.html").is_file() else None


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
            return html(render_template("handbook.html"), 202)
        wanted = folder / name
        file = f"{name.rstrip('/')}/index.html".lstrip("/") if wanted.is_dir() else name
        response = send_from_directory(folder.absolute(), file)
        response.headers["Content-Security-Policy"] = HANDBOOK_POLICY
        return response
