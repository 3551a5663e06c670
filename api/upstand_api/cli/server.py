"""The app behind a server for one machine: waitress, with its own errors as problems too."""

from __future__ import annotations

import json
import select
import uuid
from http import HTTPStatus
from typing import Any, Final

from flask import Flask
from waitress import create_server  # type: ignore[import-untyped]
from waitress.channel import HTTPChannel  # type: ignore[import-untyped]
from waitress.task import ErrorTask  # type: ignore[import-untyped]

from upstand.query.faults import Fault
from upstand.telling.said import say
from upstand_api.http.problems import CONTENT_TYPE, document
from upstand_api.settings import MAX_BODY_BYTES

__all__ = ["make_server"]

MAX_HEADER_BYTES: Final = 32 * 1024
#: Beyond this a body is not even read; up to it the app says what is too large.
MAX_READ_BYTES: Final = 8 * 1024 * 1024
SILENCE_S: Final = 10
CONNECTIONS: Final = 1000
#: For pages, for the handbook, and to refuse at once what finds both lines full.
THREADS_TO_SPARE: Final = 6

#: What the server refuses before the app sees it, in words. A transfer coding that is not known
#: is the request's fault, whatever the server calls it.
_SAID: Final = {
    413: say("body-too-large", most=str(MAX_BODY_BYTES // 1024)),
    431: say("headers-too-large", most=str(MAX_HEADER_BYTES // 1024)),
    501: say("no-transfer-coding"),
}


class _ProblemTask(ErrorTask):  # type: ignore[misc]
    """Answers what is not even a request."""

    def execute(self) -> None:
        error = self.request.error
        status = 400 if error.code >= 500 else error.code
        said = _SAID.get(error.code, say("no-request"))
        told = json.dumps(
            document(status, [Fault("", said)], request=uuid.uuid4().hex), ensure_ascii=False
        )
        content = told.encode("utf-8")
        self.status = f"{status} {HTTPStatus(status).phrase}"
        self.response_headers += [
            ("Content-Type", CONTENT_TYPE),
            ("Cache-Control", "no-store"),
            ("X-Content-Type-Options", "nosniff"),
        ]
        self.set_close_on_finish()
        self.content_length = len(content)
        self.write(content)


class _Channel(HTTPChannel):  # type: ignore[misc]
    error_task_class = _ProblemTask


def make_server(app: Flask, host: str, port: int, max_in_flight: int, proxies: int = 0) -> Any:
    """Make a server that listens already; `run()` serves, `close()` ends it.

    Port 0 takes a free one. Raises OSError where it can't listen.
    """
    server = create_server(
        app,
        host=host,
        port=port,
        threads=2 * max_in_flight + THREADS_TO_SPARE,
        connection_limit=CONNECTIONS,
        # select() stops at 1,024 files; where there is no poll, fewer connections must do
        asyncore_use_poll=hasattr(select, "poll"),
        ident=None,
        expose_tracebacks=False,
        clear_untrusted_proxy_headers=proxies == 0,
        max_request_header_size=MAX_HEADER_BYTES,
        max_request_body_size=MAX_READ_BYTES,
        channel_timeout=SILENCE_S,
        cleanup_interval=SILENCE_S // 2,
    )
    # a name with several addresses gets a server for each
    for each in [server, *getattr(server, "map", {}).values()]:
        if hasattr(each, "channel_class"):
            each.channel_class = _Channel
    return server
