"""The words of the trade, what they mean here, and what else they are called: three pages."""

from __future__ import annotations

from collections.abc import Iterator

from upstand.edition import Record
from upstand_site.context import PAGES, Context
from upstand_site.markdown import Page, prose


def write(context: Context) -> Iterator[Page]:
    """Write the pages of words, in the order of the alphabet, each naming its neighbors."""
    label = context.label
    pages = context.pages_of_terms
    for file, records in pages.items():
        first, last = (_letter(context, records[n]) for n in (0, -1))
        title = f"{label('page.terms')}, {first} – {last}"
        page = Page(file, title, "lookup", about=label("about.terms"), terse=True)
        others = [
            f"[{_letter(context, held[0])} – {_letter(context, held[-1])}]({other})"
            for other, held in pages.items()
            if other != file
        ]
        page.add(f"{label('terms-lead')} {label('see')} {', '.join(others)}")
        for record in records:
            _add(context, page, record)
        yield page


def _add(context: Context, page: Page, record: Record) -> None:
    label = context.label
    page.heading(context.name(record.path), record.id)
    parts = [context.text(record, "means")]
    said = ", ".join(prose(word) for word in record.get("said")[context.lang])
    if said:
        parts.append(f"**{label('also-said')}** {said}.")
    path = str(record.get("of", ""))
    if path.partition("/")[0] in PAGES and context.edition.has(path):
        parts.append(f"{label('see')} {context.link(page, path)}")
    page.add(" ".join(parts))


def _letter(context: Context, record: Record) -> str:
    return record.text("name", context.lang)[:1].upper()
