"""A page a surface: its primer, how it is made ready, what goes wrong on it."""

from __future__ import annotations

from collections.abc import Iterator

from upstand.edition import Record
from upstand.procedure.triggers import called_by, surface_triggers
from upstand_site.context import Context
from upstand_site.markdown import Page, box, bullets, numbered
from upstand_site.pages.parts import (
    caution_summary,
    cautions_of,
    confirm_list,
    hazard_tokens,
    never_box,
    preparation_step,
    value_table,
)


def write(context: Context) -> Iterator[Page]:
    """Write a page for every substrate."""
    for record in context.edition.kind("substrates").values():
        yield _page(context, record)


def _page(context: Context, record: Record) -> Page:
    edition, label = context.edition, context.label
    page = Page(f"substrates/{record.id}.md", context.name(record.path), "substrates")
    page.kind = "substrate"
    preparation = edition.record(record.get("preparation")) if _has(context, record) else None
    primer = str(record.get("primer"))
    primer_record = edition.record(primer) if edition.has(primer) else None
    page.about = label("about.substrate", name=record.text("name", context.lang))
    uses = ", ".join(label(f"use.{use}") for use in record.get("used_as"))
    family = label(f"family.{record.get('family')}")
    page.add(label("substrate-lead", family=family[:1].upper() + family[1:], uses=uses))
    carriers = [record, *(r for r in (preparation, primer_record) if r is not None)]
    tokens = hazard_tokens(*carriers) | {
        f"substrate/{record.id}",
        f"family/{record.get('family')}",
    }
    page.add(caution_summary(context, page, cautions_of(context, tokens)))
    page.add(*context.stops(record))
    _primer(context, page, record, primer_record)
    if preparation is not None:
        _preparation(context, page, preparation)
        page.add(never_box(context, preparation))
    page.heading(label("head.sound"), "sound").add(context.text(record, "sound"))
    page.heading(label("head.tests"), "tests").add(bullets(context.texts(record, "tests")))
    page.heading(label("head.traps"), "traps").add(bullets(context.texts(record, "traps")))
    triggers = surface_triggers(record, context.edition)
    called = [
        check.path
        for check in context.edition.kind("checks").values()
        if check.get("stage") == "confirm" and any(called_by(check, triggers))
    ]
    paths = dict.fromkeys([*record.get("confirm", ()), *called])
    if paths:
        page.heading(label("head.confirm"), "confirm")
        page.add(confirm_list(context, page, paths))
    page.heading(label("head.numbers"), "numbers")
    page.add(value_table(context, context.rows(page, record, ("roughness", "primer_coats"))))
    return page


def _has(context: Context, record: Record) -> bool:
    return context.edition.has(str(record.get("preparation")))


def _primer(context: Context, page: Page, record: Record, primer: Record | None) -> None:
    """Say which primer, or that there is none, or whom to ask."""
    label = context.label
    page.heading(label("head.primer"), "primer")
    why = context.text(record, "primer_why") if record.has("primer_why") else ""
    if primer is not None:
        link = context.link(page, primer.path)
        coverage = context.graded(page, primer.value("coverage"))
        page.add(f"**{link}.** {label('covers')} {coverage}", why)
    elif record.get("primer") == "ask":
        page.add(box("ask", context.title("ask", label("primer-ask")), why))
    else:
        page.add(f"**{label('primer-none')}** {why}")
    page.add(f"**{label('dry-before')}** {context.text(record, 'dry_before_primer')}")


def _preparation(context: Context, page: Page, record: Record) -> None:
    label = context.label
    page.heading(label("head.preparation"), "preparation")
    if record.has("note"):
        page.add(context.text(record, "note"))
    items = []
    for number, step in enumerate(record.get("steps"), 1):
        first, *rest = preparation_step(context, page, step)
        name = context.name(str(step["activity"]))
        lines = [f"**{name}.** {first}", *rest]
        tools = context.links(page, step["tools"])
        lines.append(f'<span class="tools">{label("with")} {tools}</span>')
        items.append((number, "\n\n".join(lines)))
    page.add(numbered(items))
    page.add(f"**{label('after-night')}** {context.text(record, 'again_after_night')}")
