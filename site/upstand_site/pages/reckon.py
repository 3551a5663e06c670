"""The page of forms: dew point, pot life, resin for an area, film from what was used."""

from __future__ import annotations

import json
from collections.abc import Iterator
from html import escape

from upstand.edition import Record
from upstand.query.forms import input_forms
from upstand.words.store import label as piece
from upstand_site.context import Context
from upstand_site.forms import AMOUNTS, DETAILS, WEATHER, exported
from upstand_site.forms.model import Field, Form
from upstand_site.forms.tree import sentences
from upstand_site.markdown import Page, box, join_units, wrapped

SIGNS = {"degF": "°F", "percent": "%", "ft^2": "ft²"}
"""How a unit is written beside its field, where not as in data."""


def write(context: Context) -> Iterator[Page]:
    """Write the one page of forms."""
    label = context.label
    page = Page("reckon.md", label("page.reckon"), "rules", about=label("about.reckon"))
    page.kind = "reckon"
    page.add(label("reckon-lead"))
    page.add(f"<noscript><p><strong>{label('reckon.no-script')}</strong></p></noscript>")
    for form in (*WEATHER, *AMOUNTS):
        page.heading(label(f"reckon.{form.id}.title"), form.id)
        page.add(label(f"reckon.{form.id}.lead"), form_of(context, form))
    page.add(box("note", label("reckon.note-title"), label("reckon.note")))
    yield page


def form_of(context: Context, form: Form) -> str:
    """Return one form as HTML on one line; the answer is read out as it changes."""
    label = context.label
    here = "reckon.detail." if form in DETAILS else f"reckon.{form.id}."
    said = {
        name.removeprefix(here): text for name, text in label.texts.items() if name.startswith(here)
    }
    if form in DETAILS:
        said |= _pieces_and_needs(context, form)
    if form.section:
        said["title"] += f": {context.name(f'sections/{form.section}')}"
    said |= {word: label(f"reckon.{word}") for word in ("number", "range")}
    fields = [_choice(context, form)] if form.choice else []
    fields += [_field(context, form, each) for each in form.fields]
    return (
        f'<form class="reckon" id="form-{form.id}" data-form="{form.id}" '
        f'data-words="{escape(json.dumps(said, ensure_ascii=False))}" '
        f'aria-label="{escape(said["title"])}">'
        f'{"".join(fields)}<output class="reckoned" role="status"></output></form>'
    )


def own_size(context: Context, record: Record) -> Iterator[str]:
    """Yield the form of a detail in one's own size, for details that formulas count."""
    held = exported(context.edition)["forms"]
    forms = [form for form in DETAILS if form.detail == record.id and form.id in held]
    if not forms:
        return
    parts = [f"## {context.label('reckon.detail.title')} {{#own-size}}"]
    parts.append(context.label("reckon.detail.lead"))
    for form in forms:
        if len(forms) > 1:
            parts.append(f"**{context.name(f'sections/{form.section}')}**")
        parts.append(form_of(context, form))
    yield wrapped("screen needs-js", "\n\n".join(parts))


def _pieces_and_needs(context: Context, form: Form) -> dict[str, str]:
    """Word the lines of a detail's form: each kind of piece, each product to take along."""
    said = {}
    for name in sentences(exported(context.edition)["forms"][form.id]["trees"]):
        kind, _, what = name.partition("/")
        if kind == "piece":
            said[name] = join_units("{letter} {count} × " + piece(f"piece-{what}", context.lang))
            said[name] += ", {width} × {length}"
        elif kind == "need":
            said[name] = context.edition.record(what).text("name", context.lang) + ": {ready}"
    return said


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
    unit = SIGNS.get(field.unit, field.unit)
    return (
        f'<p><label for="{name}">{escape(_words(context, form, field))}, {unit}</label>'
        f'<input id="{name}" name="{field.name}" data-unit="{unit}" type="text" '
        f'inputmode="decimal" autocomplete="off" aria-describedby="{name}-fault">'
        f'<span class="fault" id="{name}-fault" role="alert"></span></p>'
    )


def _words(context: Context, form: Form, field: Field) -> str:
    """Name a field: a size as the detail takes it, a dimension as its section has it."""
    if form not in DETAILS:
        return context.label(f"reckon.{field.name}")
    if field.where != f"/{field.name}":
        section = context.edition.record(f"sections/{form.section}")
        return section.text(f"inputs.{field.name}.name", context.lang)
    return next(
        str(each["label"])
        for each in input_forms(context.edition, form.detail, context.lang)
        if each["name"] == field.name
    )
