"""The surfaces that a detail can meet, by the primer that each takes: one narrow table."""

from __future__ import annotations

from upstand.edition import Record
from upstand_site.context import Context
from upstand_site.markdown import Page, prose, table

# what a detail takes -> where a substrate has to be met for it to count
USED: dict[str, tuple[str, ...]] = {
    "upright": ("roof", "plate", "member"),
    "cluster": ("roof", "plate", "member"),
    "wall": ("roof", "plate", "wall"),
    "opening": ("roof", "plate", "edge", "deck", "member"),
    "strip": ("roof", "plate", "edge", "deck", "wall"),
}


def surface_table(context: Context, page: Page, record: Record) -> str:
    """Return the table: a row a primer, with every surface of the detail that takes it."""
    label = context.label
    uses = USED[str(record.get("family"))]
    by_primer: dict[str, list[str]] = {}
    for substrate in context.edition.kind("substrates").values():
        if set(uses) & set(substrate.get("used_as")):
            by_primer.setdefault(_primer(context, page, substrate), []).append(
                context.link(page, substrate.path)
            )
    rows = [[primer, ", ".join(names)] for primer, names in by_primer.items()]
    return table([label("head.primer"), label("head.surface")], rows, "run primers")


def _primer(context: Context, page: Page, substrate: Record) -> str:
    label, primer = context.label, str(substrate.get("primer"))
    if not context.edition.has(str(substrate.get("preparation"))):
        return f"**{label('stop-first')}**"
    if context.edition.has(primer):
        name = context.edition.record(primer).text("name", context.lang).partition(",")[0]
        return context.link(page, primer, prose(name))
    return f"**{label('ask-first' if primer == 'ask' else 'none')}**"
