"""The search list: built here, read by the browser as a plain script, from a folder or a server.

It forgives how people type: accents are folded, `8 1/2 in`, `8.5in` and `8-1/2"` are one word,
plurals are one with their singular. A number is never guessed at.
"""

from __future__ import annotations

import json
import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from html import unescape
from pathlib import Path
from posixpath import dirname, join, normpath
from typing import Any
from unicodedata import normalize

from upstand import LANGUAGES
from upstand.edition.strict_yaml import read_file
from upstand_site.context import PAGES, TERM_PAGES, Context
from upstand_site.markdown import Page
from upstand_site.places import find_sources

SYNONYMS = "synonyms.yaml"
"""What crews call a page that is no record, or a record that has no word of its own."""

FIELDS = ("title", "aka", "heads", "text", "near")
NAMES = ("aka", "near")

UNITS: Mapping[str, str] = {
    spelled: unit
    for unit, spellings in {
        "in": "in inch inche pulgada pulg",
        "ft": "ft foot feet pie",
        "ft2": "ft2 sqft",
        "mil": "mil",
        "mm": "mm milimetro millimeter",
        "gal": "gal gallon galon galone",
        "qt": "qt quart",
        "oz": "oz ounce onza",
        "lb": "lb pound libra",
        "f": "f fahrenheit degree deg grado",
        "c": "c celsius",
        "pct": "pct percent porciento",
        "min": "min minute minuto",
        "h": "h hr hour hora",
        "mph": "mph",
    }.items()
    for spelled in spellings.split()
}
"""How a unit is typed -> how it is held."""

STOP: Mapping[str, str] = {
    "en": "a an the of on in to is it its for and or my we i do does what how with this that by at "
    "be can when from are was you your which there has have should need much many",
    "es": "el la los las de del en un una y o u a que es para por con se mi al como cuando lo su "
    "sus cual cuanto cuanta hay esta este tengo necesito",
}
"""Words that a query may hold and that find nothing."""

ENDINGS: Mapping[str, Sequence[Sequence[str]]] = {
    "en": (("ing", "ed"), ("e",)),
    "es": (("iendo", "ando", "ado", "ada", "ido", "ida", "ar", "er", "ir"), ("a", "e", "o")),
}
"""What a word loses, once in each step, where at least `LEFT` letters stay."""

LEFT: Mapping[str, int] = {"en": 4, "es": 3}
WHOLE_WORDS: Mapping[str, str] = {"en": "flashing ceiling", "es": ""}
"""Words that are another thing without their ending."""

UNHELD: Mapping[str, Mapping[str, str]] = {
    "en": {"f": "temperature", "c": "temperature", "mph": "wind", "pct": "percent"},
    "es": {"f": "temperatura", "c": "temperatura", "mph": "viento", "pct": "porciento"},
}
"""Unit -> what a number with it is about, where that number stands on no page."""

_WORD = re.compile(r"[a-z0-9]+(?:\.[0-9]+)?")
_NUMERIC = re.compile(r"[0-9]+(?:\.[0-9]+)?")
_FRACTION = re.compile(
    r"(?:(?<![0-9./])([0-9]{1,4})[\s-]+)?(?<![0-9./])([0-9]{1,4})/([0-9]{1,4})(?![0-9./])"
)
_DIGIT = re.compile(r"[0-9]")
_DOUBLED = re.compile(r"([b-df-hj-km-np-rtv-y])\1$")
_GLUED = re.compile(r"([0-9]+(?:\.[0-9]+)?)([a-z]+2?)")


def _fraction(found: re.Match[str]) -> str:
    whole, over, under = found.group(1), int(found.group(2)), int(found.group(3))
    if under == 0:
        return found.group(0)
    # to a thousandth, by floor, as the browser does it
    thousandths = int(whole or 0) * 1000 + (over * 2000 + under) // (2 * under)
    text = f"{thousandths // 1000}.{thousandths % 1000:03d}".rstrip("0").rstrip(".")
    return text


