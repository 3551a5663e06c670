"""The words of the trade, what they mean here, and what else they are called."""

from __future__ import annotations

from collections.abc import Iterator
from unicodedata import normalize

from upstand.edition import Record
from upstand_site.context import PAGES, Context
from upstand_site.markdown import Page, prose


def write(context: Context) -> Iterator[Page]:
    """Write the one page of words, in the order of the alphabet."""
    label = context.label
    page = Page("terms.md", label("page.terms"), "lookup", about=label("about.terms"), terse=True)
    page.add(label("terms-lead"))
    records = sorted(context.edition.kind("terms").values(), key=lambda r: _order(context, r))
    for record in records:
        page.heading(context.name(record.path), record.id)
        page.add(context.text(record, "means"))
        said = ", ".join(prose(word) for word in record.get("said")[context.lang])
        if said:
            page.add(f"**{label('also-said')}** {said}")
        path = str(record.get("of", ""))
        if path.partition("/")[0] in PAGES and context.edition.has(path):
            page.add(f"{label('see')} {context.link(page, path)}")
    yield page


def _order(context: Context, record: Record) -> str:
    return normalize("NFKD", record.text("name", context.lang)).casefold()
