"""`upstand show`: one record of an edition as YAML, as it was written."""

from __future__ import annotations

import sys

import click

from upstand_api.cli.ending import DataFault, Refused
from upstand_api.cli.paper import spelled
from upstand_api.cli.spec_folder import find_folder, find_overlay, spec_option

NAME = "show"


@click.command(NAME)
@click.argument("words", nargs=-1, metavar="[EDITION] KIND/ID")
@click.option("--overlay", metavar="ID|FILE", help="Show it with this overlay laid over it.")
@spec_option
def command(words: tuple[str, ...], overlay: str | None, spec: str | None) -> None:
    """Print one record of an edition as YAML: every value with its grade, source and date.

    EDITION is the newest published one if left out; `next` is what is being edited.

    \b
    upstand show resins/pu-2k
    upstand show 2026.1 limits/upright-height
    """
    import yaml

    from upstand.edition import SpecFault, UnknownEdition, UnknownOverlay, UnknownRecord, load

    if len(words) not in (1, 2) or "/" not in words[-1]:
        said = "write one record, after the edition if you name one: 2026.1 resins/pu-2k"
        raise Refused([("KIND/ID", said)], NAME)
    folder = None
    if overlay is not None:
        try:
            overlay, folder = find_overlay(overlay)
        except FileNotFoundError:
            told = f"{overlay} is not there: give an overlay's .yaml"
            raise Refused([("--overlay", told)], NAME) from None
    asked = words[0] if len(words) == 2 else None
    root = find_folder(spec, NAME)
    try:
        edition = load(asked, root, overlay=overlay, overlays=folder)
        record = edition.record(words[-1])
    except UnknownEdition as error:
        raise Refused([("EDITION", str(error))], NAME) from None
    except UnknownOverlay as error:
        raise Refused([("--overlay", str(error))], NAME) from None
    except UnknownRecord as error:
        kinds = f"kinds: {', '.join(edition.records)}"
        raise Refused([("KIND/ID", f"{error}; {kinds}")], NAME) from None
    except SpecFault as fault:
        raise DataFault(fault.faults) from None
    laid = f", overlay {edition.overlay}" if edition.overlay else ""
    encoding = getattr(sys.stdout, "encoding", None) or "utf-8"
    click.echo(f"# {record.path}, edition {edition.id} ({edition.status}){laid}")
    node = edition.raw[record.kind][record.id]
    text = yaml.safe_dump(node, allow_unicode=True, sort_keys=False, width=88)
    click.echo(spelled(text, encoding), nl=False)
