"""The WSGI application: `create_app()` needs no configuration."""

from __future__ import annotations

from flask import Flask, Response, request
from werkzeug.middleware.proxy_fix import ProxyFix
from werkzeug.routing import RequestRedirect

from upstand.telling.said import Or, say
from upstand_api.access import Keys
from upstand_api.admission import Gate, Rate
from upstand_api.editions import Editions
from upstand_api.http import compression, headers, logs, problems, request_id
from upstand_api.http.links import BASE, href
from upstand_api.http.negotiate import best_type, offered
from upstand_api.http.problems import problem
from upstand_api.openapi.answered import OWN
from upstand_api.openapi.document import Document
from upstand_api.pages import docs, handbook, start
from upstand_api.resources import (
    changes,
    conditions,
    cutlist,
    drawing,
    edition,
    editions,
    film,
    health,
    record,
    records,
    requirements,
    takeoff,
)
from upstand_api.settings import MAX_BODY_BYTES, Settings
from upstand_api.state import NAME, State, state

__all__ = ["create_app"]

LARGE_WAIT_S = 10.0
"""How long large work waits for its turn."""

RESOURCES = (
    requirements,
    conditions,
    drawing,
    film,
    cutlist,
    takeoff,
    editions,
    edition,
    records,
    record,
    changes,
    health,
)


def create_app(settings: Settings | None = None) -> Flask:
    """Make the application.

    settings None reads them from the environment, where all have defaults. The edition that
    answers by default is loaded here, so that an app that starts can answer. Raises SettingsFault,
    and SpecFault where the requirements data can't be used.
    """
    held = Settings.from_environment() if settings is None else settings
    app = Flask("upstand_api", static_folder=None)
    app.config["MAX_CONTENT_LENGTH"] = MAX_BODY_BYTES
    app.config[BASE] = held.base_url
    app.url_map.merge_slashes = False
    if held.proxies:
        # the address alone: links never come from what a caller wrote
        app.wsgi_app = ProxyFix(  # type: ignore[method-assign]
            app.wsgi_app, x_for=held.proxies, x_proto=0, x_host=0
        )
    app.extensions[NAME] = State(
        settings=held,
        editions=Editions(held.specdata, held.overlays, Keys(held)),
        gate=Gate(held.max_in_flight),
        large=Gate(held.max_in_flight, LARGE_WAIT_S),
        rate=Rate(held.requests_per_minute),
    )
    app.extensions[NAME].editions.get()
    # what is registered last runs first
    request_id.register(app)
    logs.register(app)
    problems.register(app)
    headers.register(app)
    compression.register(app)
    app.before_request(_admit)
    document = Document(app, held.base_url)
    for module in RESOURCES:
        document.register_blueprint(module.resource.blueprint)
    docs.register(app, document)
    start.register(app)
    handbook.register(app)
    return app


def _admit() -> Response | None:
    """Refuse what won't be answered before anything is read; a routing error goes first."""
    astray = request.routing_exception
    if isinstance(astray, RequestRedirect):
        # the router builds the address from the Host header, which the caller writes
        return Response(status=308, headers={"Location": href("/")})
    if astray is not None:
        return None
    probed = request.path in ("/healthz", "/readyz")
    own = request.environ.get(OWN, False)
    if not (probed or own or request.path.startswith("/handbook")):
        state().rate.take(request.remote_addr or "")
    offers = offered()
    if offers is not None and best_type(offers) is None:
        raise problem(406, say("not-acceptable", offers, types=Or(offers)))
    return None
