"""What the smaller doors have in common: options, the body they ask with, and how it is refused."""

from __future__ import annotations

import json
import sys
from codecs import BOM_UTF8
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

from upstand_api.cli.ending import DataFault, Refused
from upstand_api.cli.spec_folder import find_folder, find_overlay, spec_option

if TYPE_CHECKING:
    from upstand.edition import Edition

__all__ = [
    "echo_json",
    "language",
    "load_edition",
    "read_base",
    "read_content",
    "read_json",
    "read_query",
    "service_options",
]

SIZE_LIMIT = 256 * 1024
"""Bytes of a body that are read; the API takes as many."""

Command = TypeVar("Command", bound=Callable[..., Any])
Query = TypeVar("Query")


def service_options(command: Command) -> Command:
    """Add what every door takes: language, units, edition, overlay, a body as JSON, JSON out."""
    for add in (
        click.option("--json", "as_json", is_flag=True, help="Print the whole document as JSON."),
        click.option(
            "--from",
            "source",
            metavar="FILE",
            help="Read the request from a JSON file, or - for standard input; options go over it.",
        ),
        spec_option,
        click.option(
            "--overlay", metavar="ID|FILE", help="A contractor's product sheets over the edition."
        ),
        click.option("--edition", metavar="ID", help="Edition; the newest published if left out."),
        click.option("--lang", metavar="en|es", help="Language of the answer."),
        click.option("--units", metavar="us|si", help="Units of the answer."),
    ):
        command = add(command)
    return command


def read_base(source: str | None, command: str) -> dict[str, Any]:
    """Return the body that the options are laid over; raises Refused for a file that is none."""
    if source is None:
        return {}
    place = f"--from {source}"
    found = read_json(read_content(source, place, command), place, command)
    if not isinstance(found, Mapping):
        raise Refused([(place, "is not an object: write {…}")], command)
    return dict(found)


def read_content(
    source: str, place: str, command: str, cure: str = "", most: int = SIZE_LIMIT
) -> bytes:
    """Read a file, or standard input for `-`; raises Refused for one that can't be, or is long."""
    try:
        if source == "-":
            content = sys.stdin.buffer.read(most + 1)
        else:
            with Path(source).open("rb") as stream:
                content = stream.read(most + 1)
    except OSError as error:
        # strerror alone: the exception's own text repeats the path as a Python literal
        raise Refused([(place, f"can't be read: {error.strerror or error}")], command) from None
    if len(content) > most:
        raise Refused([(place, f"is over {most // 1024:,} KB{cure}")], command)
    # editors on Windows put a byte order mark before UTF-8 text
    return content.removeprefix(BOM_UTF8)


def read_json(content: bytes, place: str, command: str) -> Any:
    """Read strict JSON; raises Refused with what is wrong with it."""
    from upstand_api.http.strict_json import Unreadable, read

    try:
        return read(content)
    except Unreadable as error:
        raise Refused([(f.pointer or place, f.detail) for f in error.faults], command) from None


def load_edition(
    body: Mapping[str, Any],
    spec: str | None,
    command: str,
    faults: Sequence[tuple[str, str]] = (),
) -> Edition:
    """Load the edition that a body names, with its overlay; raises Refused or DataFault.

    `faults` are told with what is wrong here.
    """
    from upstand.edition import SpecFault, UnknownEdition, UnknownOverlay, edition_ids, load

    root = None if spec is None else find_folder(spec, command)
    edition, overlay, folder = body.get("edition"), body.get("overlay"), None
    for name, value in (("--edition", edition), ("--overlay", overlay)):
        if value is not None and not isinstance(value, str):
            raise Refused([(name, "is not text: write its id")], command)
    try:
        if overlay is not None:
            overlay, folder = find_overlay(overlay)
        return load(edition, root, overlay=overlay, overlays=folder)
    except UnknownEdition as error:
        known = ", ".join(edition_ids(root))
        raise Refused([*faults, ("--edition", f"{error}. Known: {known}")], command) from None
    except (UnknownOverlay, FileNotFoundError) as error:
        say = f"{error}: give its id, or the path of its .yaml file"
        raise Refused([*faults, ("--overlay", say)], command) from None
    except SpecFault as fault:
        raise DataFault(fault.faults) from None


def language(body: Mapping[str, Any]) -> str:
    """Return the language that a body asks for, English where it names none that is spoken."""
    from upstand import LANGUAGES

    return str(body["lang"]) if body.get("lang") in LANGUAGES else LANGUAGES[0]


def read_query(
    read: Callable[[object, Edition], Query],
    body: Mapping[str, Any],
    edition: Edition,
    command: str,
    options: Mapping[str, str],
) -> Query:
    """Read a body; what is wrong is told by option (`options`: place in the body -> option)."""
    from upstand.query import QueryFaults
    from upstand.telling.said import tell

    try:
        return read(body, edition)
    except QueryFaults as error:
        faults = [
            (_option(fault.pointer, options), tell(fault.detail, language(body)))
            for fault in error.faults
        ]
    raise Refused(faults, command)


def _option(pointer: str, options: Mapping[str, str]) -> str:
    steps = pointer.split("/")
    for end in range(len(steps), 1, -1):
        option = options.get("/".join(steps[:end]))
        if option is not None:
            number = next((int(s) + 1 for s in steps[end:] if s.isdecimal() and len(s) < 5), None)
            return option if number is None else f"{option}, number {number}"
    return pointer or "the request"


def echo_json(document: Mapping[str, Any]) -> None:
    """Print a document as JSON."""
    click.echo(json.dumps(document, ensure_ascii=False, indent=2, allow_nan=False))
