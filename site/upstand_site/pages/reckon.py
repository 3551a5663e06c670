"""The page of forms: dew point, pot life, resin for an area, film from what was used."""

from __future__ import annotations

from collections.abc import Iterator
from html import escape

from upstand_site.context import Context
from upstand_site.forms import FORMS, Form, Input, halving_resins
from upstand_site.markdown import Page, box


def write(context: Context) -> Iterator[Page]:
    """Write the one page of forms."""
    label = context.label
    page = Page("reckon.md", label("page.reckon"), "rules", about=label("about.reckon"))
    page.kind = "reckon"
    page.add(label("reckon-lead"))
    page.add(f"<noscript><p><strong>{label('reckon.no-script')}</strong></p></noscript>")
    for form in FORMS:
        page.heading(label(f"reckon.{form.id}.title"), form.id)
        page.add(label(f"reckon.{form.id}.lead"), form_of(context, form))
    page.add(box("note", label("reckon.note-title"), label("reckon.note")))
    yield page


def form_of(context: Context, form: Form) -> str:
    """Return one form as HTML on one line; the answer is read out as it changes."""
    label = context.label
    words = ("go", "hold", "outside", "give", "range", "number", "answer", "frost", "over")
    said = {
        word: label(f"reckon.{form.id}.{word}")
        for word in words
        if label.has(f"reckon.{form.id}.{word}")
    }
    said |= {word: label(f"reckon.{word}") for word in ("number", "range")}
    data = " ".join(f'data-{name}="{escape(text)}"' for name, text in said.items())
    fields = [_choice(context, form)] if form.choice else []
    fields += [_field(context, form, each) for each in form.inputs]
    return (
        f'<form class="reckon" id="form-{form.id}" data-form="{form.id}" {data} '
        f'aria-label="{escape(label(f"reckon.{form.id}.title"))}">'
        f'{"".join(fields)}<output class="reckoned" role="status"></output></form>'
    )


def _choice(context: Context, form: Form) -> str:
    options = "".join(
        f'<option value="{record.id}">{escape(record.text("name", context.lang))}</option>'
        for record in halving_resins(context.edition)
    )
    name = f"{form.id}-{form.choice}"
    return (
        f'<p><label for="{name}">{escape(context.label(f"reckon.{form.choice}"))}</label>'
        f'<select id="{name}" name="{form.choice}">{options}</select></p>'
    )


def _field(context: Context, form: Form, field: Input) -> str:
    name = f"{form.id}-{field.name}"
    words = context.label(f"reckon.{field.name}")
    return (
        f'<p><label for="{name}">{escape(words)}, {field.unit}</label>'
        f'<input id="{name}" name="{field.name}" type="text" inputmode="decimal" '
        f'autocomplete="off" aria-describedby="{name}-fault">'
        f'<span class="fault" id="{name}-fault" role="alert"></span></p>'
    )
