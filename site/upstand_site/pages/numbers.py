"""What stands behind a detail's page: its rules, the sum, every value with its grade, sources."""

from __future__ import annotations

from collections.abc import Iterator

from upstand.edition import Record
from upstand_site.context import Context
from upstand_site.examples import sizes_of
from upstand_site.markdown import Page, bullets, table
from upstand_site.pages.order import example_words
from upstand_site.pages.parts import statements, value_name
from upstand_site.pages.sizes import worked


def write(context: Context) -> Iterator[Page]:
    """Write a page for every detail."""
    for record in context.edition.kind("details").values():
        yield _page(context, record)


def _page(context: Context, record: Record) -> Page:
    label, name = context.label, context.name(record.path)
    title = label("page.numbers", name=name)
    page = Page(f"details/{record.id}-numbers.md", title, "hidden")
    page.about = label("about.numbers", name=record.text("name", context.lang))
    example = sizes_of(context, record)[0].example
    page.add(
        f"[{name}]({record.id}.md). {label('worked-lead', example=example_words(context, example))}"
    )
    if record.get("dimensions"):
        page.heading(label("head.dimensions"), "dimensions")
        page.add(statements(context, page, record.get("dimensions")))
    page.add(*worked(context, example))
    values = list(example.values())
    if values:
        page.heading(label("head.values"), "values").add(label("behind-lead"))
        rows = [
            [
                value_name(context, value.where),
                f"**{context.amount(value)}** {context.grade(page, value)}",
            ]
            for value in values
        ]
        page.add(table([label("head.what"), label("head.value")], rows, "narrow"))
    sources = example.document["sources"]
    if sources:
        page.heading(label("head.sources"), "sources").add(label("sources-here"))
        page.add(bullets(context.link(page, f"sources/{s['id']}") for s in sources))
    return page
