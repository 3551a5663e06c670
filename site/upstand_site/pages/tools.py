"""Every tool and material to hand, by sort: what it is for."""

from __future__ import annotations

from collections.abc import Iterator

from upstand_site.context import Context
from upstand_site.markdown import Page

SORTS = ("protective", "gauge", "tool", "abrasive", "cleaner", "consumable")


def write(context: Context) -> Iterator[Page]:
    """Write the one page of tools."""
    label = context.label
    page = Page("tools.md", label("page.tools"), "lookup", about=label("about.tools"), terse=True)
    page.add(label("tools-lead"))
    for sort in SORTS:
        records = [r for r in context.edition.kind("tools").values() if r.get("sort") == sort]
        if not records:
            continue
        page.heading(label(f"sort.{sort}"), f"sort-{sort}")
        for record in records:
            page.heading(context.name(record.path), record.id, 3)
            page.add(context.text(record, "use"))
    yield page
