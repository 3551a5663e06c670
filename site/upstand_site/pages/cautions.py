"""Every caution in full, with the published rules behind it and their grade."""

from __future__ import annotations

from collections.abc import Iterator

from upstand.edition import Record
from upstand.procedure.cautions import SEVERITIES
from upstand_site.context import Context
from upstand_site.markdown import Page, box
from upstand_site.pages.parts import statements


def write(context: Context) -> Iterator[Page]:
    """Write the one page of cautions, the gravest first."""
    label = context.label
    page = Page(
        "cautions.md", label("page.cautions"), "rules", about=label("about.cautions"), terse=True
    )
    page.add(label("cautions-lead"))
    records = sorted(
        context.edition.kind("cautions").values(),
        key=lambda record: (SEVERITIES.index(record.get("severity")), record.id),
    )
    for record in records:
        page.heading(context.name(record.path), record.id)
        page.add(caution_box(context, page, record))
    yield page


def caution_box(context: Context, page: Page, record: Record) -> str:
    """Return one caution: what happens, what is done, the rules, and what governs."""
    label = context.label
    severity = str(record.get("severity"))
    title = label(f"box.{severity}")
    parts = [
        context.text(record, "say"),
        f"**{label('do')}** {context.text(record, 'measure')}",
        statements(context, page, record.get("rules", ())),
        f"**{label('governs')}** {context.text(record, 'defers')}",
    ]
    return box(severity, title, "\n\n".join(part for part in parts if part))
