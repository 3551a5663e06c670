"""`upstand check`: what is wrong with the spec data, and how well its values are known."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from upstand_api.cli.ending import Refused, printable
from upstand_api.cli.spec_folder import find_folder, find_overlay, spec_option

if TYPE_CHECKING:
    from upstand.edition import Fault

NAME = "check"


@click.command(NAME)
@spec_option
@click.option("--overlay", metavar="ID|FILE", help="Also lay this overlay over its edition.")
@click.option("--date", metavar="YYYY-MM-DD", help="Today: nothing can be checked later.")
@click.pass_context
def command(ctx: click.Context, spec: str | None, overlay: str | None, date: str | None) -> None:
    """Check the spec data against every rule; exit status 1 where there are faults.

    Prints each fault with its file, path, value, rule and cure, then how many values of each kind
    have which grade: how much of the data has been read in a source, and how much is our own.
    """
    from upstand.edition.check import check
    from upstand.edition.dates import is_date

    root = find_folder(spec, NAME)
    wrong = []
    if date is not None and not is_date(date):
        wrong.append(("--date", f"{date} is not a day: write it as 2026-11-24"))
    laid = None
    if overlay is not None:
        try:
            laid = find_overlay(overlay)
        except FileNotFoundError:
            wrong.append(("--overlay", f"{overlay} is not there: give an overlay's .yaml"))
    if wrong:
        raise Refused(wrong, NAME)
    report = check(root, date=date)
    faults = list(report.faults)
    if laid is not None:
        faults += _lay(*laid, root)
    _show_faults(faults)
    click.echo()
    _show_counts(report.counts)
    if faults:
        ctx.exit(1)


def _lay(overlay: str, folder: Path | None, root: Path) -> Sequence[Fault]:
    """Lay an overlay over the edition that it extends: its faults, and what it loosens."""
    from upstand.edition import SpecFault, UnknownOverlay, load

    try:
        laid = load(root=root, overlay=overlay, overlays=folder)
    except SpecFault as fault:
        return fault.faults
    except UnknownOverlay as error:
        said = "give the path of its .yaml file, named with a-z, 0-9 and -"
        raise Refused([("--overlay", f"{error}; {said}")], NAME) from None
    click.echo(f"overlay {overlay} fits edition {laid.id}: {len(laid.overlaid)} places set")
    for loosened in laid.loosened:
        click.echo(
            printable(
                f"  loosens {loosened['path']}: {loosened['from']} -> {loosened['to']} "
                f"({loosened['reason']['en']})"
            )
        )
    return ()


def _show_faults(faults: Sequence[Fault]) -> None:
    if not faults:
        click.echo("no faults")
        return
    click.echo("1 fault" if len(faults) == 1 else f"{len(faults)} faults")
    last = None
    for fault in sorted(faults, key=lambda f: (f.file, f.path)):
        if fault.file != last:
            click.echo(f"\n{printable(fault.file)}")
            last = fault.file
        found = f" (found {fault.value})" if fault.value else ""
        place = f"{fault.path}: " if fault.path else ""
        click.echo(printable(f"  {place}{fault.why}{found} [{fault.rule}]"))
        click.echo(printable(f"      -> {fault.cure}"))


def _show_counts(counts: Mapping[str, Mapping[str, int]]) -> None:
    """Print a table: a row for each kind that has values, a column for each grade."""
    from upstand.edition.schema.values import GRADES

    rows = {kind: held for kind, held in counts.items() if any(held.values())}
    total = {grade: sum(held.get(grade, 0) for held in rows.values()) for grade in GRADES}
    wide = max([len(kind) for kind in rows] + [5])
    click.echo(f"{'':{wide}}  " + "  ".join(GRADES))
    for kind, held in [*rows.items(), ("total", total)]:
        cells = "  ".join(f"{held.get(grade, 0):>{len(grade)}}" for grade in GRADES)
        click.echo(f"{kind:{wide}}  {cells}")
