"""The day clock: started when the parts meet; and pot life by temperature, for paper too."""

from __future__ import annotations

from collections.abc import Iterator
from html import escape

from upstand.edition import Record
from upstand_site.by_degree import MATERIAL, mixed_products, pot_lives, used_at
from upstand_site.context import Context
from upstand_site.markdown import Page, box, join_units, table

DEGREES = (50, 60, 70, 75, 80, 85, 90)

WORDS = (
    "left", "up", "place-by", "place-over", "life-over", "started", "none", "cold", "hot",
    "planned", "watertight", "skin_time", "cure", "cover_within", "if-colder",
    "remove", "sure", "number", "awake", "asleep", "cant-wake", "soon", "mix", "kept-not",
)  # fmt: skip
"""The sentences that the script fills."""


def write(context: Context) -> Iterator[Page]:
    """Write the one page of the clock."""
    label, edition = context.label, context.edition
    if not edition.has("parameters/planning-material-temperature"):
        return
    page = Page("clock.md", label("page.clock"), "rules", about=label("about.clock"))
    page.kind = "clock"
    page.add(label("clock.lead"))
    page.add(f"<noscript><p><strong>{label('clock.no-script')}</strong></p></noscript>")
    page.add('<p id="clock-told" role="status"></p><div id="clock-mixes"></div>', _form(context))
    caution = edition.record("cautions/heat-in-pail")
    said = f"{context.text(caution, 'say')} {context.text(caution, 'measure')}"
    page.add(box("warning", context.title("warning", context.name(caution.path)), said))
    page.heading(label("clock.table"), "table").add(label("clock.table-lead"))
    page.add(_table(context))
    page.heading(label("clock.how"), "how").add(label("clock.how-text"))
    yield page


def _table(context: Context) -> str:
    products = mixed_products(context.edition)
    heads = [context.label("head.temperature")]
    heads += [
        f"{_short(context, r)} ({context.grade_word(r.value('pot_life').grade)})" for r in products
    ]
    columns = [pot_lives(context.edition, product) for product in products]
    rows = []
    for degrees in DEGREES:
        row = [f"**{degrees}\u00a0°F**"]
        for product, column in zip(products, columns, strict=True):
            life, (low, high) = column[degrees - MATERIAL[0]], used_at(product)
            if not low <= degrees <= high:
                row.append(context.label("clock.out"))
            elif life is None:
                row.append(context.label("no-time-here"))
            else:
                said = context.label("clock.cell", life=str(life[0]), kept=str(life[1]))
                row.append(join_units(said))
        rows.append(row)
    return table(heads, rows, "times")


def _short(context: Context, product: Record) -> str:
    return context.plain(product.text("name", context.lang).partition(",")[0])


def _form(context: Context) -> str:
    """Return the form as HTML on one line; what the script says stands in its attributes."""
    label = context.label
    said = " ".join(f'data-{word}="{escape(label(f"clock.{word}"))}"' for word in WORDS)
    options = "".join(
        f'<option value="{product.id}">{escape(product.text("name", context.lang))}</option>'
        for product in mixed_products(context.edition)
    )
    ticks = "".join(
        f'<label class="clock-choice"><input type="checkbox" id="clock-{name}"> '
        f"{escape(label(f'clock.{name}'))}</label>"
        for name in ("sound", "shake", "wake")
    )
    return (
        f'<form class="reckon clock needs-js" id="clock" {said} '
        f'aria-label="{escape(label("page.clock"))}">'
        f'<p><label for="clock-product">{escape(label("clock.product"))}</label>'
        f'<select id="clock-product">{options}</select></p>'
        f"{_field(context, 'material', 'decimal')}{_field(context, 'surface', 'decimal')}"
        f"{_field(context, 'name', 'text')}"
        f'<p class="clock-choices">{ticks}</p>'
        f'<button type="submit" class="clock-start">{escape(label("clock.start"))}</button></form>'
    )


def _field(context: Context, name: str, mode: str) -> str:
    id = f"clock-{name}"
    return (
        f'<p><label for="{id}">{escape(context.label(f"clock.{name}"))}</label>'
        f'<input id="{id}" type="text" inputmode="{mode}" autocomplete="off" maxlength="40" '
        f'aria-describedby="{id}-fault">'
        f'<span class="fault" id="{id}-fault" role="alert"></span></p>'
    )
