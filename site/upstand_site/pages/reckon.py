"""The page of forms: dew point, pot life, resin for an area, film from what was used."""

from __future__ import annotations

import json
from collections.abc import Iterator
from html import escape

from upstand_site.context import Context
from upstand_site.forms import FORMS
from upstand_site.forms.model import Field, Form
from upstand_site.markdown import Page, box

SIGNS = {"degF": "°F", "percent": "%", "ft^2": "ft²"}
"""How a unit is written beside its field, where not as in data."""


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
    here = f"reckon.{form.id}."
    said = {
        name.removeprefix(here): text for name, text in label.texts.items() if name.startswith(here)
    }
    said |= {word: label(f"reckon.{word}") for word in ("number", "range")}
    fields = [_choice(context, form)] if form.choice else []
    fields += [_field(context, form, each) for each in form.fields]
    return (
        f'<form class="reckon" id="form-{form.id}" data-form="{form.id}" '
        f'data-words="{escape(json.dumps(said, ensure_ascii=False))}" '
        f'aria-label="{escape(label(f"reckon.{form.id}.title"))}">'
        f'{"".join(fields)}<output class="reckoned" role="status"></output></form>'
    )


def _choice(context: Context, form: Form) -> str:
    options = "".join(
        f'<option value="{record.id}">{escape(record.text("name", context.lang))}</option>'
        for record in form.choices(context.edition)
    )
    name = f"{form.id}-{form.choice}"
    return (
        f'<p><label for="{name}">{escape(context.label(f"reckon.{form.choice}"))}</label>'
        f'<select id="{name}" name="{form.choice}">{options}</select></p>'
    )


def _field(context: Context, form: Form, field: Field) -> str:
    name = f"{form.id}-{field.name}"
    words = context.label(f"reckon.{field.name}")
    unit = SIGNS.get(field.unit, field.unit)
    return (
        f'<p><label for="{name}">{escape(words)}, {unit}</label>'
        f'<input id="{name}" name="{field.name}" data-unit="{unit}" type="text" '
        f'inputmode="decimal" autocomplete="off" aria-describedby="{name}-fault">'
        f'<span class="fault" id="{name}-fault" role="alert"></span></p>'
    )
