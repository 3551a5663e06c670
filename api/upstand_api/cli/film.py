"""`upstand film`: was enough put on, and a record of it to print."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import click

from upstand_api.cli.asking import (
    echo_json,
    language,
    load_edition,
    read_base,
    read_query,
    service_options,
)
from upstand_api.cli.ending import Refused

NAME = "film"
OPTIONS = {
    "/layer": "LAYER",
    "/readings": "READINGS",
    "/packs_used": "--pack",
    "/area": "--area",
    "/left": "--left",
    "/resin": "--resin",
    "/planes": "--planes",
    "/gauge/step": "--step",
    "/units": "--units",
    "/lang": "--lang",
}
_READING = re.compile(r"(\d+(?:\.\d+)?)\s*([a-zµ]+)?", re.ASCII | re.IGNORECASE)


@click.command(NAME)
@click.argument("words", nargs=-1, metavar="[base|top|total] [READINGS]")
@click.option("--area", metavar="AREA", help='The area it lies on, such as "1.73 sq ft".')
@click.option("--pack", "packs", multiple=True, metavar="ID=N", help="Packs used. Again for more.")
@click.option("--left", metavar="VOLUME", help="What is left of the packs used.")
@click.option("--resin", metavar="ID", help="The resin; the edition's if left out.")
@click.option("--planes", type=click.IntRange(1, 100), metavar="N", help="Planes that were read.")
@click.option("--step", metavar="FILM", help="From each tooth of the gauge to the next.")
@click.option("--record", metavar="FILE", help="Also write the record of it as HTML, to print.")
@service_options
def command(
    words: tuple[str, ...],
    packs: tuple[str, ...],
    step: str | None,
    record: str | None,
    source: str | None,
    spec: str | None,
    as_json: bool,
    **options: Any,
) -> None:
    """Judge a layer by readings of a wet-film gauge, or by the packs that went into it.

    A unit that stands once, behind the last reading, is that of all.

    \b
    upstand film base 40 45 40 45 40 45 mil --area "1.73 sq ft"
    upstand film base --pack pu-2k-1-qt=1 --left "4 fl oz" --area "4 sq ft"
    """
    from upstand.document.brief_doors import write_film_brief
    from upstand.document.film import write
    from upstand.film import film
    from upstand.query.film import read_film
    from upstand_api.cli.door_page import echo_page

    body = _body(read_base(source, NAME), words, packs, step, options)
    edition = load_edition(body, spec, NAME)
    found = film(read_query(read_film, body, edition, NAME, OPTIONS), edition)
    if record is not None:
        from upstand_api.pages.film_record import film_record

        try:
            Path(record).write_text(film_record(found), encoding="utf-8")
        except OSError as error:
            wrong = f"can't be written: {error.strerror or error}"
            raise Refused([(f"--record {record}", wrong)], NAME) from None
        click.echo(record, err=True)
    if as_json:
        echo_json(write(found))
        return
    document = write(found, no_break=True)
    names = {id: r.text("name", language(body)) for id, r in edition.kind("packs").items()}
    echo_page(document, write_film_brief(document, names), edition)


def _body(
    base: Mapping[str, Any],
    words: Sequence[str],
    packs: Sequence[str],
    step: str | None,
    options: Mapping[str, Any],
) -> dict[str, Any]:
    """Lay what was typed over a base."""
    body = dict(base)
    rest = list(words)
    if rest and not rest[0][:1].isdigit():
        body["layer"] = rest.pop(0).lower()
    if rest:
        body["readings"] = readings(" ".join(rest))
    if packs:
        body["packs_used"] = [_pack(text) for text in packs]
    if step is not None:
        body["gauge"] = {"step": step}
    body |= {name: value for name, value in options.items() if value is not None}
    return body


def readings(text: str) -> list[str]:
    """Read readings as typed: a unit that stands once serves those before it.

    >>> readings("40 45, 50 mil"), readings("1000 um 40mil"), readings("40 x45")
    (['40 mil', '45 mil', '50 mil'], ['1000 um', '40 mil'], ['40', 'x45'])
    """
    found: list[tuple[str, str]] = []
    for part in re.split(r"[\s,;]+", text.strip()):
        read = _READING.fullmatch(part)
        if read is None and part.isalpha() and found and not found[-1][1]:
            found[-1] = (found[-1][0], part)
        elif read is None:
            found.append((part, "?"))
        else:
            found.append((read[1], read[2] or ""))
    unit = ""
    told = []
    for number, own in reversed(found):
        unit = own if own not in ("", "?") else unit
        told.append(number if own == "?" else f"{number} {unit}".strip())
    return told[::-1]


def _pack(text: str) -> dict[str, Any]:
    pack, sign, count = text.partition("=")
    if sign and not (count.isascii() and count.isdecimal() and len(count) < 6):
        raise Refused([(f"--pack {text[:60]}", "is no count: write it as pu-2k-1-qt=2")], NAME)
    return {"pack": pack, "count": int(count)} if sign else {"pack": pack}
