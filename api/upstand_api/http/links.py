"""Links: from the base address in the settings, else relative to this server."""

from __future__ import annotations

from flask import current_app, request

__all__ = ["BASE", "href"]

BASE = "UPSTAND_BASE_URL"
"""Key of the app's configuration that holds the base address, or an empty text."""


def href(path: str) -> str:
    """Make a link; what the caller sent as Host is never part of it."""
    base: str = current_app.config[BASE]
    return (base or request.script_root) + path
