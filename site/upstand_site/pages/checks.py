"""Every check: how it is looked at, what is good enough, who has to say so."""

from __future__ import annotations

from collections.abc import Iterator

from upstand_site.context import Context
from upstand_site.markdown import Page

STAGES = ("confirm", "hold", "inspect")


def write(context: Context) -> Iterator[Page]:
    """Write the one page of checks, by when they are made."""
    label = context.label
    page = Page("checks.md", label("page.checks"), "rules", about=label("about.checks"), terse=True)
    page.add(label("checks-lead"))
    for stage in STAGES:
        records = [r for r in context.edition.kind("checks").values() if r.get("stage") == stage]
        if not records:
            continue
        page.heading(label(f"stage.{stage}"), f"stage-{stage}")
        for record in records:
            page.heading(context.name(record.path), record.id, 3)
            page.add(context.text(record, "method"))
            page.add(f"**{label('good')}** {context.text(record, 'acceptance')}")
            if record.has("standard"):
                rule = record.get("standard")
                said = f"{context.said(rule['says'])} {context.grade(page, rule)}"
                page.add(f"**{label('rule')}** {said}")
            if record.has("whom"):
                page.add(label("in-doubt", whom=context.whom(str(record.get("whom")))))
    yield page
