"""Answers above the hits: the edition's limits against what was typed, and nothing on a guess."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from upstand.edition import Edition
from upstand_site.answers import answers_of
from upstand_site.context import Context
from upstand_site.examples import load_samples
from upstand_site.labels import load_labels
from upstand_site.places import find_sources

LANGS = ("en", "es")


@pytest.fixture(scope="module")
def tools(browser: Any, folder: Path) -> Any:
    """A page a language with the search's scripts in it, opened from the folder."""
    pages = {}
    for lang, place in (("en", ""), ("es", "es/")):
        page = browser.new_page()
        page.goto((folder / place / "index.html").as_uri())
        for name in ("answers.js", f"search-{lang}.js", "search.js"):
            page.add_script_tag(url=(folder / "assets" / name).as_uri())
        page.add_script_tag(url=(folder / "vendor/minisearch/minisearch.js").as_uri())
        page.evaluate("window.find = upstandFinder(MiniSearch, upstandSearch); 0")
        pages[lang] = page
    yield pages
    for page in pages.values():
        page.close()


def asked(tools: Any, lang: str, text: str) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = tools[lang].evaluate("(text) => find.answers(text)", text)
    return found


#: what was typed -> the readings that are answered, each with hold (air and surface 40 to 90 °F)
TEMPERATURES = {
    "38 degrees": ["hold 38"],
    "38F": ["hold 38"],
    "38 °f and windy": ["hold 38"],
    "3 °C": ["hold 37.4"],
    "38 grados": ["hold 38"],
    "frío 38": ["hold 38"],
    "cold 38": ["hold 38"],
    "minus 5 C": ["hold 23"],
    "-5 C": ["hold 23"],
    "40 F": ["note 40"],
    "90 F": ["note 90"],
    "91 F": ["hold 91"],
    "32.2 C": ["note 90"],
    "32.3 C": ["hold 90.1"],
    "steel angle through TPO, it's 45 degrees": ["note 45"],
    "surface 48, air 47, 80 percent": ["note 48", "note 47"],
}


@pytest.mark.browser
@pytest.mark.parametrize("lang", LANGS)
@pytest.mark.parametrize("typed", TEMPERATURES)
def test_a_temperature_is_held_against_the_limits(tools: Any, lang: str, typed: str) -> None:
    found = []
    for card in asked(tools, lang, typed):
        if "°F" in card["title"]:
            reading = card["title"].partition("\u00a0°F")[0].replace("(", " ").split()[-1]
            found.append(f"{card['kind']} {reading}")
    assert sorted(found) == sorted(TEMPERATURES[typed])


NO_GUESS = [
    "45 mil sheet", "4 inch pipe", "45 degree angle", "ángulo de 45 grados",
    "codo de 90 grados", "45 degree elbow pvc", "angle 45 degrees", "6 C channel", "C8x11.5",
    "2 c/u", "hot pipe 4",
    "schedule 40 pvc", "hot pipe 400F", "wet film gauge", "wet insulation", "canal de lluvia",
    "wind meter", "3/4 f", "304 stainless", "60 mil tpo", "outside corner 4 in", "damp", "post",
]  # fmt: skip


@pytest.mark.browser
@pytest.mark.parametrize("lang", LANGS)
def test_a_size_an_angle_or_a_thing_gets_no_answer(tools: Any, lang: str) -> None:
    for typed in NO_GUESS:
        cards = [card["title"] for card in asked(tools, lang, typed)]
        assert bool(cards) == (typed == "damp"), (typed, cards)


@pytest.mark.browser
@pytest.mark.parametrize(
    ("typed", "kind", "title"),
    [
        ("wet block wall", "hold", "Wet, damp"),
        ("muro mojado", "hold", "Wet, damp"),
        ("rain 40%", "hold", "Rain: under 30"),
        ("rain 30 percent", "hold", "Rain: under 30"),
        ("rain 29 %", "note", "Rain: under 30"),
        ("chance of rain", "note", "Rain: under 30"),
        ("it is raining", "hold", "Rain: under 30"),
        ("wind 26 mph", "hold", "Wind: at most 25"),
        ("wind 25 mph", "note", "Wind: at most 25"),
        ("mucho viento", "note", "Wind: at most 25"),
        ("dew point", "note", "Dew point: 5.4"),
        ("hardened pail", "note", "The pail set"),
        ("mezcla dura", "note", "The pail set"),
        ("resin still sticky", "note", "The film stays sticky"),
        ("resina pegajosa", "note", "The film stays sticky"),
        ("primer that went off", "note", "The window after the primer"),
    ],
)
def test_what_stops_work_is_answered(tools: Any, typed: str, kind: str, title: str) -> None:
    [card] = asked(tools, "en", typed)
    assert card["kind"] == kind
    assert card["title"].removeprefix("HOLD: ").startswith(title)
    assert "always governs" in card["governs"] and card["grade"] and card["links"]
    [spanish] = asked(tools, "es", typed)
    assert spanish["kind"] == kind and spanish["title"] != card["title"]


@pytest.mark.browser
def test_a_pail_is_answered_by_its_own_limits(tools: Any) -> None:
    """At 88 °F a pot life stated as 25 min at 70 °F is halved once: 12.5; less 20 %: 10."""
    [card] = asked(tools, "en", "pot life 88 F")
    assert card["kind"] == "note" and card["title"] == "88\u00a0°F in the pail"
    assert "12\u00a0min, plan on 10\u00a0min" in card["lines"][0]
    [cold] = asked(tools, "en", "pails at 50 F")
    assert cold["kind"] == "hold" and "60" in cold["lines"][0]


def test_no_number_is_written_by_hand(edition: Edition) -> None:
    """The numbers compared with are the edition's; the handbook's own words hold none."""
    limits = edition.kind("limits")
    sources = find_sources()
    for lang in LANGS:
        labels = load_labels(lang, sources)
        held = answers_of(Context(edition, lang, labels, load_samples(sources)))
        assert held["rain"]["under"] == limits["rain"].value("under").magnitude("percent")
        assert held["wind"]["most"] == limits["wind"].value("at_most").magnitude("mph")
        for name, text in labels.texts.items():
            if name.startswith("card."):
                assert not any(sign.isdigit() for sign in text), name


@pytest.mark.browser
def test_the_answer_stands_above_the_hits_for_keys_and_screen_readers(
    browser: Any, folder: Path
) -> None:
    page = browser.new_page(viewport={"width": 390, "height": 844})
    page.goto((folder / "index.html").as_uri())
    page.keyboard.press("/")
    page.keyboard.type("38 degrees")
    page.wait_for_selector("#search-cards section")
    card = page.get_by_role("region", name="HOLD: 38")
    assert card.is_visible()
    assert page.locator("#search-cards").get_attribute("aria-live") == "polite"
    assert page.inner_text("#search-count").startswith("An answer first")
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.closest('#search-cards') !== null")
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    page.fill("#search-words", "45 mil sheet")
    page.wait_for_function("document.querySelectorAll('#search-cards section').length === 0")
    page.close()
