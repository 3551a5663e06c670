"""What every page of the built handbook keeps to."""

from __future__ import annotations

import re
from collections.abc import Callable
from itertools import pairwise
from pathlib import PurePosixPath
from posixpath import dirname, join, normpath
from typing import Any

import pytest

from upstand.edition import Edition
from upstand.edition.rules.statements import POINTS
from upstand_site.labels import load_labels
from upstand_site.places import find_sources

Read = Callable[[str], Any]

OWN_PAGES = ("details", "substrates", "primers", "resins")
"""Kinds with a page for each record."""

SHARED = {
    "limits": "limits",
    "cautions": "cautions",
    "checks": "checks",
    "sources": "sources",
    "terms": "terms",
    "tools": "tools",
    "packs": "packs",
    "fleeces": "packs",
    "sections": "sections",
    "troubles": "trouble",
    "topics": "look-up",
}
"""Kinds whose records share a page -> that page."""


def test_every_record_has_its_page_or_place(
    edition: Edition, pages: dict[str, str], read: Read
) -> None:
    for folder in ("", "es/"):
        for kind in OWN_PAGES:
            for id in edition.kind(kind):
                assert f"{folder}{kind}/{id}.html" in pages
        for kind, page in SHARED.items():
            ids = [
                id
                for name, html in pages.items()
                if re.fullmatch(rf"{folder}{page}(-[a-z0-9-]+)?\.html", name)
                for id in read(html).ids
            ]
            for id in edition.kind(kind):
                assert id in ids, f"{folder}{page}.html has no place for {kind}/{id}"


def test_both_languages_have_the_same_pages(pages: dict[str, str]) -> None:
    english = {name for name in pages if not name.startswith("es/")}
    assert {name.removeprefix("es/") for name in pages if name.startswith("es/")} == english
    for name, html in pages.items():
        lang = "es" if name.startswith("es/") else "en"
        assert f'<html lang="{lang}"' in html, name


def test_every_link_resolves_and_leads_nowhere_else(
    pages: dict[str, str], folder: Any, read: Read
) -> None:
    seen = {name: read(html) for name, html in pages.items()}
    for name, page in seen.items():
        assert len(page.ids) == len(set(page.ids)), f"{name} has an id twice"
        for tag, attribute, target in page.links:
            where = f"{name}: <{tag} {attribute}={target!r}>"
            assert not re.match(r"[a-z][a-z0-9+.-]*:|//", target), f"{where} leads elsewhere"
            file, _, anchor = target.partition("#")
            path = normpath(join(dirname(name), file)) if file else name
            assert (folder / path).is_file(), f"{where} leads to nothing"
            if anchor:
                assert anchor in seen[path].ids, f"{where} has no such place"


def test_scripts_and_styles_name_no_address(folder: Any) -> None:
    """Nothing is fetched from elsewhere: no address in what we wrote or put together."""
    for path in [
        *folder.glob("assets/**/*.*"),
        *folder.glob("*.js"),
        *folder.glob("*.webmanifest"),
    ]:
        if path.suffix in (".png", ".gz"):
            continue
        for found in re.findall(r"https?://[^\s\"'<>)]+", path.read_text("utf-8")):
            assert found == "http://www.w3.org/2000/svg", f"{path.name}: {found}"


def test_no_cell_is_empty_and_no_slot_is_open(pages: dict[str, str], read: Read) -> None:
    for name, html in pages.items():
        page = read(html)
        if not name.endswith("record.html"):  # cells to be filled in by hand
            for cell in page.cells:
                assert cell.text.strip(), f"{name}: an empty cell under {cell.label!r}"
        assert not re.search(r"\{[a-z_]+\}", page.text), name
        assert not {cell.text.strip() for cell in page.cells} & {"None", "null", "-"}, name
        for word in ("mappingproxy", "Traced(", "undefined", "NaN"):
            assert word not in page.text, f"{name}: {word}"


UNITS = "mil|gal|sq ft|fl oz|ft²|°F|°C|mph|lb|mm|ppm|psi|ml|min"


def test_a_number_and_its_unit_never_part(pages: dict[str, str], read: Read) -> None:
    parted = re.compile(rf"\d (?:{UNITS}|%)(?![\w])|\d (?:in|ft)(?=[.,;:)])|\d \d+/\d+")
    for name, html in pages.items():
        text = read(html).text
        found = parted.search(text)
        assert not found, f"{name}: …{text[max(0, found.start() - 30) : found.end() + 10]}…"


def test_steps_are_numbered_on_past_every_hold(
    edition: Edition, pages: dict[str, str], read: Read
) -> None:
    numbered = 0
    for name, html in pages.items():
        for steps in read(html).steps:
            assert steps == [str(n) for n in range(1, len(steps) + 1)], name
            numbered += 1
        for block in re.findall(r'<div class="steps">(.*?)\n</div>', html, re.S):
            assert block.count("<ol>") == 1, f"{name}: the order of work is in pieces"
    assert numbered > 2 * len(edition.kind("details"))


