"""`upstand cutlist`: pieces on rolls, cut from edge to edge."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import click

from upstand_api.cli.asking import (
    echo_json,
    load_edition,
    read_base,
    read_query,
    service_options,
)
from upstand_api.cli.ending import Refused

NAME = "cutlist"
OPTIONS = {
    "/pieces": "PIECE",
    "/roll": "--roll",
    "/rolls": "--roll",
    "/units": "--units",
    "/lang": "--lang",
}
_UNIT = r"(?:in|ft|mm|cm|m|\"|')"
_SIZES = re.compile(
    rf"(?P<width>[\d ./-]+?)\s*(?P<own>{_UNIT})?\s*[x×]\s*"
    rf"(?P<length>[\d ./-]+?)\s*(?P<unit>{_UNIT})",
    re.IGNORECASE,
)


@click.command(NAME)
@click.argument("pieces", nargs=-1, metavar="[PIECE ...]")
@click.option(
    "--roll", "rolls", multiple=True, metavar="SIZE", help='A roll: "20 in", or "20 in x 50 ft".'
)
@click.option("--draw", metavar="FILE", help="Also write the plan as SVG.")
@service_options
def command(
    pieces: tuple[str, ...],
    rolls: tuple[str, ...],
    draw: str | None,
    source: str | None,
    spec: str | None,
    as_json: bool,
    **options: Any,
) -> None:
    """Nest pieces on rolls: every cut goes from edge to edge.

    PIECE is a count, a name and a size: "4 E 4x4 in". The count may be left out.

    \b
    upstand cutlist "2 C 12x7 in" "D 10 x 17 1/4 in" "4 E 4x4 in" --roll "20 in x 50 ft"
    """
    from upstand.cutlist import cut_list
    from upstand.document.brief_doors import write_cutting_brief
    from upstand.document.cutlist import write
    from upstand.query.cutlist import read_cut_list
    from upstand_api.cli.door_page import echo_page

    body = read_base(source, NAME) | {k: v for k, v in options.items() if v is not None}
    if pieces:
        body["pieces"] = _each(pieces, "PIECE", read_piece)
    if rolls:
        body["rolls"] = _each(rolls, "--roll", read_roll)
    edition = load_edition(body, spec, NAME)
    found = cut_list(read_query(read_cut_list, body, edition, NAME, OPTIONS), edition)
    if draw is not None:
        _draw(found, draw)
    if as_json:
        echo_json(write(found))
        return
    document = write(found, no_break=True)
    echo_page(document, write_cutting_brief(document), edition)


def _each(texts: Sequence[str], option: str, read: Any) -> list[Mapping[str, Any]]:
    made, faults = [], []
    for text in texts:
        try:
            made.append(read(text))
        except ValueError as fault:
            faults.append((f'{option} "{text[:60]}"', str(fault)))
    if faults:
        raise Refused(faults, NAME)
    return made


def read_piece(text: str) -> dict[str, Any]:
    """Read a piece as typed; ValueError says how it is written.

    >>> read_piece("2 C 12x7 in")
    {'id': 'C', 'width': '12 in', 'length': '7 in', 'count': 2}
    """
    words = text.split()
    count = int(words.pop(0)) if len(words) > 2 and re.fullmatch(r"\d{1,4}", words[0]) else None
    sizes = _sizes(" ".join(words[1:]))
    if sizes is None or words[0][:1].isdigit():
        raise ValueError('is no piece: write a count, a name and a size, as "4 E1 4x4 in"')
    piece = {"id": words[0], "width": sizes[0], "length": sizes[1]}
    return piece if count is None else {**piece, "count": count}


def read_roll(text: str) -> dict[str, Any]:
    """Read a roll as typed: its width, or width and length.

    >>> read_roll("20 in"), read_roll("20 in x 50 ft")
    ({'width': '20 in'}, {'width': '20 in', 'length': '50 ft'})
    """
    sizes = _sizes(text)
    return {"width": text} if sizes is None else {"width": sizes[0], "length": sizes[1]}


def _sizes(text: str) -> tuple[str, str] | None:
    found = _SIZES.fullmatch(text.strip())
    if found is None:
        return None
    own = found["own"] or found["unit"]
    return f"{found['width'].strip()} {own}", f"{found['length'].strip()} {found['unit']}"


def _draw(found: Any, draw: str) -> None:
    from upstand.drawing.cutting import draw_cutting
    from upstand.quantity.shown import Speech
    from upstand.words.fill import Words

    words = Words(found.query.lang, Speech(found.query.units or "us"))
    try:
        Path(draw).write_text(draw_cutting(found.plan, words), encoding="utf-8")
    except OSError as error:
        wrong = f"can't be written: {error.strerror or error}"
        raise Refused([(f"--draw {draw}", wrong)], NAME) from None
    click.echo(draw, err=True)
