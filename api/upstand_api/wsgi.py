"""The app for a server of several processes: loaded once before they part, and not copied by them.

gunicorn --preload --workers 4 --worker-class gthread --threads 16 upstand_api.wsgi:app
"""

from __future__ import annotations

from upstand_api import create_app, memory

__all__ = ["app"]

app = create_app()
memory.settle()
