"""How a run ends that does not end well: what is said on stderr, and the exit status."""

from __future__ import annotations

import contextlib
import errno
import os
import sys
import textwrap
from collections.abc import Iterable, Iterator, Sequence
from typing import IO, Any

import click

from upstand_api.cli.paper import Screen, spelled

BAD_INPUT = 2
OWN_FAULT = 1
INTERRUPTED = 130
READER_GONE = 141

TRACEBACK = "UPSTAND_TRACEBACK"
"""Environment variable: set to 1, an internal fault is shown with its traceback."""

OF_THE_MACHINE = {
    errno.ENOSPC: "the disk is full: what was written is not whole",
    errno.EDQUOT: "the quota of the disk is used up: what was written is not whole",
    errno.EROFS: "the disk can only be read",
    errno.EBADF: "the output is closed",
    errno.EIO: "the disk or the terminal fails",
}
"""What stands in the way and is no fault of this software."""

MOST_SHOWN = 40
"""Faults shown of the data; more say only how many there are."""


def printable(text: str) -> str:
    """Return text with what a terminal would act on, or can't show, replaced by `?`.

    >>> printable("a\\x1b[2Jb")
    'a?[2Jb'
    """
    return "".join(c if c.isprintable() or c == "\u00a0" else "?" for c in text)


def tell(text: str) -> None:
    """Write a line to stderr, in the signs that it has."""
    click.echo(spelled(text, getattr(sys.stderr, "encoding", None) or "utf-8"), err=True)


class Refused(click.ClickException):
    """What was typed can't be used: every fault at once, exit status 2."""

    exit_code = BAD_INPUT

    def __init__(self, faults: Sequence[tuple[str, str]], command: str) -> None:
        """Keep the faults as (option or field, what is wrong and what would be accepted)."""
        self.faults = tuple(dict.fromkeys(faults))
        self.command = command
        super().__init__("; ".join(f"{place}: {what}" for place, what in self.faults))

    def show(self, file: IO[Any] | None = None) -> None:
        """Write the faults to stderr, one paragraph each."""
        count = len(self.faults)
        things = "one thing" if count == 1 else f"{count} things"
        tell(f"upstand {self.command}: {things} to put right")
        for place, what in self.faults:
            text = printable(f"{place}: {what}" if place else what)
            tell(
                textwrap.fill(
                    text,
                    width=Screen.here(sys.stderr).width,
                    initial_indent="  ",
                    subsequent_indent="      ",
                    break_long_words=False,
                    break_on_hyphens=False,
                )
            )
        tell(f"`upstand {self.command} --help` lists every option.")


class DataFault(click.ClickException):
    """The requirements data can't be used: exit status 1."""

    exit_code = OWN_FAULT

    def __init__(self, faults: Iterable[object]) -> None:
        """Keep the faults, each of which says file, path, value, rule and cure."""
        self.faults = tuple(faults)
        super().__init__("the requirements data can't be used")

    def show(self, file: IO[Any] | None = None) -> None:
        """Write the faults to stderr, one a line."""
        tell("upstand: the requirements data can't be used")
        for fault in self.faults[:MOST_SHOWN]:
            tell(f"  {printable(str(fault))}")
        if len(self.faults) > MOST_SHOWN:
            tell(f"  and {len(self.faults) - MOST_SHOWN} more")
        tell("`upstand check` lists every fault; with --overlay FILE an overlay's.")


class InternalFault(click.ClickException):
    """This software is at fault: exit status 1, and how to see where."""

    exit_code = OWN_FAULT

    def __init__(self, error: BaseException) -> None:
        """Keep what went wrong."""
        super().__init__(f"{type(error).__name__}: {error}")

    def show(self, file: IO[Any] | None = None) -> None:
        """Write to stderr that the fault is the software's own."""
        tell(
            f"upstand: a fault of this software, not of what you typed ({printable(self.message)})"
        )
        tell(f"Run it again with {TRACEBACK}=1 to see where, and report it.")


@contextlib.contextmanager
def ended_well(ctx: click.Context) -> Iterator[None]:
    """Turn whatever a command raises into an ending: a message, an exit status, no traceback."""
    if sys.stdout is None:  # started with its output closed
        with contextlib.suppress(OSError, ValueError):
            tell(f"upstand: {OF_THE_MACHINE[errno.EBADF]}")
        ctx.exit(OWN_FAULT)
    try:
        yield
        sys.stdout.flush()
    except BrokenPipeError:
        _close_quietly()
        ctx.exit(READER_GONE)
    except KeyboardInterrupt:
        tell("\nupstand: stopped")
        ctx.exit(INTERRUPTED)
    except (click.ClickException, click.exceptions.Exit, click.Abort):
        raise
    except OSError as error:
        if os.environ.get(TRACEBACK) == "1":
            raise
        if error.errno not in OF_THE_MACHINE:
            raise InternalFault(error) from error
        with contextlib.suppress(OSError, ValueError):
            where = f" ({printable(str(error.filename))})" if error.filename else ""
            tell(f"upstand: {OF_THE_MACHINE[error.errno]}{where}")
        _close_quietly()
        ctx.exit(OWN_FAULT)
    except Exception as error:
        if os.environ.get(TRACEBACK) == "1":
            raise
        raise InternalFault(error) from error


def _close_quietly() -> None:
    """Point stdout at nothing, or the interpreter complains when it flushes at its end."""
    with contextlib.suppress(OSError, ValueError):
        nothing = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nothing, sys.stdout.fileno())
