"""The record of a film as a sheet to print: what was read where, by whom, and what it says."""

from __future__ import annotations

from jinja2 import Environment, PackageLoader, select_autoescape

from upstand.document.brief_doors import write_film_brief
from upstand.document.film import write
from upstand.film import Film
from upstand.quantity.shown import Speech
from upstand.quantity.units import System
from upstand.words.fill import Words

__all__ = ["film_record"]

#: What the sheet is labelled by, the lines that only a person can fill first.
BLANKS = ("detail", "day", "who", "gauge")
LABELS = ("title", *BLANKS, "layer", "least", "pack", "where", "reading", "again")
#: Rows to write readings into that were not given.
EMPTY_ROWS = 6


def film_record(found: Film, lang: str | None = None, units: System | None = None) -> str:
    """Write the record for paper, with lines for what only a person knows."""
    lang, units = lang or found.query.lang, units or found.query.units or "us"
    words = Words(lang, Speech(units, no_break=True))
    document = write(found, lang, units, no_break=True)
    packs = {id: words.name(record) for id, record in found.edition.kind("packs").items()}
    verdict, *rows = write_film_brief(document, packs)
    readings = [words.speech.text(reading) for reading in found.query.readings]
    needed = document["readings_needed"] or 0
    empty = 0 if found.query.packs else max(needed - len(readings), EMPTY_ROWS)
    pages = Environment(
        loader=PackageLoader("upstand_api"),
        autoescape=select_autoescape(),
        trim_blocks=True,
        lstrip_blocks=True,
    )
    return pages.get_template("film_record.html").render(
        document=document,
        verdict=verdict,
        rows=rows,
        readings=readings,
        empty=empty,
        packs=[(count, packs[id]) for id, count in found.query.packs],
        say=words.say,
        blanks=BLANKS,
        labels={name: words.say(f"record-{name}") for name in LABELS},
        lang=lang,
    )