def test_cautions_come_first(edition: Edition, pages: dict[str, str]) -> None:
    """On every detail the box of cautions stands before the first heading."""
    for folder in ("", "es/"):
        for id in edition.kind("details"):
            html = pages[f"{folder}details/{id}.html"]
            article = html[html.index("<article") :]
            assert re.search(r'class="admonition (danger|warning)"', article), id
            assert article.index('class="admonition ') < article.index("<h2"), id


def test_headings_skip_no_level(pages: dict[str, str], read: Read) -> None:
    for name, html in pages.items():
        levels = read(html).headings
        assert levels.count(1) == 1, name
        assert levels[0] == 1, name
        for before, after in pairwise(levels):
            assert after <= before + 1, name


def test_every_value_says_its_grade(edition: Edition, pages: dict[str, str], read: Read) -> None:
    for lang, folder in (("en", ""), ("es", "es/")):
        words = {load_labels(lang)(f"grade.{value.grade}") for value in every_value(edition)}
        for kind in ("primers", "resins"):
            for record in edition.kind(kind).values():
                page = read(pages[f"{folder}{kind}/{record.id}.html"])
                rows = [row for row in page.rows if len(row) == 3]
                assert len(rows) >= len(record.values()) - 1, record.path
                for row in rows:
                    if row[2].label == load_labels(lang)("head.grade"):
                        assert any(word in row[2].text for word in words), row


def every_value(edition: Edition) -> Any:
    for path in edition.paths():
        yield from edition.record(path).values().values()


def _plain(text: str) -> str:
    """Put text on one line, without what keeps numbers and units together."""
    return " ".join(text.replace("\u2060", "").replace("\u00a0", " ").split())


def test_a_sentence_that_points_at_a_statement_has_it_beside(
    edition: Edition, pages: dict[str, str], read: Read
) -> None:
    checks = [check for check in edition.kind("checks").values() if check.has("standard")]
    found = 0
    for path, html in pages.items():
        lang = "es" if path.startswith("es/") else "en"
        text = _plain(read(html).text)
        for check in checks:
            good = check.text("acceptance", lang)
            if POINTS[lang].search(good) and _plain(good) in text:
                assert _plain(check.get("standard")["says"][lang]) in text, (path, check.id)
                found += 1
    assert found >= 20


def test_labels_are_the_same_in_every_language() -> None:
    english, spanish = load_labels("en"), load_labels("es")
    assert set(english.texts) == set(spanish.texts)
    for name, text in english.texts.items():
        slots = sorted(re.findall(r"{(\w+)}", text))
        assert slots == sorted(re.findall(r"{(\w+)}", spanish.texts[name])), name
        if name not in ("site.english", "no") and len(text) > 12:
            assert text != spanish.texts[name], f"{name} is not translated"


def test_every_label_is_used() -> None:
    sources = find_sources()
    code = "\n".join(
        path.read_text("utf-8")
        for pattern in ("upstand_site/**/*.py", "theme/**/*.html")
        for path in sources.glob(pattern)
    )
    families = set(re.findall(r'label\(\s*f?"([a-z-]+)\.', code)) | {
        "site",
        "nav",
        "head",
        "reckon",
    }
    for name in load_labels("en").texts:
        head = name.partition(".")[0]
        assert head in families or f'"{name}"' in code or '"{kind}-lead"' in code, name


def test_hand_written_pages_have_the_same_places() -> None:
    folder = find_sources() / "pages"
    for path in sorted((folder / "en").glob("*.md")):
        english, spanish = path.read_text("utf-8"), (folder / "es" / path.name).read_text("utf-8")
        for pattern in (r"\{#([a-z-]+)\}", r"\]\(([^)]+)\)", r"^!!! (\w+)", r"<!-- (\w+) -->"):
            assert re.findall(pattern, english, re.M) == re.findall(pattern, spanish, re.M), (
                path.name,
                pattern,
            )


@pytest.mark.parametrize("name", ["manifest-en.webmanifest", "manifest-es.webmanifest"])
def test_manifests_name_what_is_there(folder: Any, name: str) -> None:
    import json

    manifest = json.loads((folder / name).read_text("utf-8"))
    assert manifest["scope"] == "./"
    for path in [manifest["start_url"], *(icon["src"] for icon in manifest["icons"])]:
        assert (folder / PurePosixPath(path)).is_file(), path


def test_every_detail_shows_its_drawings_its_order_and_its_pieces(pages: dict[str, str]) -> None:
    """Section, plan and cut sheet of its own example; where sizes are measured, a sketch of it."""
    drawn = [name for name in pages if name.endswith("-cut.html")]
    assert len(drawn) == 2 * 16  # every detail that is measured, in both languages
    for name in drawn:
        page = name.removesuffix("-cut.html")
        id, html = page.rpartition("/")[2], pages[f"{page}.html"]
        assert f'href="{id}-cut.html"' in html, name
        for view in ("section", "plan"):
            assert re.search(rf'id="{id}-{view}-(us|si)-t"', html), f"{name}: no {view}"
        assert 'id="order"' in html and 'id="quantities"' in html, name
        assert re.search(rf'id="{id}(-us|-si)?-cuts-t"', pages[name]), name
        members = id in ("post", "pipe", "cable", "hot-pipe", "cluster", "support", "corner")
        sketched = re.search(rf'id="{id}(-us|-si)?-measures-t"', pages[name]) is not None
        assert sketched is not members, name
