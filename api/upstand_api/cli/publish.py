"""`upstand publish`: freeze the edited data as an edition, or withdraw one."""

from __future__ import annotations

import click

from upstand_api.cli.ending import DataFault, Refused
from upstand_api.cli.spec_folder import find_folder, spec_option

NAME = "publish"


@click.command(NAME)
@click.argument("edition")
@click.option("--date", metavar="YYYY-MM-DD", help="The day that it is published or withdrawn on.")
@click.option("--note-en", metavar="TEXT", help="One sentence on what it is, or why withdrawn.")
@click.option("--note-es", metavar="TEXT", help="The same sentence in Spanish.")
@click.option("--withdraw", is_flag=True, help="Withdraw it: it still answers, with a warning.")
@spec_option
def command(
    edition: str,
    date: str | None,
    note_en: str | None,
    note_es: str | None,
    withdraw: bool,
    spec: str | None,
) -> None:
    """Freeze the data being edited as EDITION, such as 2026.1.

    The data must pass `upstand check`. An edition is never edited afterwards: a mistake makes a new
    one, and the old one is withdrawn with a note that says why.
    """
    from upstand.edition import SpecFault, UnknownEdition
    from upstand.edition.dates import is_date
    from upstand.edition.index import EDITION_ID
    from upstand.edition.load import packaged
    from upstand.edition.publishing.publish import publish
    from upstand.edition.publishing.publish import withdraw as take_back
    from upstand_api.cli.newest import texts_that_name

    wrong = []
    if not EDITION_ID.fullmatch(edition):
        wrong.append(("EDITION", f"{edition} is not <year>.<number>: write it as 2026.1"))
    if date is None or not is_date(date):
        given = "is missing" if date is None else f"{date} is not a day"
        wrong.append(("--date", f"{given}: write it as --date 2026-11-24"))
    if withdraw and not (note_en and note_es):
        wrong.append(("--note-en and --note-es", "are missing: say why it is withdrawn, in both"))
    elif bool(note_en) != bool(note_es):
        wrong.append(("--note-en and --note-es", "go together: say it in both languages"))
    if wrong or date is None:
        raise Refused(wrong, NAME)
    root = find_folder(spec, NAME)
    if root.resolve() == packaged():
        where = "is the installed package's own: work in a checkout, or give --spec FOLDER"
        raise Refused([("--spec", f"{root} {where}")], NAME)
    note = {"en": note_en or f"Edition {edition}.", "es": note_es or f"Edición {edition}."}
    try:
        if withdraw:
            take_back(root, edition, date=date, note=note)
            click.echo(f"{edition} is withdrawn: it still answers, with a warning")
            return
        checkout = root.resolve().parent
        others = texts_that_name(checkout if root.resolve().name == "specdata" else root)
        file = publish(root, edition, date=date, note=note, others=others)
    except UnknownEdition as error:
        raise Refused([("EDITION", f"{error}")], NAME) from None
    except SpecFault as fault:
        if all(one.rule == "publish" for one in fault.faults):  # about what was asked, not the data
            told = [("EDITION", f"{one.file} {one.why}: {one.cure}") for one in fault.faults]
            raise Refused(told, NAME) from None
        raise DataFault(fault.faults) from None
    click.echo(f"{edition} is published: {file}")