def flatten(text: str) -> str:
    """Bring a text to plain small letters: accents off, signs of units in words, one fraction."""
    text = re.sub("(?<=[0-9])(?=[¼½¾⅓⅔⅛⅜⅝⅞])", " ", text)
    text = normalize("NFKD", text)
    text = re.sub("[\u0300-\u036f]", "", text).lower()
    text = text.replace("\u2044", "/")
    text = re.sub(r"(?<=[0-9])\s*(?:[\"″”]|'')", " in ", text)
    text = re.sub(r"(?<=[0-9])\s*['′’]", " ft ", text)
    text = re.sub(r"(?<=[0-9])\s*(?:°|º|deg(?:rees?)?|grados?)\s*([fc])?(?![a-z])", _degrees, text)
    text = re.sub(r"\bsq(?:uare)?\.?\s*(?:ft|feet|foot)\b|\bpies? cuadrados?\b", "ft2", text)
    text = text.replace("%", " pct ")
    text = re.sub(r"(?<=[0-9]),(?=[0-9]{3}(?![0-9]))", "", text)
    text = _FRACTION.sub(_fraction, text)
    return re.sub(r"([0-9])\s*[-–]\s*(?=[0-9.]+\s*([a-z]+))", r"\1 \2 ", text)


def _degrees(found: re.Match[str]) -> str:
    return f" {found.group(1) or 'f'} "


def fold(text: str, both: bool = False) -> list[str]:
    """Take a text apart into the words it is found by.

    `both` keeps a number also by itself beside the word it makes with its unit (for the list).

    >>> fold('Ángulos 8-1/2" y 40 mils')
    ['angulo', '8.5in', 'y', '40mil']
    """
    words: list[str] = []
    number = ""
    for word in _WORD.findall(flatten(text)):
        glued = _GLUED.fullmatch(word)
        if glued and _singular(glued[2]) in UNITS:
            if number:
                words.append(number)
            number, word = glued[1], glued[2]
        unit = UNITS.get(_singular(word)) if number else None
        if unit:
            words += [number + unit, number] if both else [number + unit]
            number = ""
            continue
        if number:
            words.append(number)
            number = ""
        if _NUMERIC.fullmatch(word):
            number = word
        else:
            words.append(_singular(word))
    return [*words, number] if number else words


def _singular(word: str) -> str:
    return word[:-1] if len(word) > 3 and word.endswith("s") and not word.endswith("ss") else word


def stem(word: str, lang: str) -> str:
    """Take the ending off a folded word; what holds a digit stays as it is.

    >>> stem("pegajosa", "es"), stem("lijado", "es"), stem("leaking", "en"), stem("3in", "en")
    ('pegajos', 'lij', 'leak', '3in')
    """
    if word in WHOLE_WORDS[lang].split() or _DIGIT.search(word):
        return word
    for endings in ENDINGS[lang]:
        for ending in endings:
            if word.endswith(ending) and len(word) - len(ending) >= LEFT[lang]:
                word = word[: -len(ending)]
                if lang == "en" and _DOUBLED.search(word):
                    word = word[:-1]
                break
    return word


def stems(text: str, lang: str, both: bool = False) -> list[str]:
    """Take a text apart into the stems that the list holds."""
    return [stem(word, lang) for word in fold(text, both)]


@dataclass(frozen=True, slots=True)
class Entry:
    """One thing that is found: a page, or a place on one. `near` are words of what it links to.

    `line` says under its name what is there.
    """

    url: str
    title: str
    part: str
    heads: tuple[tuple[str, str], ...]
    text: str
    aka: tuple[str, ...]
    near: tuple[str, ...]
    line: str = ""
    weight: float = 1.0


_HEADING = re.compile(r"^#{2,3} (.+?) \{#([a-z0-9-]+)[^}]*\}$", re.M)
_LINK = re.compile(r"\]\(([^)#]+\.md)(?:#([a-z0-9-]+))?\)")

