"""The app for a server of several processes: loaded once before they part, and not copied by them.

gunicorn --preload --workers 4 --worker-class gthread --threads 16 upstand_api.wsgi:app
"""

from __future__ import annotations

import gc

from upstand_api.app import create_app

__all__ = ["app"]

app = create_app()
# what stays for good is never walked by the collector again: no pauses, and pages stay shared
gc.collect()
gc.freeze()
