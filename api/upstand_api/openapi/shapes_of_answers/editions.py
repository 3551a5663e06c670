"""Schemas of editions, their kinds, records and changes."""

from __future__ import annotations

from upstand_api.openapi.shapes_of_answers.parts import (
    NODE,
    ToldSchema,
    anything,
    choice,
    flag,
    listed,
    record,
    string,
    whole,
)

__all__ = [
    "ChangesSchema",
    "EditionSchema",
    "EditionsSchema",
    "KindSchema",
    "RecordSchema",
]

STATUSES = ("draft", "published", "withdrawn")
NEXT = "link to the next page; null: this is the last"


class NoteSchema(ToldSchema):
    """One sentence in both languages."""

    en = string("English, which governs")
    es = string("Spanish")


class EditionEntrySchema(ToldSchema):
    """One edition in the list."""

    id = string("its id", example="2026.1")
    status = choice("a withdrawn edition still answers, with a warning", STATUSES)
    date = string("day it was published; null: not published", null=True)
    note = record(NoteSchema, "what it is, or why it is withdrawn", null=True)
    default = flag("whether it answers where no edition is named")
    href = string("link to the edition")


class EditionsSchema(ToldSchema):
    """Editions, newest first, the draft last."""

    items = listed(EditionEntrySchema, "the editions")
    next_page = string(NEXT, null=True)


class KindEntrySchema(ToldSchema):
    """One kind of record in an edition."""

    kind = string("its name", example="resins")
    count = whole("how many records", 4)
    href = string("link to the records")


class EditionSchema(ToldSchema):
    """One edition."""

    id = string("its id", example="2026.1")
    overlay = string("the overlay laid over it", null=True)
    status = choice("a withdrawn edition still answers, with a warning", STATUSES)
    date = string("day it was published", null=True)
    note = record(NoteSchema, "what it is, or why it is withdrawn", null=True)
    digest = string("sha256 of the edition: the same digest holds the same data")
    overlay_digest = string("sha256 of what the overlay says; null: none", null=True)
    schema = whole("version of the shapes of records", 1)
    software = string("the version of this software")
    kinds = listed(KindEntrySchema, "what it holds")


class RecordSchema(ToldSchema):
    """One record: every value with its quantity, grade, source and layer.

    A value in `data` is `{value | low, high | points, …, basis: {grade, source, locator},
    checked_on, layer}`; its quantities are `{value, unit, text, written}`, `written` being the
    number as the data has it. Prose is `{en, es}`.
    """

    id = string("its id in its kind", example="pu-2k")
    kind = string("its kind", example="resins")
    path = string("kind/id", example="resins/pu-2k")
    edition = string("the edition it is read from")
    overlay = string("the overlay laid over it", null=True)
    data = anything("the fields of the record", NODE)


class KindSchema(ToldSchema):
    """Records of one kind, by id."""

    items = listed(RecordSchema, "the records")
    next_page = string(NEXT, null=True)


class ChangeSchema(ToldSchema):
    """One change from one edition to another."""

    path = string("record and field", example="resins/pu-2k: layers.base")
    old = string("what stood there; null: nothing", null=True)
    new = string("what stands there; null: nothing", null=True)
    grade = string("grade of the new value, or of the old one where it is gone", null=True)
    source = string("its source", null=True)
    sentence = string("the change in one sentence")


class ChangesSchema(ToldSchema):
    """What is different in an edition since another."""

    edition = string("the edition asked about")
    since = string("the edition it is compared with")
    items = listed(ChangeSchema, "the changes, in order of kind, id and field")
    next_page = string(NEXT, null=True)
