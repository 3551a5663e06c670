"""Surface by primer: how each is made ready, what goes on it under which resin, wait and window."""

from __future__ import annotations

from collections.abc import Iterator

from upstand.edition import Record, Value
from upstand_site.context import Context
from upstand_site.markdown import Page, prose, table

WAITS = ("cure", "flash_off")


def write(context: Context) -> Iterator[Page]:
    """Write the one page: primers with their resins and times, then every surface."""
    label, edition = context.label, context.edition
    page = Page("which-primer.md", label("page.which-primer"), "rules")
    page.about, page.terse = label("about.which-primer"), True
    page.add(label("which-lead"))
    page.heading(label("which-primers"), "primers")
    resins = list(edition.kind("resins").values())
    heads = [label("head.primer"), *(_short(context, r) for r in resins)]
    heads += [label("head.wait"), label("head.within")]
    rows = [_primer_row(context, page, p, resins) for p in edition.kind("primers").values()]
    page.add(table(heads, rows, "which"))
    page.add(label("which-ask"))
    page.heading(label("which-surfaces"), "surfaces")
    heads = [label(f"head.{name}") for name in ("surface", "preparation", "primer")]
    surfaces = edition.kind("substrates").values()
    page.add(table(heads, [_surface_row(context, page, s) for s in surfaces], "run which"))
    yield page


def _primer_row(context: Context, page: Page, primer: Record, resins: list[Record]) -> list[str]:
    row = [context.link(page, primer.path, _short(context, primer))]
    row += [_under(context, primer, resin) for resin in resins]
    wait = next((primer.value(name) for name in WAITS if primer.has(name)), None)
    within = primer.value("cover_within") if primer.has("cover_within") else None
    return [*row, _time(context, wait), _time(context, within)]


def _under(context: Context, primer: Record, resin: Record) -> str:
    """Say whether a primer goes under a resin, and how that is known."""
    for each in primer.get("under", ()):
        if isinstance(each, str):  # editions before 2026.4 name the resin alone
            if each == resin.path:
                return context.label("yes")
        elif str(each["resin"]) == resin.path:
            return f"{context.label('yes')} ({context.grade_word(each['basis']['grade'])})"
    return f"**{context.label('ask-first')}**"


def _time(context: Context, value: Value | None) -> str:
    if value is None:
        return context.label("no-time-here")
    return f"{context.amount(value)} ({context.grade_word(value.grade)})"


def _surface_row(context: Context, page: Page, substrate: Record) -> list[str]:
    label, edition = context.label, context.edition
    name = context.link(page, substrate.path)
    preparation, primer = str(substrate.get("preparation")), str(substrate.get("primer"))
    if not edition.has(preparation):
        return [name, f"**{label('stop-first')}**", label("none")]
    if any(stop["state"] == "hold" for stop in substrate.get("stops", ())):
        name += f"<br>**{label('stop-first')}**"
    steps = edition.record(preparation).get("steps")
    done = dict.fromkeys(context.name(str(step["activity"])) for step in steps)
    link = f"[{', '.join(done).capitalize()}]({context.href(page, substrate.path)}#preparation)"
    if edition.has(primer):
        taken = context.link(page, primer, _short(context, edition.record(primer)))
    else:
        taken = f"**{label('ask-first')}**" if primer == "ask" else label("none")
    return [name, link, taken]


def _short(context: Context, record: Record) -> str:
    return prose(record.text("name", context.lang).partition(",")[0])
