"""What the search answers by itself, above its hits: the edition's limits, its words, its troubles.

The browser compares what was typed with these numbers and fills these sentences; none is its own.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from upstand.edition import Record, Value
from upstand_site.by_degree import MATERIAL, pot_lives
from upstand_site.context import Context
from upstand_site.extension import SHAPES
from upstand_site.forms.weather import resin_of
from upstand_site.search import STOP, fold, stem

TYPED = (-60, 200)
"""A temperature in °F beyond these is no weather and gets no answer."""

WORDS: Mapping[str, Mapping[str, str]] = {
    "wet": {
        "any": "wet damp moist soaked puddle frosted icy frost mojado mojada humedo humeda "
        "empapado charco escarcha",
        "none": "film gauge mil insulation iso core edge primer resin coat on tape fleece pelicula "
        "calibrador espesor aislamiento imprimador resina capa fresco tela rag towel",
    },
    "rain": {
        "any": "rain raining rainy drizzle lluvia lloviendo llover llueve llovizna chubasco",
        "none": "proof ready film canal canalon bajada gutter leader rained llovio resina resin "
        "coat coating capa pelicula got fresh fresca",
    },
    "wind": {
        "any": "wind windy gust gusty gusting viento ventoso rafaga",
        "none": "meter gauge medidor warranty garantia",
    },
    "raining": {"any": "raining lloviendo llueve", "none": "if si when cuando"},
    "pail": {
        "any": "pail bucket material pot mix resin cubeta mezcla resina balde uso",
        "none": "on over sobre encima",
    },
    "dew": {
        "any": "dew dewpoint condensation sweating rocio condensacion sudando sereno",
        "none": "film pelicula resina resin coat capa",
    },
}
"""Which words call for an answer, unless another says that something else is meant."""


def answers_of(context: Context) -> Mapping[str, Any]:
    """Return numbers, sentences and words for the answers, in the reader's language."""
    label, edition = context.label, context.edition
    limits = {name: edition.record(f"limits/{name}") for name in _LIMITS}
    rain, wind = limits["rain"].value("under"), limits["wind"].value("at_most")
    margin = max(_several(limits["dew-point-margin"].get("at_least")), key=_degrees)
    resin = resin_of(edition)
    watertight = context.amount(resin.value("watertight"))
    return {
        "typed": TYPED,
        "shapes": {kind: SHAPES[kind] for kind in ("hold", "note")},
        "products": _products(context),
        "store": _store(context, resin),
        "life": {"from": MATERIAL[0], "minutes": pot_lives(edition, resin)},
        "words": {name: {k: v.split() for k, v in w.items()} for name, w in WORDS.items()},
        "wet": {
            "lines": [
                _text(context, limits["dry-surface"], name) for name in ("because", "clears")
            ],
            "grade": _grade(context, limits["dry-surface"].value("is")),
        },
        "rain": {
            "under": rain.magnitude("percent"),
            "limit": context.amount(rain),
            "grade": _grade(context, rain),
            "because": _text(context, limits["rain"], "because", limit=context.amount(rain)),
            "clears": _text(context, limits["rain"], "clears", watertight=watertight),
        },
        "wind": {
            "most": wind.magnitude("mph"),
            "limit": context.amount(wind),
            "grade": _grade(context, wind),
            "because": _text(context, limits["wind"], "because", limit=context.amount(wind)),
            "clears": _text(context, limits["wind"], "clears", limit=context.amount(wind)),
        },
        "dew": {
            "limit": context.amount(margin),
            "grade": _grade(context, margin),
            "clears": _text(
                context, limits["dew-point-margin"], "clears", limit=context.amount(margin)
            ),
        },
        "temperature": {
            "because": _text(context, limits["application-air"], "because"),
            "clears": _text(context, limits["application-surface"], "clears"),
            "clears_over": _text(context, limits["application-surface"], "clears_over"),
            "pail": _text(context, limits["storage-temperature"], "because"),
            "pail_clears": _text(context, limits["storage-temperature"], "clears"),
            "pail_clears_over": _text(context, limits["storage-temperature"], "clears_over"),
        },
        "troubles": _troubles(context),
        "say": {
            name.removeprefix("card."): text
            for name, text in label.texts.items()
            if name.startswith("card.")
        }
        | {"hold": label("box.hold"), "governs": label("site.governs")},
        "links": {name: _link(context, target) for name, target in _LINKS.items()},
    }


