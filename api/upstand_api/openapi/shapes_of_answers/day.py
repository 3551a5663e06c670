"""Schemas of the answers about film, cutting and take-off."""

from __future__ import annotations

from marshmallow import fields

from upstand_api.openapi.shapes_of_answers.materials import PackCountSchema
from upstand_api.openapi.shapes_of_answers.parts import (
    QuantitySchema,
    ToldSchema,
    choice,
    flag,
    listed,
    quantity,
    record,
    string,
    strings,
    whole,
)
from upstand_api.openapi.shapes_of_answers.shared import (
    STATES,
    AnswerHeadSchema,
    AssumedSchema,
    NamedSchema,
    ReasonSchema,
    SentenceSchema,
    WorkingSchema,
)
from upstand_api.openapi.shapes_of_answers.work import ToolSchema

__all__ = ["CutListAnswerSchema", "FilmAnswerSchema", "TakeOffAnswerSchema"]


class PacksOfSchema(ToldSchema):
    """Packs of one size."""

    pack = string("id of the pack")
    count = whole("how many, at least")


class TopUpSchema(ToldSchema):
    """What is laid besides."""

    text = string("how")
    volume = quantity("how much is short")
    with_allowance = quantity("the same with the allowance", null=True)
    packs = listed(PacksOfSchema, "packs for it")


class FilmAnswerSchema(AnswerHeadSchema):
    """Whether a layer is thick enough, and what is short."""

    resin = record(NamedSchema, "the resin")
    layer = choice("which layer", ("base", "top", "total"))
    verdict = choice("go: thick enough; hold: lay more; ask: not told by this", STATES)
    notes = listed(SentenceSchema, "why")
    confirm = listed(SentenceSchema, "what is looked at besides")
    assumed = listed(AssumedSchema, "defaults that were filled in")
    area = quantity("the area it lies on", null=True)
    least = quantity("what a gage must read, or the film that the packs must make", null=True)
    readings_needed = whole("readings that so large an area takes; null by packs", null=True)
    mean = quantity("mean film", null=True)
    lowest = quantity("lowest reading", null=True)
    short_by = quantity("how much film is short", null=True)
    net = quantity("resin that lies on the roof, by packs", null=True)
    least_volume = quantity("resin that it must have taken", null=True)
    short = quantity("resin that is short", null=True)
    top_up = record(TopUpSchema, "what is laid besides; null: nothing", null=True)
    workings = listed(WorkingSchema, "how each quantity came about")


class OffcutSchema(ToldSchema):
    """What is left beside pieces and still of use."""

    x = quantity("from the left edge")
    y = quantity("from the start of the roll")
    width = quantity("across the roll")
    length = quantity("along the roll")


class PlacedSchema(OffcutSchema):
    """A piece where it lies on a roll."""

    id = string("name of the piece")
    turned = flag("whether it lies turned")


class CutRollSchema(ToldSchema):
    """One roll, and what is cut from it."""

    number = whole("its number")
    width = quantity("its width")
    length = quantity("its length; null: without end", null=True)
    length_used = quantity("as much of it as is used")
    strips = listed(QuantitySchema, "where it is cut right across")
    placed = listed(PlacedSchema, "pieces where they lie")
    offcuts = listed(OffcutSchema, "what is worth keeping")


class CutPlanSchema(ToldSchema):
    """Rolls with what lies where, and the cuts in their order."""

    rolls = listed(CutRollSchema, "rolls that are opened")
    length_used = quantity("length used of all rolls")
    lower_bound = quantity("no plan needs less length than this")
    area_used = quantity("area used")
    lower_bound_area = quantity("no plan needs less area than this")
    waste = quantity("share of the area used that is in no piece")
    order = strings("the cuts in their order")


class CutListAnswerSchema(AnswerHeadSchema, CutPlanSchema):
    """A cutting plan, cut from edge to edge."""

    assumed = listed(AssumedSchema, "defaults that were filled in")