#: how much a hit counts by the part it stands in: what is done on the roof before what is looked up
WEIGHTS = {
    "details": 2.0,
    "substrates": 1.6,
    "primers": 1.6,
    "resins": 1.6,
    "home": 0.3,
    "rules": 1.2,
    "about": 0.8,
    "lookup": 0.6,
}
#: a word comes behind what it is about, most of all behind a page of that very thing
WORD, WORD_FOR_A_PAGE = 0.2, 0.05
LINE = 110
_WHOLE = ("details", "substrates", "primers", "resins", "home", "about")


def _plain(markdown: str) -> str:
    """Strip Markdown and HTML to the words that a reader sees."""
    text = re.sub(r"<code class=\"request\">.*?</code>", " ", markdown)
    text = re.sub(r"<svg.*?</svg>", " ", text, flags=re.S)
    text = re.sub(r"<[^>]+>", " ", text)
    text = re.sub(r"\]\([^)]*\)|\{[.#][^}]*\}|!!! \w+", " ", text)
    return unescape(re.sub(r"[\\*`|#\[\]\"]", " ", text))


def _said(context: Context) -> dict[str, list[str]]:
    """Return record -> the other words for it, in both languages: crews mix them."""
    said: dict[str, list[str]] = {}
    for term in context.edition.kind("terms").values():
        words = [w for lang in ("en", "es") for w in term.get("said")[lang]]
        words += [term.text("name", lang) for lang in ("en", "es")]
        said.setdefault(str(term.get("of", "")), []).extend(words)
        said.setdefault(term.path, []).extend(words)
    troubles = context.edition.records.get("troubles", {})
    for trouble in troubles.values():
        said[trouble.path] = [w for lang in ("en", "es") for w in trouble.get("said")[lang]]
    for path, more in _synonyms().items():
        said.setdefault(path, []).extend(more)
    return said


@cache
def _synonyms() -> Mapping[str, Sequence[str]]:
    """Read what crews call a page, or a record that has no word of its own."""
    held = read_file(find_sources() / "pages" / SYNONYMS, f"pages/{SYNONYMS}")
    return {
        str(path): tuple(word for lang in LANGUAGES for word in words[lang])
        for path, words in held.items()
    }


def _line(text: str) -> str:
    """Return the beginning of a text, as much as stands on a line or two of a phone."""
    text = " ".join(text.split()).removeprefix("- ").replace(". - ", ". ")
    if len(text) <= LINE:
        return text
    return text[:LINE].rsplit(" ", 1)[0].rstrip(",;:.") + " …"


def entries(context: Context, pages: Sequence[Page]) -> Iterator[Entry]:
    """Yield what is found: whole pages, and each heading of pages that hold many things."""
    said = _said(context)
    for page in pages:
        if page.section == "hidden":
            continue
        url = page.path.removesuffix(".md") + ".html"
        part = context.label(f"nav.{page.section}")
        body = "\n\n".join(page.blocks)
        title = _plain(page.title).strip()
        heads = tuple((id, _plain(text).strip()) for text, id in _HEADING.findall(body))
        record = page.path.removesuffix(".md")
        near = tuple(w for path in _linked(context, page, body) for w in said.get(path, ()))
        # what goes wrong is found by its sign, not by every word of its cure
        weight = WEIGHTS[page.section] * (0.9 if page.path == PAGES["troubles"] else 1.0)
        aka = (*page.aka, *said.get(record, ()))
        line = _line(_plain(page.about))
        if page.section in _WHOLE:
            weight *= 0.4 if page.path.endswith("/index.md") else 1.0
            yield Entry(url, title, part, heads, _plain(body), aka, near, line, weight)
            continue
        pieces = _HEADING.split(body)
        yield Entry(url, title, part, (), _plain(pieces[0]), aka, (), line, weight)
        for text, id, inside in zip(pieces[1::3], pieces[2::3], pieces[3::3], strict=True):
            words = tuple(
                w for kind in context.kinds_on(page.path) for w in said.get(f"{kind}/{id}", ())
            )
            name, says = _plain(text).strip(), _plain(inside)
            yield Entry(
                f"{url}#{id}", name, title, (), says, words, (), _line(says),
                weight * _of_a_word(context, page, id),
            )  # fmt: skip


