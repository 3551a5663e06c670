"""What goes wrong, by what it is seen, and what is looked up besides: two pages."""

from __future__ import annotations

from collections.abc import Iterator

from upstand_site.context import Context
from upstand_site.markdown import Page, bullets


def write(context: Context) -> Iterator[Page]:
    """Write the page of troubles and the page of topics, where the edition has any."""
    held = context.edition.records
    if "troubles" in held and context.edition.kind("troubles"):
        yield _troubles(context)
    if "topics" in held and context.edition.kind("topics"):
        yield _topics(context)


def _troubles(context: Context) -> Page:
    label = context.label
    page = Page("trouble.md", label("page.trouble"), "rules", about=label("about.trouble"))
    page.add(label("trouble-lead"))
    for record in context.edition.kind("troubles").values():
        page.heading(context.name(record.path), record.id)
        cure = record.get("cure")
        page.add(
            bullets(
                [
                    f"**{label('trouble-sign')}** {context.text(record, 'sign')}",
                    f"**{label('trouble-cause')}** {context.text(record, 'cause')}",
                    f"**{label('do')}** {context.said(cure['says'])} {context.grade(page, cure)}",
                    f"**{label('if-not-ask')}** {_whom(context, str(record.get('whom')))}",
                ]
            )
        )
    return page


def _topics(context: Context) -> Page:
    label = context.label
    page = Page("look-up.md", label("page.look-up"), "rules", about=label("about.look-up"))
    page.add(label("look-up-lead"))
    for record in context.edition.kind("topics").values():
        page.heading(context.name(record.path), record.id)
        lines = [
            f"{context.said(says['says'])} {context.grade(page, says)}"
            for says in record.get("says")
        ]
        lines.append(f"**{label('if-not-ask')}** {_whom(context, str(record.get('whom')))}")
        see = [path for path in record.get("see", ()) if context.edition.has(str(path))]
        if see:
            lines.append(f"**{label('see-also')}** {context.links(page, see)}")
        page.add(bullets(lines))
    return page


def _whom(context: Context, whom: str) -> str:
    return context.whom(whom) + "."
