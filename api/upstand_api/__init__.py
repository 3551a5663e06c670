"""The ways to Upstand from outside: the HTTP API, the phone desk, the client and the terminal.

`create_app` makes the WSGI application. It is imported only when it is called, so that the
terminal does not wait for a web server it will not use.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from flask import Flask

__all__ = ["create_app"]


def create_app(*args: Any, **kwargs: Any) -> Flask:
    """Make the WSGI application; takes what `upstand_api.app.create_app` takes."""
    from upstand_api import memory

    with memory.loading():
        from upstand_api.app import create_app as make

        app: Flask = make(*args, **kwargs)
    return app