def _of_a_word(context: Context, page: Page, id: str) -> float:
    """Return how much less a word counts than what it is about; 1 for all else."""
    if page.path not in TERM_PAGES or not context.edition.has(f"terms/{id}"):
        return 1.0
    of = str(context.edition.record(f"terms/{id}").get("of", ""))
    return WORD_FOR_A_PAGE if of.partition("/")[0] in PAGES else WORD


def _linked(context: Context, page: Page, body: str) -> dict[str, None]:
    """Return the records that a page links to."""
    found: dict[str, None] = {}
    for file, anchor in _LINK.findall(body):
        target = normpath(join(dirname(page.path), file))
        if anchor:
            found.update(dict.fromkeys(f"{kind}/{anchor}" for kind in context.kinds_on(target)))
        else:
            found[target.removesuffix(".md")] = None
    return found


def index_of(found: Sequence[Entry], lang: str) -> dict[str, Any]:
    """Build the list in the form that the browser's search library reads back."""
    terms: dict[str, dict[str, dict[str, int]]] = {}
    lengths: dict[str, list[int]] = {}
    stored: dict[str, dict[str, Any]] = {}
    for number, entry in enumerate(found):
        id = str(number)
        texts = (
            entry.title,
            " . ".join(entry.aka),
            " . ".join(words for _, words in entry.heads),
            entry.text,
            " . ".join(entry.near),
        )
        lengths[id] = []
        for field, text in enumerate(texts):
            counted = Counter(stems(text, lang, both=True))
            if FIELDS[field] in NAMES:  # a list of names tells no more for saying a word often
                counted = Counter(dict.fromkeys(counted, 1))
            lengths[id].append(1 if FIELDS[field] in NAMES else len(counted))
            for term, count in counted.items():
                terms.setdefault(term, {}).setdefault(str(field), {})[id] = count
        stored[id] = {
            "u": entry.url,
            "t": entry.title,
            "p": entry.part,
            "s": entry.line,
            "h": list(entry.heads),
            "a": _phrases(entry, lang),
            "w": entry.weight,
        }
    total = len(found)
    average = [sum(row[field] for row in lengths.values()) / total for field in range(len(FIELDS))]
    return {
        "documentCount": total,
        "nextId": total,
        "documentIds": {str(n): n for n in range(total)},
        "fieldIds": {name: n for n, name in enumerate(FIELDS)},
        "fieldLength": lengths,
        "averageFieldLength": average,
        "storedFields": stored,
        "dirtCount": 0,
        "index": [[term, terms[term]] for term in sorted(terms)],
        "serializationVersion": 2,
    }


def _phrases(entry: Entry, lang: str) -> list[str]:
    """Return the ways of naming an entry, each as its stems without empty words."""
    empty = set(STOP[lang].split())
    phrases = (
        " ".join(stem(word, lang) for word in fold(said) if word not in empty)
        for said in (entry.title, *entry.aka)
    )
    return [phrase for phrase in dict.fromkeys(phrases) if phrase]


def write_search(
    out: Path, pages: Sequence[Page], context: Context, answers: Mapping[str, Any]
) -> Path:
    """Write the list of one language as a script, into the assets of a handbook.

    `answers` is what the search answers by itself, above its hits.
    """
    held = {
        "fields": FIELDS,
        "units": UNITS,
        "stop": STOP[context.lang].split(),
        "endings": {
            "steps": ENDINGS[context.lang],
            "left": LEFT[context.lang],
            "whole": WHOLE_WORDS[context.lang].split(),
            "doubled": context.lang == "en",
        },
        "unheld": UNHELD[context.lang],
        "answers": answers,
        "index": index_of(list(entries(context, pages)), context.lang),
    }
    text = json.dumps(held, ensure_ascii=False, separators=(",", ":"))
    path = out / "assets" / f"search-{context.lang}.js"
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(f"window.upstandSearch={text};\n", encoding="utf-8")
    return path
