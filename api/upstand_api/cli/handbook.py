"""`upstand handbook`: build the handbook into a folder, to be opened as it is or served."""

from __future__ import annotations

import time
from pathlib import Path

import click

from upstand import LANGUAGES
from upstand_api.cli.ending import OWN_FAULT, DataFault, Refused, printable
from upstand_api.cli.spec_folder import find_folder, spec_option

NAME = "handbook"


class CantWrite(click.ClickException):
    """The folder can't be written; exit status 1."""

    exit_code = OWN_FAULT

    def format_message(self) -> str:
        """Name the command before the message."""
        return f"upstand {NAME}: {self.message}"


@click.command(NAME)
@click.option(
    "--out",
    metavar="FOLDER",
    default="handbook",
    show_default=True,
    help="Where to; empty, missing, or an older handbook, which is replaced whole.",
)
@click.option(
    "--lang",
    "languages",
    type=click.Choice(LANGUAGES),
    multiple=True,
    help="Only this language; may be given again. Both where not given.",
)
@click.option("--edition", metavar="ID", help="This edition; the default one where not given.")
@spec_option
def command(out: str, languages: tuple[str, ...], edition: str | None, spec: str | None) -> None:
    """Build the handbook that works with no signal.

    Open FOLDER/index.html as it is, put the folder on any web server under /handbook/, or let
    `upstand serve` do it. Nothing in it is loaded from anywhere else.
    """
    from upstand.edition import SpecFault, UnknownEdition
    from upstand_site.build import BuildFault, build

    root = find_folder(spec, NAME)
    begun = time.monotonic()
    try:
        built = build(out, root, languages or LANGUAGES, edition)
    except UnknownEdition as unknown:
        raise Refused([("--edition", f"{unknown}")], NAME) from None
    except SpecFault as fault:
        raise DataFault(fault.faults) from None
    except BuildFault as fault:
        where = "--out" if Path(out).exists() else ""
        raise Refused([(where, str(fault))], NAME) from None
    except OSError as error:
        raise CantWrite(f"can't write {printable(out)}: {error.strerror}") from None
    pages = ", ".join(f"{count} pages in {_language(lang)}" for lang, count in built.pages.items())
    click.echo(f"Handbook of edition {built.edition}: {pages}, {time.monotonic() - begun:.0f} s")
    click.echo(f"Open it:  {built.folder / 'index.html'}")
    click.echo(f"Stamp:    {built.stamp[:12]}")


def _language(lang: str) -> str:
    return {"en": "English", "es": "Spanish"}[lang]
