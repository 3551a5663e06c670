"""A page a detail that a crew works from: stop, limits, times, sizes, drawing, order, ticks."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

from upstand.edition import Record
from upstand.edition.applies import limits_of
from upstand_site.context import Context
from upstand_site.examples import Example, sizes_of
from upstand_site.markdown import Page, bullets, prose, table, wrapped
from upstand_site.pages.cuts import cuts_of
from upstand_site.pages.figures import figures
from upstand_site.pages.limits import applies, limit_text
from upstand_site.pages.order import holds_on_paper, order_of_work
from upstand_site.pages.parts import caution_summary, statement_pointed_at
from upstand_site.pages.sizes import all_sizes, size_picker
from upstand_site.pages.surfaces import surface_table

BY = ("days-ahead", "before-ladder", "before-pail", "until-watertight")
ELSE = ("hold", "refuse", "ask", "confirm")
"""What follows where a limit does not hold, the commonest first."""
HOLDS = "checks-hold.md"
BEFORE = ("days-ahead", "before-ladder")
"""Seen to before anyone is on the roof: by name, with the way to the check; the rest in full."""


def write(context: Context) -> Iterator[Page]:
    """Write a page for every detail."""
    for record in context.edition.kind("details").values():
        yield _page(replace(context, marks=True), record)


def _page(context: Context, record: Record) -> Page:
    label = context.label
    page = Page(f"details/{record.id}.md", context.name(record.path), "details", kind="detail")
    page.about = record.text("what", context.lang)
    sized = sizes_of(context, record)
    example = sized[0].example
    page.add(wrapped("lead", context.text(record, "what")))
    page.add('<div class="sheet" markdown="1">')
    whole = not example.document["steps"]
    page.add(caution_summary(context, page, example.answer.cautions, in_full=whole))
    page.add(*context.stops(record))
    _limits(context, page, record, example)
    _times(context, page, example)
    page.add(*size_picker(context, sized))
    if example.document["fleece"]:
        page.add(wrapped("hint", f"[{label('to-cuts')}]({context.to(page, cuts_of(record))})"))
    page.add(holds_on_paper(context, example))
    page.add(*figures(context, example))
    page.add(all_sizes(context, sized))
    page.add("</div>")
    page.add('<div class="method" markdown="1">')
    page.add(*order_of_work(context, page, sized))
    _confirm(context, page, example)
    page.add("</div>")
    _checks(context, page, example)
    _failures(context, page, record)
    page.heading(label("head.surfaces"), "surfaces", mark="screen")
    page.add(surface_table(context, page, record))
    _choice(context, page, record)
    to_numbers = f"[{label('head.behind')}]({record.id}-numbers.md)"
    page.add(wrapped("screen", f"{to_numbers}"))
    return page


def _choice(context: Context, page: Page, record: Record) -> None:
    """When it is another detail, or none yet; when it is right, the list of details says."""
    page.heading(context.label("wrong-when"), "right", mark="screen")
    page.add(wrapped("screen", bullets(context.texts(record, "wrong_when"))))


def _limits(context: Context, page: Page, record: Record, example: Example) -> None:
    """The limits the verdict looks at, by what follows where one does not hold; today's ticks."""
    label, resin = context.label, example.answer.settled.resin
    today = {c["id"]: c for c in example.document["confirm"] if _of_today(c)}
    names: dict[tuple[str, str], list[str]] = {}
    for limit in limits_of(context.edition, record):
        if not applies(limit, resin):
            continue
        tick = today.pop(limit.path, None)
        text = limit_text(context, page, limit, resin).replace("<br>", ", ")
        if tick:
            text = f"{context.plain(tick['acceptance'] or tick['text'])}{_only_mark(text)}"
        name = context.link(page, limit.path)
        key = str(limit.get("else", "confirm")), text
        names.setdefault(key, []).append(_tick(tick["id"], name) if tick else name)
    groups: dict[str, list[str]] = {}
    for (otherwise, text), named in names.items():
        css = "line ticked" if "data-tick" in named[0] else "line"
        line = f'<span class="{css}">{", ".join(named)}: {text}</span>'
        groups.setdefault(otherwise, []).append(line)
    for confirm in today.values():
        said = context.plain(confirm["acceptance"] or confirm["text"])
        name = f"**{context.plain(confirm['name'])}**"
        line = f'<span class="line ticked">{_tick(confirm["id"], name)}: {said}</span>'
        groups.setdefault("confirm", []).append(line)
    if not groups:
        return
    page.heading(label("head.limits"), "limits")
    rows = [
        [f"**{label(f'else-short.{each}')}**", "".join(groups[each])]
        for each in sorted(groups, key=ELSE.index)
    ]
    page.add(table([label("head.otherwise"), label("head.limit")], rows, "run limits kept"))
    letters = f"[{label('mark-letters')}]({context.to(page, 'reading.md#grades')})"
    page.add(wrapped("hint", letters))


