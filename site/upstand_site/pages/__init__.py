"""One module a kind of page. Each has `write(context)`, which yields the pages it makes."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from posixpath import dirname, join, normpath

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

_LISTED = re.compile(r"\s*-\s+\[[^\]]*\]\(([^)#:]+\.md)")

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
    there = {page.path for page in pages}
    for page in pages:
        page.blocks = [_without_dead_ends(block, page.path, there) for block in page.blocks]
    return pages


def _without_dead_ends(block: str, path: str, there: set[str]) -> str:
    """Drop list lines that lead to a page for which an older edition has no records."""

    def leads(line: str) -> bool:
        found = _LISTED.match(line)
        return found is None or normpath(join(dirname(path), found[1])) in there

    return "\n".join(line for line in block.split("\n") if leads(line))


def _checked(pages: Iterable[Page]) -> Iterator[Page]:
    for page in pages:
        if not page.blocks:
            raise ValueError(f"{page.path} is empty")
        yield page
