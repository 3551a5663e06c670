"""Every check: how it is looked at, what is good enough, who has to say so. A page a stage."""

from __future__ import annotations

from collections.abc import Iterator

from upstand.edition import Record
from upstand_site.context import CHECK_PAGES, Context
from upstand_site.markdown import Page


def write(context: Context) -> Iterator[Page]:
    """Write a page for each group of checks, each with the way to the others."""
    label = context.label
    pages = context.pages_of_checks
    for file, records in pages.items():
        stage, number = CHECK_PAGES[file]
        title = f"{label('page.checks')}: {label(f'stage.{stage}')}{number}"
        page = Page(file, title, "rules", about=label("about.checks"), terse=True)
        others = [
            f"[{label(f'stage.{other}')}{part}]({name})"
            for name, (other, part) in CHECK_PAGES.items()
            if name != file
        ]
        page.add(f"{label('checks-lead')} {label('see')} {', '.join(others)}")
        for record in records:
            _add(context, page, record)
        yield page


def _add(context: Context, page: Page, record: Record) -> None:
    label = context.label
    page.heading(context.name(record.path), record.id)
    page.add(context.text(record, "method"))
    page.add(f"**{label('good')}** {context.text(record, 'acceptance')}")
    if record.has("standard"):
        rule = record.get("standard")
        page.add(f"**{label('rule')}** {context.said(rule['says'])} {context.grade(page, rule)}")
    if record.has("whom"):
        page.add(label("in-doubt", whom=context.whom(str(record.get("whom")))))
