"""Pages that carry their numbers in both systems of units: US as they open, SI by choice.

Every page is written twice, once a system, and laid over itself: what is the same stands once,
what differs stands twice, each in an element of its class. Without scripts the US one is seen.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from difflib import SequenceMatcher

from upstand_site.markdown import Page

UNITS = ("us", "si")
"""Systems of units, the one that is seen first."""

_MARKUP = re.compile(r"(<[^>]+>|\*\*|\|)")
_WORDS = re.compile(r" +|[^ ]+")
_LEAD = re.compile(r"^(\s*(?:[-*]   |\d+\.  |#+ )?)(.*)$", re.S)


class UnitsFault(ValueError):
    """A page that is another page in other units: it can't be laid over itself."""


def lay_over(us: Sequence[Page], si: Sequence[Page]) -> list[Page]:
    """Return the pages with both systems in them, in the order they came."""
    if [page.path for page in us] != [page.path for page in si]:
        raise UnitsFault("other units, other pages")
    return [_page(first, second) for first, second in zip(us, si, strict=True)]


def _page(us: Page, si: Page) -> Page:
    if len(us.blocks) != len(si.blocks):
        raise UnitsFault(f"{us.path}: {len(us.blocks)} blocks, and {len(si.blocks)} in SI")
    blocks = [_block(us.path, a, b) for a, b in zip(us.blocks, si.blocks, strict=True)]
    return replace(us, blocks=blocks)


def _block(path: str, us: str, si: str) -> str:
    if us == si:
        return us
    if us.startswith(('<div class="figures">', '<ul class="key">')):
        return f'<div class="us">{us}</div>\n\n<div class="si">{si}</div>'
    first, second = us.split("\n"), si.split("\n")
    if len(first) != len(second):
        raise UnitsFault(f"{path}: a block has other lines in SI: {us[:120]!r}")
    return "\n".join(_line(path, a, b) for a, b in zip(first, second, strict=True))


def _line(path: str, us: str, si: str) -> str:
    """Lay a line over itself, word by word; whole, cell by cell, where its markup differs too."""
    if us == si:
        return us
    first, second = _MARKUP.split(us), _MARKUP.split(si)
    if first[1::2] == second[1::2]:
        return "".join(_words(a, b) for a, b in zip(first, second, strict=True))
    if "|" in us:
        cells, others = us.split("|"), si.split("|")
        if len(cells) != len(others):
            raise UnitsFault(f"{path}: a row has other cells in SI: {us[:200]!r}")
        return "|".join(_line(path, a, b) for a, b in zip(cells, others, strict=True))
    lead, one = _LEAD.match(us).groups()  # type: ignore[union-attr]
    other, two = _LEAD.match(si).groups()  # type: ignore[union-attr]
    if lead != other:
        raise UnitsFault(f"{path}: a line is another in SI: {us[:200]!r} {si[:200]!r}")
    return lead + twice(one, two)


def _words(us: str, si: str) -> str:
    """Lay a text without markup over itself."""
    if us == si:
        return us
    first, second = _WORDS.findall(us), _WORDS.findall(si)
    matcher = SequenceMatcher(None, first, second, autojunk=False)
    said = []
    for what, a, b, c, d in matcher.get_opcodes():
        one, two = "".join(first[a:b]), "".join(second[c:d])
        said.append(one if what == "equal" else twice(one, two))
    return "".join(said)


def twice(us: str, si: str) -> str:
    """Return a text in both systems."""
    return f"<span class=us>{us}</span><span class=si>{si}</span>"
