"""`upstand serve`: API, phone desk and handbook on one port."""

from __future__ import annotations

import errno
import logging
import os
import signal
import socket
from collections.abc import Iterator
from contextlib import closing, contextmanager
from typing import IO, TYPE_CHECKING, Any

import click

from upstand_api.cli.ending import BAD_INPUT, OWN_FAULT, DataFault, printable

if TYPE_CHECKING:
    from flask import Flask

    from upstand_api.settings import Settings

__all__ = ["command"]

WIDTH = 12


class CantServe(click.ClickException):
    """Why nothing is served, in one line: the machine is in the way, exit status 1."""

    exit_code = OWN_FAULT

    def show(self, file: IO[Any] | None = None) -> None:
        """Write the line to stderr."""
        click.echo(f"upstand serve: {printable(self.message)}", err=True)


class CantUse(CantServe):
    """What was typed or set up can't be used: exit status 2."""

    exit_code = BAD_INPUT


class Port(click.ParamType[int]):
    """A port by its number."""

    name = "port"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> int:
        """Read it; a wrong one ends the command in one line."""
        text = str(value)
        if text.isascii() and text.isdigit() and len(text) <= 5 and int(text) <= 65535:
            return int(text)
        raise CantUse(
            f"--port {text[:20]!r} is not a port: write a number from 1 to 65535, or 0 for any "
            "that is free"
        )


@click.command(
    "serve",
    short_help="API, phone desk and handbook on one port",
    epilog="Set up by the environment: UPSTAND_BASE_URL, UPSTAND_OVERLAYS, UPSTAND_KEYS, "
    "UPSTAND_CACHE and others; the API's settings list them.",
)
@click.option(
    "--host",
    default="127.0.0.1",
    show_default=True,
    help="Address to listen at; 0.0.0.0 lets other machines in.",
)
@click.option("--port", type=Port(), default=8000, show_default=True, help="0: any that is free.")
@click.option("--log", is_flag=True, help="Write a line for each request: method, path, status.")
def command(host: str, port: int, log: bool) -> None:
    """Serve the API, the phone desk and the handbook until ctrl-C.

    Prints the address, what is where, and one question that works when it is pasted.
    """
    from upstand_api import memory
    from upstand_api.pages import handbook

    settings = _settings()
    logging.basicConfig(
        level=logging.INFO if log else logging.WARNING, format="%(asctime)s %(message)s"
    )
    # that questions wait their turn is no news to whoever reads the log
    logging.getLogger("waitress.queue").setLevel(logging.ERROR)
    app = _app(settings)
    server = _listening(app, host, port, settings)
    handbook.begin(app)
    memory.settle()
    with closing(server), _ended_by_signal():
        click.echo(_greeting(app, host, server))
        server.run()
    click.echo("upstand serve: stopped")


def _settings() -> Settings:
    from upstand_api.settings import Settings, SettingsFault

    try:
        return Settings.from_environment()
    except SettingsFault as fault:
        raise CantUse(str(fault)) from None


def _app(settings: Settings) -> Flask:
    from upstand.edition import SpecFault
    from upstand_api.app import create_app
    from upstand_api.settings import SettingsFault

    try:
        return create_app(settings)
    except SettingsFault as fault:
        raise CantUse(str(fault)) from None
    except SpecFault as fault:
        raise DataFault(fault.faults) from None


def _listening(app: Flask, host: str, port: int, settings: Settings) -> Any:
    from upstand_api.cli.server import make_server

    try:
        return make_server(app, host, port, settings.max_in_flight, settings.proxies)
    except (socket.gaierror, UnicodeError, ValueError):
        said = f"--host {host[:60]!r} is not an address of this machine: leave it out, or 0.0.0.0"
        raise CantUse(said) from None
    except OSError as error:
        raise _cant_listen(error, host, port) from None


def _cant_listen(error: OSError, host: str, port: int) -> CantServe:
    if error.errno == errno.EADDRINUSE:
        said = f"port {port} is in use: stop what listens there, or take another, --port {port + 1}"
        return CantServe(said)
    if error.errno in (errno.EACCES, errno.EPERM):
        said = f"port {port} may not be opened by this user: take one from 1024 up, --port 8000"
        return CantServe(said)
    if error.errno == errno.EADDRNOTAVAIL:
        said = f"--host {host[:60]!r} is not an address of this machine: leave it out, or 0.0.0.0"
        return CantUse(said)
    return CantServe(f"can't listen at {host} port {port}: {error.strerror}")


@contextmanager
def _ended_by_signal() -> Iterator[None]:
    """End as well on the signal that service managers send as on ctrl-C."""

    def end(*_: object) -> None:
        raise KeyboardInterrupt

    before = signal.signal(signal.SIGTERM, end)
    try:
        yield
    finally:
        signal.signal(signal.SIGTERM, before)


def _address(host: str, server: Any) -> str:
    """Return the address that works on this machine."""
    port = getattr(server, "effective_port", None)
    if port is None:  # one server for each address of a name: all on the same port
        port = server.effective_listen[0][1]
    name = {"0.0.0.0": "127.0.0.1", "::": "::1", "": "127.0.0.1"}.get(host, host)
    return f"http://[{name}]:{port}" if ":" in name else f"http://{name}:{port}"


def _greeting(app: Flask, host: str, server: Any) -> str:
    from upstand_api.openapi.examples import REQUIREMENTS, curl
    from upstand_api.pages import handbook
    from upstand_api.state import NAME

    address = _address(host, server)
    edition = app.extensions[NAME].editions.get()
    draft = " (draft)" if edition.status == "draft" else ""
    known = {rule.rule for rule in app.url_map.iter_rules()}
    places = [
        ("/", "start page", "/"),
        ("/docs", "how to ask, for your own software", "/docs"),
        ("/v1/…", "the API", "/v1/requirements"),
        ("/desk", "phone desk", "/desk"),
        ("/handbook/", "handbook", "/handbook/"),
    ]
    lines = [f"Upstand answers at {address} from edition {edition.id}{draft}", ""]
    lines += [f"  {shown:<{WIDTH}} {what}" for shown, what, rule in places if rule in known]
    lines += ["", "Try it, in another terminal:", ""]
    lines += [f"  {curl(f'{address}/v1/requirements', REQUIREMENTS)}", ""]
    missing = handbook.why_not(app)
    if missing is not None:
        lines += [f"No handbook: {printable(missing)}.", ""]
    if host in ("0.0.0.0", "::", ""):
        lines += ["Other machines on this network reach it too.", ""]
    if host not in ("127.0.0.1", "::1", "localhost"):
        lines += [
            "A phone keeps the handbook for where there is no signal only from an address that",
            'begins with https: README.md, "Keep it on a phone", says how. From this one it reads',
            "with a signal.",
            "",
        ]
    elif missing is None:
        lines += [
            "On this machine the browser keeps the handbook; a phone does so only over https.",
            "",
        ]
    lines.append(f"Stop it with ctrl-C{'' if os.name == 'posix' else ' or ctrl-Break'}.")
    return "\n".join(lines)
