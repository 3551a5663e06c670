"""What has to be known or in hand days before: letters, permits, tests, by whom to ask for each."""

from __future__ import annotations

from collections.abc import Iterator

from upstand.edition import Record
from upstand.procedure.triggers import called_by, surface_triggers
from upstand_site.context import Context
from upstand_site.markdown import Page, bullets, wrapped
from upstand_site.pages.parts import statement_pointed_at

BY = "days-ahead"
EVERY_JOB = (("resin",),)
"""The group of tokens that calls a check wherever there is resin at all."""


def write(context: Context) -> Iterator[Page]:
    """Write the one list, those first who take longest to answer."""
    label = context.label
    records = [r for r in context.edition.kind("checks").values() if r.get("by") == BY]
    if not records:
        return
    page = Page("days-ahead.md", label("page.days-ahead"), "rules", about=label("about.days-ahead"))
    page.kind, page.terse = "days", True
    page.add(label("days-lead"))
    clear = (
        f'<button type="button" class="needs-js" id="clear-ticks">{label("clear-ticks")}</button>'
    )
    page.add(wrapped("hint clear-ticks", f"{clear} {label('days-kept')}"))
    by_whom: dict[str, list[Record]] = {}
    for record in records:
        by_whom.setdefault(str(record.get("whom")), []).append(record)
    for whom in sorted(by_whom, key=lambda each: (each != "testing-laboratory", each)):
        name = context.whom(whom)
        page.heading(label("days-ask", whom=name), whom)
        page.add(wrapped("days", bullets(_item(context, page, r) for r in by_whom[whom])))
    yield page


def _item(context: Context, page: Page, record: Record) -> str:
    label = context.label
    name = context.link(page, record.path)
    method, good = (context.text(record, field) for field in ("method", "acceptance"))
    return (
        f'<label class="tick"><input type="checkbox" data-tick="{record.id}"> '
        f"<b>{name}</b></label>\n\n{method} **{label('good')}** {good}"
        f"{statement_pointed_at(context, record)} "
        f"{_where(context, page, record)}\n"
    )


def _where(context: Context, page: Page, record: Record) -> str:
    """Say what calls for it: every job, or the details and surfaces that name it."""
    label, edition = context.label, context.edition
    if tuple(tuple(group) for group in record.get("when", ())) == EVERY_JOB:
        return f"**{label('days-for')}** {label('days-every')}"
    named = [
        context.link(page, d.path, context.name(d.path).partition(",")[0])
        for d in edition.kind("details").values()
        if _named(d, record)
    ]
    named += [
        context.link(page, s.path)
        for s in edition.kind("substrates").values()
        if record.path in s.get("confirm", ()) or any(called_by(record, _tokens(context, s)))
    ]
    return f"**{label('days-for')}** {', '.join(named)}." if named else ""


def _tokens(context: Context, substrate: Record) -> frozenset[str]:
    return surface_triggers(substrate, context.edition)


def _named(detail: Record, check: Record) -> bool:
    called = any(called_by(check, frozenset({f"detail/{detail.id}"})))
    named = (*detail.get("checks", ()), *detail.get("confirm", ()))
    return called or check.path in named
