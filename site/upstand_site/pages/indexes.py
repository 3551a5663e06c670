"""The list that opens each part of the handbook: details, surfaces, primers, resins."""

from __future__ import annotations

from collections.abc import Iterator

from upstand.edition import Record
from upstand_site.context import Context
from upstand_site.markdown import Page, bullets, wrapped


def write(context: Context) -> Iterator[Page]:
    """Write one list a kind that has a page a record."""
    for kind in ("details", "substrates", "primers", "resins"):
        yield _page(context, kind)


def _page(context: Context, kind: str) -> Page:
    label = context.label
    page = Page(f"{kind}/index.md", label(f"page.{kind}"), kind, about=label(f"about.{kind}"))
    page.add(label(f"{kind}-lead"))
    records = list(context.edition.kind(kind).values())
    if kind == "substrates":
        families = list(dict.fromkeys(str(r.get("family")) for r in records))
        for family in families:
            name = label(f"family.{family}")
            page.heading(name[:1].upper() + name[1:], family)
            page.add(record_list(context, page, [r for r in records if r.get("family") == family]))
    else:
        page.add(record_list(context, page, records))
    return page


def record_list(context: Context, page: Page, records: list[Record]) -> str:
    """Return big links, one a record, with a line on each where it has one."""
    items = []
    for record in records:
        item = context.link(page, record.path)
        if record.has("what"):
            item += f"<br>{context.text(record, 'what')}"
        if record.kind == "details" and record.has("right_when"):
            right = " ".join(context.texts(record, "right_when"))
            item += f"<br>**{context.label('right-when')}** {right}"
        items.append(item)
    return wrapped("cards", bullets(items))


def row_of_links(context: Context, page: Page, records: list[Record]) -> str:
    """Return the names alone, side by side, each a link that a glove hits."""
    return wrapped("row-links", bullets(context.link(page, record.path) for record in records))
