"""A page a detail: when it is right, what it takes, and the whole order of work of one example."""

from __future__ import annotations

from collections.abc import Iterator

from upstand.edition import Record
from upstand.edition.applies import limits_of
from upstand_site.context import Context
from upstand_site.examples import Example, example_of
from upstand_site.markdown import Page, box, bullets, folded, table, wrapped
from upstand_site.pages.figures import figures
from upstand_site.pages.limits import applies, limit_text
from upstand_site.pages.order import order_of_work
from upstand_site.pages.parts import (
    caution_summary,
    grades_of,
    statement_of,
    statements,
    value_name,
)
from upstand_site.pages.sizes import size_tables
from upstand_site.pages.surfaces import surface_table

ELSE = ("hold", "ask", "refuse", "confirm")


def write(context: Context) -> Iterator[Page]:
    """Write a page for every detail."""
    for record in context.edition.kind("details").values():
        yield _page(context, record)


def _page(context: Context, record: Record) -> Page:
    label = context.label
    page = Page(f"details/{record.id}.md", context.name(record.path), "details", kind="detail")
    page.about = record.text("what", context.lang)
    example = example_of(context, record)
    page.add(wrapped("lead", context.text(record, "what")))
    page.add('<div class="opening" markdown="1">')
    page.add(caution_summary(context, page, example.answer.cautions))
    page.add(*context.stops(record))
    _choice(context, page, record)
    page.add(*figures(context, example))
    _limits(context, page, record, example)
    page.add("</div>")
    if record.get("dimensions"):
        page.heading(label("head.dimensions"), "dimensions")
        page.add(statements(context, page, record.get("dimensions")))
    _confirm(context, page, example)
    page.add(*surface_table(context, page, record))
    page.add(*order_of_work(context, page, example))
    page.add(*size_tables(context, page, record, example))
    _checks(context, page, example)
    _failures(context, page, record)
    _numbers(context, page, example)
    return page


def _choice(context: Context, page: Page, record: Record) -> None:
    label = context.label
    page.heading(label("head.right"), "right")
    page.add(
        wrapped(
            "choice",
            box("go", label("right-when"), bullets(context.texts(record, "right_when")))
            + "\n\n"
            + box("stop", label("wrong-when"), bullets(context.texts(record, "wrong_when"))),
        )
    )


def _limits(context: Context, page: Page, record: Record, example: Example) -> None:
    """The limits the verdict looks at: value, grade, and what the answer is where one fails."""
    label = context.label
    rows = []
    for limit in limits_of(context.edition, record):
        if not applies(limit, example.answer.settled.resin):
            continue
        otherwise = label(f"else-short.{limit.get('else', 'confirm')}")
        text = limit_text(context, page, limit, example.answer.settled.resin)
        rows.append([context.link(page, limit.path), text, f"**{otherwise}**"])
    if not rows:
        return
    page.heading(label("head.limits"), "limits")
    page.add(table([label(f"head.{n}") for n in ("what", "limit", "otherwise")], rows, "limits"))


def _confirm(context: Context, page: Page, example: Example) -> None:
    """What a question cannot tell: ticked on the roof before the work starts."""
    label = context.label
    items = []
    for confirm in example.document["confirm"]:
        name = context.plain(confirm["name"])
        if context.edition.has(confirm["id"]):
            name = context.link(page, confirm["id"], name)
        good = confirm["acceptance"] or confirm["text"]
        item = f'**{name}.** <span class="good">{context.plain(good)}</span>'
        if context.edition.has(confirm["id"]):
            item += statement_of(context, page, context.edition.record(confirm["id"]))
        items.append(item)
    page.heading(label("head.confirm"), "confirm")
    page.add(label("confirm-lead"), wrapped("ticks", bullets(items)))


def _checks(context: Context, page: Page, example: Example) -> None:
    """Name the checks by when they are made; how, stands on their own page."""
    label = context.label
    by_stage: dict[str, list[str]] = {}
    for check in example.document["checks"]:
        link = context.link(page, f"checks/{check['id']}")
        by_stage.setdefault(check["stage"], []).append(link)
    if not by_stage:
        return
    page.heading(label("head.checks"), "checks", mark="screen")
    lines = [f"**{label(f'stage.{stage}')}:** {', '.join(by_stage[stage])}." for stage in by_stage]
    page.add(wrapped("screen", "\n\n".join(lines)))


def _failures(context: Context, page: Page, record: Record) -> None:
    label = context.label
    page.heading(label("head.failures"), "failures", mark="screen")
    rows = [
        [f"**{context.said(f['sign'])}**", context.said(f["repair"])]
        for f in record.get("failures")
    ]
    page.add(table([label("head.sign"), label("head.repair")], rows, "failures screen"))


def _numbers(context: Context, page: Page, example: Example) -> None:
    """Every number of the edition that went into the example, and the sources, with grades."""
    label = context.label
    items = [
        f"{context.link(page, 'sources/' + s['id'])} "
        f"({', '.join(context.grade_word(grade) for grade in s['grades'])})"
        for s in example.document["sources"]
    ]
    page.heading(label("head.sources"), "sources", mark="screen")
    page.add(wrapped("screen", label("sources-here") + "\n\n" + bullets(items)))
    named = [(value_name(context, value.where), value) for value in example.values()]
    table_of = grades_of(context, page, named)
    page.add(
        folded(
            label("head.behind", count=str(len(named))), label("behind-lead") + "\n\n" + table_of
        )
    )
