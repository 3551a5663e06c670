"""A page a detail for the bench: where it is measured, one's own size, the cut sheet."""

from __future__ import annotations

from collections.abc import Iterator

from upstand.drawing import NothingToDraw, draw
from upstand.drawing.measure import draw_measures
from upstand.edition import Record
from upstand_site.context import Context
from upstand_site.examples import example_of
from upstand_site.markdown import Page
from upstand_site.pages.reckon import own_size


def write(context: Context) -> Iterator[Page]:
    """Write a page for every detail that anything is cut for."""
    for record in context.edition.kind("details").values():
        page = _page(context, record)
        if len(page.blocks) > 1:
            yield page


def cuts_of(record: Record) -> str:
    """Name the file of a detail's page of cuts."""
    return f"details/{record.id}-cut.md"


def _page(context: Context, record: Record) -> Page:
    label, name = context.label, context.name(record.path)
    page = Page(cuts_of(record), label("page.cut", name=name), "hidden", kind="cut")
    page.about = label("about.cut", name=record.text("name", context.lang))
    page.add(f"[{name}]({record.id}.md)")
    answer, own = example_of(context, record).answer, f"{record.id}-{context.units}"
    try:
        sheet = draw(answer, "cut-sheet", name=f"{own}-cuts")
    except NothingToDraw:
        return page
    measures = draw_measures(answer, f"{own}-measures")
    if measures is not None:
        page.heading(label("head.to-measure"), "to-measure").add(_figure(measures, "measures"))
    page.add(*own_size(context, record))
    page.heading(label("head.cut-sheet"), "cut-sheet").add(_figure(sheet, "cut-sheet"))
    return page


def _figure(svg: str, kind: str) -> str:
    return f'<div class="figures"><figure class="drawn {kind}">{svg}</figure></div>'
