"""The sections that a member may have: how each is drawn, and what that leaves out."""

from __future__ import annotations

from collections.abc import Iterator

from upstand_site.context import Context
from upstand_site.markdown import Page, bullets
from upstand_site.pages.parts import statements


def write(context: Context) -> Iterator[Page]:
    """Write the one page of sections."""
    label = context.label
    page = Page(
        "sections.md", label("page.sections"), "lookup", about=label("about.sections"), terse=True
    )
    page.add(label("sections-lead"))
    for record in context.edition.kind("sections").values():
        page.heading(context.name(record.path), record.id)
        page.add(context.text(record, "outline"))
        if record.has("off"):
            page.add(statements(context, page, [record.get("off")]))
        inputs = record.get("inputs") or {}
        if inputs:
            page.add(bullets(context.said(given["name"]) for given in inputs.values()))
    yield page
