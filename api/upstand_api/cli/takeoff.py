"""`upstand takeoff`: a list of details, and what to order, cut and plan for all of them."""

from __future__ import annotations

import csv
import json
import sys
from codecs import BOM_UTF8
from collections.abc import Mapping, Sequence
from io import StringIO
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from upstand_api.cli.asking import load_edition, read_content, read_json
from upstand_api.cli.ending import Refused
from upstand_api.cli.spec_folder import spec_option

if TYPE_CHECKING:
    from upstand.edition import Edition
    from upstand.query.takeoff import TakeOffQuery
    from upstand.takeoff import TakeOff

NAME = "takeoff"
SIZE_LIMIT = 1024 * 1024
"""Bytes of a list that are read."""
SHARED = ("roof", "resin", "fleece", "units", "lang")

Faults = list[tuple[str, str]]


@click.command(NAME)
@click.argument("source", required=False, metavar="LIST.csv|LIST.json|-")
@click.option("--template", "kind", metavar="DETAIL", help="Print an empty list for one kind.")
@click.option("--roof", metavar="ID", help="Roof of the details that name none.")
@click.option("--resin", metavar="ID", help="Resin of the details that name none.")
@click.option("--fleece", metavar="ID", help="Fleece of the details that name none.")
@click.option("--crew", type=click.IntRange(1, 99), metavar="N", help="Workers.")
@click.option("--stock", multiple=True, metavar="PACK=N", help="Packs that are there. Again.")
@click.option("--units", metavar="us|si", help="Units of the answer.")
@click.option("--lang", metavar="en|es", help="Language of the answer.")
@click.option("--edition", "edition_id", metavar="ID", help="Edition; the newest if left out.")
@click.option("--overlay", metavar="ID|FILE", help="A contractor's product sheets over it.")
@spec_option
@click.option("--json", "as_json", is_flag=True, help="Print the whole document as JSON.")
@click.option(
    "--csv",
    "table",
    is_flag=False,
    flag_value="details",
    type=click.Choice(["details", "order"]),
    help="Print a table for a spreadsheet: each detail's share, or the order.",
)
@click.option("--html", "sheet", metavar="FILE", help="Write the order sheet, to print.")
def command(
    source: str | None,
    kind: str | None,
    stock: tuple[str, ...],
    edition_id: str | None,
    overlay: str | None,
    spec: str | None,
    as_json: bool,
    table: str | None,
    sheet: str | None,
    **shared: Any,
) -> None:
    """Add up what many details need: packs to buy, each one's share, the work, the cutting plan.

    One detail a row; a column for each input, named as its option of `upstand need`.

    \b
    upstand takeoff --template curb > list.csv
    upstand takeoff list.csv --roof tpo --stock pu-2k-1-qt=4 --html order.html
    """
    given = {name: value for name, value in shared.items() if value is not None}
    body, content, faults = _read(source, kind)
    held = _stock(stock, faults)
    if held:
        given["stock"] = held
    ids = {"edition": edition_id or body.get("edition"), "overlay": overlay or body.get("overlay")}
    edition = load_edition(ids, spec, NAME, faults)
    if kind is not None:
        _template(kind, edition, faults)
        return
    found = _taken_off(body, content, given, edition, faults, source or "")
    if sheet is not None:
        _sheet(found, sheet)
    if as_json:
        from upstand.document.takeoff import write

        click.echo(json.dumps(write(found), ensure_ascii=False, indent=2, allow_nan=False))
    elif table is not None:
        from upstand.document.takeoff_table import write_details, write_order

        click.echo((write_details if table == "details" else write_order)(found), nl=False)
    elif sheet is None:
        from upstand_api.cli.paper import Screen
        from upstand_api.cli.takeoff_page import page

        screen = Screen.here(sys.stdout)
        click.echo(page(found, screen), nl=False, color=screen.colour)


def _read(source: str | None, kind: str | None) -> tuple[Mapping[str, Any], bytes | None, Faults]:
    """Return the list as a body of JSON, or as the bytes of a table, and what is wrong with it."""
    if source is None:
        if kind is None:
            say = "is missing: give a .csv or .json file, or - for standard input"
            raise Refused([("LIST", say)], NAME)
        return {}, None, []
    content = read_content(source, source, NAME, ": send it in parts", SIZE_LIMIT)
    if not (source.lower().endswith(".json") or content.lstrip()[:1] in (b"{", b"[")):
        return {}, content, []
    body = read_json(content, source, NAME)
    if isinstance(body, list):
        return {"details": body}, None, []
    if not isinstance(body, Mapping):
        raise Refused([(source, 'is no list: write {"details": […]}')], NAME)
    return body, None, []


def _stock(given: Sequence[str], faults: Faults) -> list[dict[str, Any]]:
    found = []
    for text in given:
        pack, _, count = text.partition("=")
        if not (count.isascii() and count.isdecimal() and len(count) < 6):
            faults.append((f"--stock {text[:60]}", "is no count: write it as pu-2k-1-qt=4"))
        else:
            found.append({"pack": pack, "count": int(count)})
    return found


def _template(kind: str, edition: Edition, faults: Faults) -> None:
    from upstand.query.detail_columns import template
    from upstand.query.faults import nearest

    known = edition.kind("details")
    if kind not in known:
        faults.append(("--template", f"“{kind[:40]}” is no known detail: {nearest(kind, known)}"))
    if faults:
        raise Refused(faults, NAME)
    held = StringIO(newline="")
    csv.writer(held).writerows(template(kind, edition))
    click.echo(BOM_UTF8 + held.getvalue().encode("utf-8"), nl=False)


def _taken_off(
    body: Mapping[str, Any],
    content: bytes | None,
    given: Mapping[str, Any],
    edition: Edition,
    faults: Faults,
    source: str,
) -> TakeOff:
    from upstand import LANGUAGES
    from upstand.query import QueryFaults
    from upstand.query.detail_table import TableFaults, read_take_off_table
    from upstand.query.takeoff import read_take_off
    from upstand.takeoff import take_off_all
    from upstand.telling.said import tell

    asked_in = given.get("lang", body.get("lang"))
    lang = str(asked_in) if asked_in in LANGUAGES else LANGUAGES[0]
    query: TakeOffQuery | None = None
    try:
        if content is not None:
            query = read_take_off_table(content, given, edition)
        else:
            query = read_take_off({**body, **given}, edition)
    except TableFaults as error:
        for cell in error.faults:
            where = ", ".join(filter(None, (source, cell.where())))
            faults.append((where, tell(cell.detail, lang)))
    except QueryFaults as error:
        faults += [(f.pointer or source, tell(f.detail, lang)) for f in error.faults]
    if query is None or faults:
        raise Refused(faults, NAME)
    return take_off_all(query, edition)


def _sheet(found: TakeOff, sheet: str) -> None:
    from upstand_api.pages.order_sheet import order_sheet

    try:
        Path(sheet).write_text(order_sheet(found), encoding="utf-8")
    except OSError as error:
        wrong = f"can't be written: {error.strerror or error}"
        raise Refused([(f"--html {sheet}", wrong)], NAME) from None
    click.echo(sheet, err=True)