_LIMITS = (
    "application-air",
    "application-surface",
    "dry-surface",
    "rain",
    "wind",
    "dew-point-margin",
    "storage-temperature",
)
_LINKS = {
    "air": "limits/application-air",
    "wet": "limits/dry-surface",
    "rain": "limits/rain",
    "wind": "limits/wind",
    "margin": "limits/dew-point-margin",
    "weather": "weather.md",
    "cautions": "cautions.md",
    "reckon": "reckon.md",
}


def _link(context: Context, target: str) -> tuple[str, str]:
    """Return the name and the address of a page or of a record's place, from the top."""
    if target.endswith(".md"):
        return context.label(f"page.{target.removesuffix('.md')}"), f"{target[:-3]}.html"
    record = context.edition.record(target)
    place = context.href("index.md", target).replace(".md", ".html", 1)
    return record.text("name", context.lang), place


def _text(context: Context, record: Record, path: str, **slots: str) -> str:
    """Return a sentence of the edition; slots not given here are filled when it is shown.

    An edition without one for the other side has one for both.
    """
    held = path if record.has(path) else path.removesuffix("_over")
    text = record.text(held, context.lang)
    for name, said in slots.items():
        text = text.replace(f"{{{name}}}", said)
    return text


def _grade(context: Context, value: Value) -> str:
    return context.grade_word(value.grade)


def _products(context: Context) -> list[Mapping[str, Any]]:
    """Return products by the range they are applied in, the default resin's first."""
    first = resin_of(context.edition)
    records = [first, *(r for r in context.edition.kind("resins").values() if r is not first)]
    records += context.edition.kind("primers").values()
    found: dict[tuple[float, float, str], list[Record]] = {}
    for record in records:
        if not record.has("application"):
            continue
        value = record.value("application")
        key = (value.magnitude("degF", "low"), value.magnitude("degF", "high"), value.grade)
        found.setdefault(key, []).append(record)
    return [
        {
            "names": [record.text("name", context.lang).partition(",")[0] for record in same],
            "low": low,
            "high": high,
            "range": context.amount(same[0].value("application")),
            "grade": context.grade_word(grade),
        }
        for (low, high, grade), same in found.items()
    ]


def _store(context: Context, resin: Record) -> Mapping[str, Any]:
    """Return what the default resin may be at: its store's least, its application's most."""
    store, used = resin.value("storage"), resin.value("application")
    return {
        "name": resin.text("name", context.lang),
        "low": store.magnitude("degF", "low"),
        "high": used.magnitude("degF", "high"),
        "range": context.speech.span(store.traced("degF", "low"), used.traced("degF", "high")),
        "grade": context.grade_word(store.grade),
    }


def _troubles(context: Context) -> list[Mapping[str, Any]]:
    """Return what goes wrong, by all the words it is called by in both languages."""
    empty = set(STOP[context.lang].split())
    found: list[Mapping[str, Any]] = []
    for record in context.edition.records.get("troubles", {}).values():
        said = [word for lang in ("en", "es") for word in record.get("said")[lang]]
        phrases = (
            " ".join(stem(word, context.lang) for word in fold(phrase) if word not in empty)
            for phrase in said
        )
        cure = record.get("cure")
        found.append(
            {
                "phrases": [phrase for phrase in dict.fromkeys(phrases) if phrase],
                "name": record.text("name", context.lang),
                "sign": record.text("sign", context.lang),
                "do": str(cure["says"][context.lang]),
                "grade": context.grade_word(cure["basis"]["grade"]),
                "ask": f"{context.label('if-not-ask')} {context.whom(str(record.get('whom')))}.",
                "url": _link(context, record.path)[1],
            }
        )
    return found


def _several(node: Any) -> Sequence[Value]:
    return node if isinstance(node, tuple) else (node,)


def _degrees(value: Value) -> float:
    return value.magnitude("delta_degF")
