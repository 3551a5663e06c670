"""Schemas of the answer about one detail."""

from __future__ import annotations

from upstand.edition.schema.kinds.vocabulary import BY
from upstand_api.openapi.shapes_of_answers.materials import (
    FleeceSchema,
    MaterialSchema,
    TotalsSchema,
)
from upstand_api.openapi.shapes_of_answers.parts import (
    ToldSchema,
    choice,
    listed,
    may_be_left_out,
    quantity,
    record,
    string,
    strings,
    whole,
)
from upstand_api.openapi.shapes_of_answers.shared import (
    AnswerHeadSchema,
    AskSchema,
    AssumedSchema,
    NamedSchema,
    ReasonSchema,
    StatementSchema,
    WorkingSchema,
)
from upstand_api.openapi.shapes_of_answers.work import (
    CautionSchema,
    CheckSchema,
    PreparationSchema,
    StepSchema,
    TimeSchema,
    ToolSchema,
)

__all__ = ["AnswerSchema"]


class VerdictSchema(ToldSchema):
    """Go, hold or ask: hold beats ask, ask beats go."""

    state = choice(
        "go: work can start; plan: no readings, nothing is said about starting; "
        "ask: ask first; hold: something must change",
        ("go", "plan", "ask", "hold"),
    )
    reasons = listed(ReasonSchema, "every reason why it is not go")
    ask = record(AskSchema, "whom to ask, of all reasons together", null=True)


class ConfirmSchema(ToldSchema):
    """What a question can't tell and a person ticks on the roof; it doesn't change the verdict."""

    id = string("the limit or check")
    name = string("its name")
    text = string("what is looked at")
    acceptance = string("what is good enough; empty where the text says it")
    whom = string("who has to say so", null=True)
    by = choice("by when", BY, null=True)
    standard = record(StatementSchema, "the measure that the text speaks of", null=True)


class DewSchema(ToldSchema):
    """Dew or frost point, and the surface's margin over it."""

    dew_point = quantity("null where air temperature or humidity is not known", null=True)
    kind = choice("frost: at or below 32 °F, over ice", ("dew", "frost"))
    margin = quantity("null where the surface temperature is not known", null=True)
    least_surface = quantity("coldest a surface may be: that point and the margin", null=True)


class SizeSchema(ToldSchema):
    """One size that the answer goes by."""

    id = string("id of the input, or of the parameter")
    label = string("the same in words")
    size = quantity("asked for, or taken where nothing was said")


class SurfaceSchema(ToldSchema):
    """One surface, out to the tape."""

    id = string("names the surface in this answer")
    label = string("what it is")
    substrate = string("id of what it is made of; null where nobody said", null=True)
    orientation = choice("lies or stands", ("flat", "upright"))
    area = quantity("area to prepare and prime", null=True)
    area_why = string("why there is no area", null=True)
    preparation = listed(PreparationSchema, "what is done to it, in order")
    never = strings("what is never done to it")
    primer = string("id of its primer; null: none", null=True)
    primer_why = string("why it takes none", null=True)
    dry_before_primer = string("how dry it has to be")


class CoatSchema(ToldSchema):
    """One part of the resin that is laid."""

    id = choice("which part", ("base", "drink", "top", "extra", "roughness"))
    label = string("the same in words")
    area = quantity("area it is laid over")
    thickness = quantity("thickness as laid, which a gauge reads")
    volume = quantity("area × thickness")
    state = choice("how thickness and volume are meant", ("wet",))
    dry = quantity("what is left when it has cured; null: as much", null=True)


class RectangleSchema(ToldSchema):
    """A rectangle of tape on the roof."""

    width = quantity("across")
    length = quantity("along")


class MaskingSchema(ToldSchema):
    """Tape."""

    tape = quantity("length of tape, without overlaps")
    corners = quantity("overlaps at corners, besides")
    flat = listed(RectangleSchema, "rectangles on the roof")
    line_height = quantity("height of the line on the upright; null where there is none", null=True)


class SourceSchema(ToldSchema):
    """A source that a value or rule in the answer names."""

    id = string("its id in the edition")
    title = string("title")
    issuer = string("who issued it")
    year = whole("when; null where not known", null=True)
    grades = strings("how what is used of it was read")
    used_for = strings("places in the edition that name it")


class SinceSchema(ToldSchema):
    """How one thing that was done already stands now."""

    activity = string("id of the activity")
    name = string("the same in words")
    at = string("when it ended, as asked")
    product = string("id of the primer or resin it was done with", null=True)
    state = choice(
        "wait: not ready; open: go on; missed: the window is over; again: do again what is listed; "
        "stays: as it is; ask: no time on file tells; later, no-now: the clock times don't fit",
        ("wait", "open", "missed", "again", "stays", "ask", "later", "no-now"),
    )
    ready = string("when its wait is over", null=True)
    until = string("when its window closes", null=True)
    again = strings("activities to do again, in order")
    text = string("all of it in words, by half hours on the safe side")


class AnswerSchema(AnswerHeadSchema):
    """A whole answer about one detail. Areas, coats, masking and pieces are for one."""

    detail = record(NamedSchema, "what is built")
    roof = record(NamedSchema, "the roof's sheet")
    resin = record(NamedSchema, "the resin")
    verdict = record(VerdictSchema, "whether work can start")
    confirm = listed(ConfirmSchema, "to be ticked on the roof")
    assumed = listed(AssumedSchema, "defaults that were filled in, and assumed values used")
    conditions = record(DewSchema, "what the air's moisture means for the surface")
    sizes = listed(SizeSchema, "sizes it goes by, asked for or taken")
    surfaces = listed(SurfaceSchema, "every surface, with preparation and primer")
    coats = listed(CoatSchema, "the resin by coat")
    film = quantity("the whole film with fleece", null=True)
    fleece = record(FleeceSchema, "pieces to cut", null=True)
    masking = record(MaskingSchema, "tape", null=True)
    dimensions = listed(StatementSchema, "measures that belong to this detail alone")
    materials = listed(MaterialSchema, "what to bring, for one")
    totals = record(TotalsSchema, "for the whole count")
    times = listed(TimeSchema, "working times, each at its temperature")
    since = listed(SinceSchema, "what was done already, and how it stands")
    steps = listed(StepSchema, "the work in order, with hold points")
    checks = listed(CheckSchema, "what is looked at and recorded")
    cautions = listed(CautionSchema, "what can do harm, the gravest first")
    tools = listed(ToolSchema, "tools, consumables and protection")
    sources = listed(SourceSchema, "sources of values and rules")
    workings = listed(WorkingSchema, "how each quantity came about")


may_be_left_out(AnswerSchema)
