"""The folder of spec data that a command works on, and where an overlay lies."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

import click

from upstand_api.cli.ending import DataFault, Refused

Command = TypeVar("Command", bound=Callable[..., Any])


def spec_option(command: Command) -> Command:
    """Add `--spec FOLDER` to a command."""
    add = click.option(
        "--spec", metavar="FOLDER", help="Folder of the spec data, in place of the packaged."
    )
    return add(command)


def find_overlay(text: str) -> tuple[str, Path | None]:
    """Read an overlay as typed: (its id, the folder it lies in, None for the usual one).

    A path ends in .yaml or has a / in it, and names a file or a folder of files; all else is an id.
    Raises FileNotFoundError for a path to nothing.
    """
    path = Path(text)
    if path.suffix != ".yaml" and "/" not in text and os.sep not in text:
        return text, None
    if not (path.is_file() and path.suffix == ".yaml") and not path.is_dir():
        raise FileNotFoundError(text)
    path = path.resolve()
    return (path.stem if path.is_file() else path.name), path.parent


def find_folder(spec: str | None, command: str) -> Path:
    """Return the folder to work on; raises Refused for one that was named and holds no data."""
    from upstand.edition import SpecFault, find_root

    try:
        return find_root(spec)
    except SpecFault as fault:
        if spec is None:
            raise DataFault(fault.faults) from None
        wrong = f"{spec} holds no spec data: give the folder that holds next/ and editions/"
        raise Refused([("--spec", wrong)], command) from None
