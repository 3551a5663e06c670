"""One module a kind of page. Each has `write(context)`, which yields the pages it makes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from upstand_site.context import Context
from upstand_site.markdown import Page
from upstand_site.pages import (
    cautions,
    checks,
    clock,
    cuts,
    days_ahead,
    details,
    grades,
    hand_written,
    indexes,
    limits,
    numbers,
    packs,
    primers,
    reckon,
    resins,
    sections,
    sources,
    substrates,
    terms,
    tools,
    troubles,
    weather,
    which_primer,
)

KINDS = (
    hand_written,
    details,
    numbers,
    cuts,
    substrates,
    primers,
    resins,
    indexes,
    which_primer,
    limits,
    troubles,
    cautions,
    checks,
    days_ahead,
    weather,
    clock,
    reckon,
    tools,
    packs,
    sections,
    terms,
    sources,
    grades,
)


def write_pages(context: Context) -> list[Page]:
    """Write every page of one language, in the order of the menu."""
    pages: list[Page] = []
    for kind in KINDS:
        pages += _checked(kind.write(context))
    return pages


def _checked(pages: Iterable[Page]) -> Iterator[Page]:
    for page in pages:
        if not page.blocks:
            raise ValueError(f"{page.path} is empty")
        yield page
