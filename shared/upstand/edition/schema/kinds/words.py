"""Fields of words and tables: sections, terms, troubles, topics and sources."""

from __future__ import annotations

from collections.abc import Mapping

from upstand import LANGUAGES
from upstand.edition.schema.kinds.vocabulary import CONTACTS, NAME, PROSE
from upstand.edition.schema.shapes import (
    Choice,
    Field,
    Fields,
    ListOf,
    MapOf,
    Ref,
    Whole,
    Words,
    may,
    must,
)
from upstand.edition.schema.values import Statement, TableOf, ValueOf

__all__ = ["SECTIONS", "SOURCES", "TERMS", "TOPICS", "TROUBLES"]

NAMES = r"[a-z][a-z0-9_]{0,63}"

INPUT = Fields(
    {
        "reads": must(Choice(("length", "nominal-size", "points")), "what is typed"),
        "name": must(PROSE, "what it measures"),
    }
)

SECTIONS: Mapping[str, Field] = {
    **NAME,
    "inputs": may(MapOf(INPUT), "its dimensions"),
    "optional": may(ListOf(Words("the name of an input", NAMES)), "inputs that may be missing"),
    "either": may(ListOf(Words("the name of an input", NAMES), 2), "one of these is given"),
    "outline": must(PROSE, "how it is drawn, and what is ignored"),
    "off": may(Statement(), "how far that is from the real thing"),
    "corner_radius_in_walls": may(ValueOf("count"), "outside radius, in walls"),
    "tables": may(MapOf(TableOf()), "listed sizes"),
    "substrates": may(ListOf(Ref(("substrates",))), "all that the listed sizes are made of"),
}

SAID = Fields(
    {
        "en": must(ListOf(Words()), "words heard in English"),
        "es": must(ListOf(Words()), "words heard in Spanish"),
    }
)

NOT_SAID = Fields(
    {
        "lang": must(Choice(LANGUAGES), "the language"),
        "words": must(ListOf(Words(), 1), "not said in any text"),
        "say": must(Words(), "said instead"),
    }
)

TERMS: Mapping[str, Field] = {
    **NAME,
    "means": must(PROSE, "what it is"),
    "said": must(SAID, "other words for it"),
    "not_said": may(ListOf(NOT_SAID), "words that mislead: a caller may say them, no text does"),
    "of": may(
        Ref(
            (
                "substrates",
                "preparations",
                "primers",
                "resins",
                "fleeces",
                "packs",
                "details",
                "activities",
                "limits",
                "parameters",
                "inputs",
                "cautions",
                "checks",
                "tools",
                "sections",
            )
        ),
        "the record it stands for",
    ),
}

TROUBLES: Mapping[str, Field] = {
    **NAME,
    "sign": must(PROSE, "by what it is seen"),
    "cause": must(PROSE, "what it comes from"),
    "cure": must(Statement(), "what is done about it"),
    "whom": must(Choice(CONTACTS), "whom to ask"),
    "said": must(SAID, "how crews call it"),
}

TOPICS: Mapping[str, Field] = {
    **NAME,
    "says": must(ListOf(Statement(), 1), "what there is to know"),
    "whom": must(Choice(CONTACTS), "whom to ask"),
    "see": may(
        ListOf(Ref(("details", "resins", "limits", "checks", "cautions", "troubles"))),
        "where more of it stands",
    ),
}

SOURCE_SORTS = (
    "standard",
    "regulation",
    "handbook",
    "dataset",
    "article",
    "library",
    "product-sheet",  # what an overlay names
)

SOURCES: Mapping[str, Field] = {
    **NAME,
    "title": must(Words(), "as it calls itself"),
    "issuer": must(Words(), "the body that issued it"),
    "year": may(Whole(1900, 2100), "of the issue read"),
    "read": must(PROSE, "what of it was read, and when; or that it was not"),
    "sort": must(Choice(SOURCE_SORTS), "what sort of source"),
}