def _of_today(confirm: Mapping[str, Any]) -> bool:
    """Whether a limit is ticked, by a reading of the day: it stands with the limits."""
    return confirm["id"].startswith("limits/") or confirm["by"] not in BY


def _only_mark(text: str) -> str:
    """Keep the mark of a limit's grade."""
    return text[at:] if (at := text.find("<sup")) >= 0 else ""


def _tick(id: str, words: str) -> str:
    """Return words behind a box that is ticked with a glove on."""
    key = re.sub(r"[^a-z0-9-]+", "-", id)
    return f'<label class="tick"><input type="checkbox" data-tick="{key}"> {words}</label>'


def _times(context: Context, page: Page, example: Example) -> None:
    """The film of the example, and every time at the temperature it is reckoned for."""
    label, document = context.label, example.document
    rows = []
    if document["film"]:
        coats = dict.fromkeys(
            f"{prose(coat['label'].partition(',')[0])} **{prose(coat['thickness']['text'])}**"
            for coat in document["coats"]
            if coat["thickness"]
        )
        whole = f"{label('field.film')} **{prose(document['film']['text'])}**"
        rows.append([label("head.film"), "; ".join([*coats, whole])])
    by_product: dict[str, list[str]] = {}
    for time in document["times"]:
        text = f"{prose(time['label'])} **{prose(time['text'])}**"
        by_product.setdefault(prose(time["product"].partition(",")[0]), []).append(text)
    rows += [[name, "; ".join(times)] for name, times in by_product.items()]
    if rows:
        page.heading(label("head.film-times"), "times")
        page.add(table([label("head.what"), label("head.value")], rows, "run"))


def _confirm(context: Context, page: Page, example: Example) -> None:
    """What a question cannot tell, by when it is ticked; today's stand with the limits."""
    label = context.label
    by_when: dict[str, list[str]] = {}
    for confirm in example.document["confirm"]:
        if _of_today(confirm):
            continue
        good = context.plain(confirm["acceptance"] or confirm["text"])
        path = f"checks/{confirm['id'].rpartition('/')[2]}"
        if context.edition.has(path):
            good += statement_pointed_at(context, context.edition.record(path))
        if confirm["by"] in BEFORE and context.edition.has(path):
            method = context.text(context.edition.record(path), "method")
            linked = context.link(page, path, context.plain(confirm["name"]))
            item = _tick(confirm["id"], f"<b>{linked}</b>")
            item += f'<span class="paper"> {method} **{label("good")}** {good}</span>'
        else:
            item = _tick(confirm["id"], f"<b>{context.plain(confirm['name'])}.</b> {good}")
        by_when.setdefault(confirm["by"], []).append(item)
    if not by_when:
        return
    page.heading(label("head.confirm"), "confirm")
    clear = (
        f'<button type="button" class="needs-js" id="clear-ticks">{label("clear-ticks")}</button>'
    )
    page.add(wrapped("hint clear-ticks", f"{clear} {label('confirm-lead')}"))
    for by in sorted(by_when, key=BY.index):
        page.heading(label(f"by.{by}"), f"by-{by}", 3)
        page.add(wrapped(f"kept {by}", bullets(by_when[by])))


def _checks(context: Context, page: Page, example: Example) -> None:
    """Lead to the checks by when they are made: those at a hold, which the step names; the last."""
    label = context.label
    found = [c for c in example.document["checks"] if c["stage"] != "confirm"]
    held = [c for c in found if c["stage"] == "hold"]
    done = [context.link(page, f"checks/{c['id']}") for c in found if c["stage"] != "hold"]
    if not found:
        return
    page.heading(label("head.checks"), "checks", mark="screen")
    lines = []
    if held:
        way = f"[{label('checks-held', count=str(len(held)))}]({context.to(page, HOLDS)})"
        lines.append(f"**{label('stage.hold')}:** {way}")
    if done:
        lines.append(f"**{label('stage.inspect')}:** {', '.join(done)}.")
    page.add(wrapped("screen", "\n\n".join(lines)))


def _failures(context: Context, page: Page, record: Record) -> None:
    label = context.label
    page.heading(label("head.failures"), "failures", mark="screen")
    lines = [
        f"**{context.said(f['sign'])}** {context.said(f['repair'])}" for f in record.get("failures")
    ]
    more = f"[{label('page.trouble')}]({context.to(page, 'trouble.md')})"
    page.add(wrapped("screen plain", bullets([*lines, more])))
