"""Fleece and packs: what is bought, and what one holds."""

from __future__ import annotations

from collections.abc import Iterator

from upstand.edition import Record
from upstand_site.context import Context
from upstand_site.markdown import Page, prose, table
from upstand_site.pages.parts import value_table

FLEECE = ("thickness", "areal_mass", "fibre_density")


def write(context: Context) -> Iterator[Page]:
    """Write the one page of fleeces and packs."""
    label = context.label
    page = Page("packs.md", label("page.packs"), "lookup", about=label("about.packs"), terse=True)
    page.add(label("packs-lead"))
    for record in context.edition.kind("fleeces").values():
        page.heading(context.name(record.path), record.id)
        page.add(value_table(context, context.rows(page, record, FLEECE)))
    page.heading(label("head.packs"), "packs")
    for pack in context.edition.kind("packs").values():
        page.heading(context.name(pack.path), pack.id, 3)
        holds = context.link(page, str(pack.get("of")))
        page.add(f"{label('pack-of', what=holds)} {_kept(context, pack)}".strip())
        rows = context.rows(page, pack, ("size", "width", "length"))
        page.add(value_table(context, rows))
    yield page


def _kept(context: Context, pack: Record) -> str:
    return context.label("pre-proportioned") if pack.get("pre_proportioned") else ""


def packs_of(context: Context, page: Page, product: Record) -> Iterator[str]:
    """Yield the section that lists a product's packs."""
    label = context.label
    packs = [p for p in context.edition.kind("packs").values() if p.get("of") == product.path]
    if not packs:
        return
    packs.sort(key=lambda p: p.value("size").magnitude("gal") if p.has("size") else 0.0)
    yield f"## {label('head.packs')} {{#packs}}"
    rows = []
    for pack in packs:
        size = pack.value("size") if pack.has("size") else pack.value("width")
        name = prose(pack.text("name", context.lang))
        rows.append([name, f"**{context.amount(size)}**", context.grade(page, size)])
    yield table([label(f"head.{name}") for name in ("what", "value", "grade")], rows, "values")
