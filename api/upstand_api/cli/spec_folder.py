"""The folder of spec data that a command works on."""

from __future__ import annotations

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


def find_folder(spec: str | None, command: str) -> Path:
    """Return the folder to work on; raises Refused for one that was named and holds no data."""
    from upstand.spec import SpecFault, find_root

    try:
        return find_root(spec)
    except SpecFault as fault:
        if spec is None:
            raise DataFault(fault.faults) from None
        wrong = f"{spec} holds no spec data: give the folder that holds next/ and editions/"
        raise Refused([("--spec", wrong)], command) from None
