"""A page a primer: what it is for, how it is put on, its times at the temperatures of a day."""

from __future__ import annotations

from collections.abc import Iterator

from upstand.edition import Record
from upstand_site.context import Context
from upstand_site.markdown import Page, bullets
from upstand_site.pages.packs import packs_of
from upstand_site.pages.parts import (
    caution_summary,
    cautions_of,
    hazard_tokens,
    never_box,
    value_table,
)
from upstand_site.pages.times import times_by_temperature

FIELDS = (
    "mixing",
    "pot_life",
    "cure",
    "flash_off",
    "cover_within",
    "coverage",
    "coats",
    "application",
    "storage",
)


def write(context: Context) -> Iterator[Page]:
    """Write a page for every primer."""
    for record in context.edition.kind("primers").values():
        yield _page(context, record)


def _page(context: Context, record: Record) -> Page:
    label = context.label
    page = Page(f"primers/{record.id}.md", context.name(record.path), "primers", kind="primer")
    page.about = label("about.primer", name=record.text("name", context.lang))
    kind = label(f"cure-kind.{record.get('cure_kind')}")
    page.add(label("primer-lead", family=context.text(record, "family"), kind=kind))
    tokens = hazard_tokens(record) | {f"primer/{record.id}"}
    page.add(caution_summary(context, page, cautions_of(context, tokens)))
    page.heading(label("head.method"), "method").add(context.text(record, "method"))
    keeps = "keeps-open" if record.get("keeps_open") else "keeps-not"
    page.add(label(keeps))
    page.heading(label("head.numbers"), "numbers")
    page.add(value_table(context, context.rows(page, record, FIELDS)))
    page.add(*times_by_temperature(context, page, record))
    if record.has("never"):
        page.add(never_box(context, record))
    page.heading(label("head.neighbours"), "neighbours")
    page.add(bullets(context.texts(record, "neighbours")))
    used = [s.path for s in context.edition.kind("substrates").values() if _takes(s, record)]
    if used:
        page.heading(label("head.primer-for"), "for")
        page.add(bullets(context.link(page, path) for path in used))
    page.add(*packs_of(context, page, record))
    return page


def _takes(substrate: Record, primer: Record) -> bool:
    return bool(substrate.get("primer") == primer.path)
