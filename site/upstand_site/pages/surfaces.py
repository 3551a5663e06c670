"""Preparation and primer by surface, for one detail: every surface that may be met in it."""

from __future__ import annotations

from collections.abc import Iterator

from upstand.edition import Record
from upstand_site.context import Context
from upstand_site.markdown import Page, table, wrapped

# what a detail takes -> where a substrate has to be met for it to count
USED: dict[str, tuple[str, ...]] = {
    "upright": ("roof", "plate", "member"),
    "cluster": ("roof", "plate", "member"),
    "wall": ("roof", "plate", "wall"),
    "opening": ("roof", "plate", "edge", "deck", "member"),
    "strip": ("roof", "plate", "edge", "deck", "wall"),
}


def surface_table(context: Context, page: Page, record: Record) -> Iterator[str]:
    """Yield the table: surface, what is done to it in short, its primer."""
    label = context.label
    uses = USED[str(record.get("family"))]
    rows = []
    for use in uses:
        for substrate in context.edition.kind("substrates").values():
            first = next(u for u in (*uses, use) if u in substrate.get("used_as") or u == use)
            if use in substrate.get("used_as") and first == use:
                rows.append(_row(context, page, substrate))
    yield f"## {label('head.surfaces')} {{#surfaces .screen}}"
    yield wrapped("screen", label("surfaces-lead"))
    heads = [label(f"head.{name}") for name in ("surface", "preparation", "primer")]
    yield table(heads, rows, "surfaces screen")


def _row(context: Context, page: Page, substrate: Record) -> list[str]:
    label, edition = context.label, context.edition
    preparation = str(substrate.get("preparation"))
    if edition.has(preparation):
        steps = edition.record(preparation).get("steps")
        names = list(dict.fromkeys(context.name(str(step["activity"])) for step in steps))
        short = ", ".join([names[0], *(name[:1].lower() + name[1:] for name in names[1:])])
    else:
        short = label("stop-first")
    primer = str(substrate.get("primer"))
    if edition.has(primer):
        shown = context.link(page, primer)
    else:
        shown = f"**{label('ask-first' if primer == 'ask' else 'none')}**"
    return [context.link(page, substrate.path), short, shown]