class NeedSchema(ToldSchema):
    """A product and how much of it is needed."""

    id = string("id of the product")
    kind = string("what sort of material")
    name = string("its name")
    need = quantity("how much")


class BoughtSchema(NeedSchema):
    """A product for all details together."""

    with_allowance = quantity("need and allowance", null=True)
    packs = listed(PackCountSchema, "packs, at least")
    in_stock = listed(PackCountSchema, "packs of these that are in stock")
    to_buy = listed(PackCountSchema, "packs that are left to buy")
    leftover = quantity("left over of what is opened", null=True)
    mixes = whole("mixes at least, if details share each; null: not mixed or not known", null=True)
    mixes_text = string("the same in words", null=True)
    keeps = string("whether an opened pack keeps", null=True)


class MinutesSchema(ToldSchema):
    """Minutes of one worker."""

    activity = string("id of the activity")
    minutes = quantity("how long")


class VisitsSchema(ToldSchema):
    """Days on the roof."""

    at_least = whole("how many days, at least; null: nothing to order, or not known", null=True)
    text = string("the same in words")


class TakeOffTotalsSchema(ToldSchema):
    """Everything for all details that may be ordered for."""

    materials = listed(BoughtSchema, "what to order")
    minutes = listed(MinutesSchema, "minutes of one worker by activity")
    visits = record(VisitsSchema, "days on the roof")


class ApartSchema(ToldSchema):
    """Details that are asked about or held: not in the total."""

    details = strings("their names")
    materials = listed(NeedSchema, "what they would take")
    notes = strings("why each stands apart")


class CutOfShareSchema(ToldSchema):
    """Pieces of one size, for the whole count."""

    letter = string("the letter of the piece")
    kind = string("what it is")
    width = quantity("width of the rectangle it is cut from")
    length = quantity("length of it")
    count = whole("how many")


class WaitSchema(ToldSchema):
    """A wait between two pieces of work, or until water may stand on it."""

    id = string("which wait, and the id of its product")
    product = string("name of the product")
    low = quantity("at least; null: no number on file", null=True)
    high = quantity("at most; null: no number on file", null=True)
    text = string("the same in words, or why there is no number")


class ShareSchema(ToldSchema):
    """One line of the list; amounts are for its count."""

    id = string("its name")
    detail = record(NamedSchema, "what is built")
    count = whole("how many")
    state = choice("its verdict", ("go", "plan", "ask", "hold"))
    in_total = flag("whether it is in the total")
    reasons = listed(ReasonSchema, "why it is not go")
    area = quantity("area of one, out to the tape", null=True)
    zone = quantity("of one, where fleece lies", null=True)
    materials = listed(NeedSchema, "what it takes")
    mixes = fields.Dict(
        keys=fields.String(),
        values=fields.Integer(),
        required=True,
        metadata={
            "description": "mixes by product, where each detail is mixed for alone",
            "example": {"pu-2k": 8},
        },
    )
    minutes = listed(MinutesSchema, "minutes of one worker")
    waits = listed(WaitSchema, "what has to pass with nobody at work on it")
    pieces = listed(CutOfShareSchema, "pieces to cut")


class AssumedOfLinesSchema(AssumedSchema):
    """A default that was filled in, and for which lines."""

    details = strings("their names")


class TakeOffAnswerSchema(AnswerHeadSchema):
    """What to order for many details, and each one's share."""

    count = whole("how many details")
    assumed = listed(AssumedOfLinesSchema, "defaults that were filled in, each once")
    totals = record(TakeOffTotalsSchema, "for all that may be ordered for")
    apart = record(ApartSchema, "what is asked about or held")
    details = listed(ShareSchema, "each line of the list")
    tools = listed(ToolSchema, "tools and consumables, once for the crew")
    cutting = record(CutPlanSchema, "all pieces on rolls; null: not nested", null=True)
    cutting_why = string("why they are not nested", null=True)
