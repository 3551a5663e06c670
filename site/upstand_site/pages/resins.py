"""A page a resin: layers, times at the temperatures of a day, what its users have learnt."""

from __future__ import annotations

from collections.abc import Iterator

from upstand.edition import Record
from upstand.formulas import REGISTER
from upstand.quantity.traced import asked, reckon
from upstand.words.store import label as word
from upstand_site.context import Context
from upstand_site.markdown import Page, bullets, table
from upstand_site.pages.packs import packs_of
from upstand_site.pages.parts import (
    caution_summary,
    cautions_of,
    confirm_list,
    hazard_tokens,
    never_box,
    value_table,
)
from upstand_site.pages.times import times_by_temperature

FIELDS = (
    "pot_life",
    "skin_time",
    "cure",
    "watertight",
    "recoat_within",
    "application",
    "humidity",
    "storage",
    "mixing",
    "layers.base",
    "layers.top",
    "layers.top_band",
    "layers.bed",
    "film",
    "volume_solids",
    "max_pass",
)


def write(context: Context) -> Iterator[Page]:
    """Write a page for every resin."""
    for record in context.edition.kind("resins").values():
        yield _page(context, record)


def _page(context: Context, record: Record) -> Page:
    label = context.label
    page = Page(f"resins/{record.id}.md", context.name(record.path), "resins", kind="resin")
    page.about = label("about.resin", name=record.text("name", context.lang))
    kind = label(f"cure-kind.{record.get('cure_kind')}")
    note = context.text(record, "note") if record.has("note") else ""
    page.add(context.joined(label(f"parts.{record.get('parts')}"), kind, note))
    tokens = hazard_tokens(record) | {f"resin/{record.id}"}
    page.add(caution_summary(context, page, cautions_of(context, tokens)))
    page.add(*context.stops(record))
    page.heading(label("head.notes"), "notes").add(bullets(context.texts(record, "notes")))
    page.heading(label("head.numbers"), "numbers")
    page.add(value_table(context, context.rows(page, record, FIELDS)))
    if not record.has("recoat_within"):
        page.add(context.plain(_recoat(context, record)))
    page.add(*times_by_temperature(context, page, record))
    page.add(*_coverage(context, record))
    if record.has("never"):
        page.add(never_box(context, record))
    page.heading(label("head.neighbours"), "neighbours")
    page.add(bullets(context.texts(record, "neighbours")))
    if record.get("confirm"):
        page.heading(label("head.confirm"), "confirm")
        page.add(confirm_list(context, page, record.get("confirm")))
    page.add(*packs_of(context, page, record))
    return page


def _recoat(context: Context, record: Record) -> str:
    text = word("recoat-none", context.lang)
    return text.replace("{resin}", record.text("name", context.lang))


def _coverage(context: Context, record: Record) -> Iterator[str]:
    """How far a gallon goes at each layer's thickness."""
    label = context.label
    rows = []
    for layer in ("base", "top"):
        thickness = record.value(f"layers.{layer}").traced("mil")
        square_foot = asked(144.0, "in^2", "one square foot")
        volume = reckon(REGISTER["film_volume"], area=square_foot, thickness=thickness)
        feet = 1.0 / volume.value
        written = context.quantity(asked(feet, "ft^2/gal", "coverage"))
        rows.append([label(f"field.layers.{layer}"), context.quantity(thickness), written])
    yield f"## {label('head.coverage')} {{#coverage}}"
    yield label("coverage-lead")
    yield table([label(f"head.{name}") for name in ("layer", "thickness", "gallon-covers")], rows)
