"""`upstand need`: one detail, one whole answer, in the terminal."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Collection, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar, cast

import click

from upstand_api.cli.answer_page import PARTS, show
from upstand_api.cli.asking import read_content
from upstand_api.cli.ending import DataFault, Refused
from upstand_api.cli.spec_folder import find_folder, find_overlay, spec_option
from upstand_api.cli.typed.options import InputCommand
from upstand_api.cli.typed.request import EXAMPLE, Typed, build

if TYPE_CHECKING:
    from upstand.answer import Answer
    from upstand.edition import Edition

NAME = "need"
Command = TypeVar("Command", bound=Callable[..., Any])


def _text(name: str, metavar: str, help: str) -> Callable[[Command], Command]:
    """Declare an option whose text is judged with all others, where every request is."""
    return click.option(f"--{name}", metavar=metavar, help=help)


def _parts(command: Command) -> Command:
    """Declare a flag for each part of the page."""
    for part, said in reversed(PARTS.items()):
        command = click.option(f"--{part}", is_flag=True, help=said)(command)
    return command


@click.command(NAME, cls=InputCommand)
@click.argument("details", nargs=-1, metavar="[DETAIL]")
@click.option(
    "--member",
    "members",
    multiple=True,
    metavar="TEXT",
    help='What comes through, such as "angle 3x3x1/4 in carbon-steel at 6,0 in turn 30 deg", '
    '"pipe 4 1/2 in carbon-steel", "nps 4 carbon-steel", "W8x31 carbon-steel". Again for more.',
)
@click.option(
    "--plate",
    "plates",
    multiple=True,
    metavar="TEXT",
    help='A fastener plate: "3x3 in at 6,0 in", the centre along x, y. Again for more.',
)
@click.option(
    "--confirmed",
    "confirmed",
    multiple=True,
    metavar="ID",
    help="A check that a hold waits for, now confirmed, such as lead-rules-in-place. "
    "Again for more.",
)
@_text("units", "us|si", "Units of the answer.")
@_text("lang", "en|es", "Language of the answer.")
@_text("edition", "ID", "Edition of the requirements; the newest published if left out.")
@_text("overlay", "ID|FILE", "A contractor's product sheets laid over the edition.")
@spec_option
@click.option(
    "--from",
    "source",
    metavar="FILE",
    help="Read the request from a JSON file, or from - for standard input; options go over it.",
)
@click.option("--example", is_flag=True, help="Answer an invented post; options go over it.")
@click.option("--json", "as_json", is_flag=True, help="Print the whole document as JSON.")
@click.option("--draw", "folder", metavar="FOLDER", help="Also write plan, section and cut sheet.")
@_parts
def command(
    details: tuple[str, ...],
    members: tuple[str, ...],
    plates: tuple[str, ...],
    spec: str | None,
    source: str | None,
    example: bool,
    as_json: bool,
    folder: str | None,
    **options: Any,
) -> None:
    """Answer one detail on one screen: may it start, dangers, what to bring, cut and wait for.

    DETAIL is post, pipe, cluster … Sizes are written with their unit: "8 1/2 in", "216 mm".

    \b
    upstand need --example
    upstand need post --roof epdm --member "tube 4x4x1/4 in carbon-steel" \\
                 --air "72 F" --surface "78 F" --humidity "55 %"
    """
    parts = [part for part in PARTS if options.pop(part)]
    base, file, faults = _base(source, example)
    made = cast(InputCommand, click.get_current_context().command).made
    typed = build(base, file, details, members, plates, options, made)
    if faults:  # without its base the body is no measure of what was meant
        raise Refused(faults + typed.faults, NAME)
    edition = _edition(typed, spec)
    found = _answer(typed, edition)
    if folder is not None:
        _draw(found, folder)
    document = _written(found, None if as_json else parts)
    if as_json:
        if example:
            click.echo("An invented example, not a real roof.", err=True)
        click.echo(json.dumps(document, ensure_ascii=False, indent=2, allow_nan=False))
        return
    from upstand_api.cli.paper import Screen

    screen = Screen.here(sys.stdout)
    text = show(document, typed.body, edition, screen, parts, invented=example)
    click.echo(text, nl=False, color=screen.colour)


def _base(
    source: str | None, example: bool
) -> tuple[Mapping[str, Any], str, list[tuple[str, str]]]:
    """Return what the options are laid over: (body, name of the file, faults)."""
    if source is None:
        return (EXAMPLE if example else {}), "", []
    name = "standard input" if source == "-" else source
    if example:
        return {}, name, [("--from and --example", "are both given: choose one")]
    from upstand_api.http.strict_json import Unreadable, read

    place = f"--from {source}"
    try:
        found = read(read_content(source, place, NAME, ": one request describes one detail"))
    except Refused as refused:
        return {}, name, list(refused.faults)
    except Unreadable as error:
        places = [f"{name}, {f.pointer}" if f.pointer else place for f in error.faults]
        return {}, name, [(p, f.detail) for p, f in zip(places, error.faults, strict=True)]
    if not isinstance(found, Mapping):
        return {}, name, [(place, "is not an object: write {…} describing one detail")]
    return found, name, []


def _edition(typed: Typed, spec: str | None) -> Edition:
    """Load the edition that was asked for, or say what is wrong with what was asked."""
    from upstand.edition import SpecFault, UnknownEdition, UnknownOverlay, edition_ids, load

    asked: dict[str, str | None] = {}
    for name, such_as in (("edition", '"2026.1"'), ("overlay", '"example"')):
        given = typed.body.get(name)
        if given is not None and not isinstance(given, str):
            typed.faults.append((typed.place(f"/{name}"), f"is not text: write it as {such_as}"))
        asked[name] = given if isinstance(given, str) else None
    overlay, folder = asked["overlay"], None
    if overlay is not None and "/overlay" in typed.labels:  # a file may name an id, not a path
        try:
            overlay, folder = find_overlay(overlay)
        except FileNotFoundError:
            typed.faults.append(("--overlay", f"{overlay} is not there: give an overlay's .yaml"))
            overlay = None
    root = None if spec is None else find_folder(spec, NAME)
    try:
        try:
            return load(asked["edition"], root, overlay=overlay, overlays=folder)
        except UnknownEdition as error:
            known = ", ".join(edition_ids(root))
            typed.faults.append((typed.place("/edition"), f"{error}. Known: {known}"))
        except UnknownOverlay as error:
            said = "give its id, or the path of its .yaml file"
            typed.faults.append((typed.place("/overlay"), f"{error}; {said}"))
        return load(root=root)  # so that all else that is wrong is said at once
    except SpecFault as fault:
        raise DataFault(fault.faults) from None


def _written(found: Answer, parts: Collection[str] | None) -> dict[str, Any]:
    """Write the answer down: as the request says, or for a page of these parts."""
    from upstand.document.requirements import write
    from upstand.query.model import ANSWER_KEYS

    if parts is None:
        return write(found)
    wanted = [key for key in ANSWER_KEYS if key != "workings" or {"all", "working"} & {*parts}]
    return write(found, fields=wanted, no_break=True)


def _draw(found: Answer, folder: str) -> None:
    """Write the drawings, and say on standard error where."""
    from upstand_api.cli.drawings import write_drawings

    try:
        lines = write_drawings(found, Path(folder))
    except OSError as error:
        wrong = f"can't be written: {error.strerror or error}"
        raise Refused([(f"--draw {folder}", wrong)], NAME) from None
    for line in lines:
        click.echo(line, err=True)


def _answer(typed: Typed, edition: Edition) -> Answer:
    """Answer, or refuse with every fault at once."""
    from upstand.answer import answer
    from upstand.query import QueryFaults, read_requirements

    try:
        query = read_requirements(typed.body, edition)
        if not typed.faults:
            return answer(query, edition)
    except QueryFaults as faults:
        typed.faults += typed.retell((f.pointer, f.detail) for f in faults.faults)
    raise Refused(typed.faults, NAME)
