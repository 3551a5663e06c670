"""How pages look, measured in Chromium: size of type, nothing cut off, contrast, print."""

from __future__ import annotations

import csv
import re
import shutil
import subprocess
from functools import partial
from pathlib import Path
from typing import Any

import pytest

from upstand.edition import Edition

pytestmark = pytest.mark.browser

# one page of each kind; every kind is looked at in both languages
KINDS = (
    "index.html",
    "details/post.html",
    "details/wall-base.html",
    "details/expansion-joint.html",
    "details/index.html",
    "details/post-cut.html",
    "substrates/carbon-steel.html",
    "substrates/asbestos-cement.html",
    "primers/thermoplastic.html",
    "resins/pmma.html",
    "limits.html",
    "cautions.html",
    "checks.html",
    "weather.html",
    "clock.html",
    "days-ahead.html",
    "which-primer.html",
    "reckon.html",
    "tools.html",
    "packs.html",
    "sections.html",
    "terms.html",
    "sources.html",
    "grades.html",
    "reading.html",
    "offline.html",
    "overlays.html",
    "trouble.html",
    "record.html",
    "about.html",
    "not-found.html",
)
EVERY = [f"{folder}{name}" for folder in ("", "es/") for name in KINDS]
MEASURES = Path(__file__).with_name("measures.js").read_text("utf-8")


def measured(page: Any, what: str) -> Any:
    """Measure on a page what one function of measures.js looks for."""
    page.evaluate(f"() => {{ {MEASURES} }}")
    return page.evaluate(f"() => window.{what}()")


@pytest.fixture(scope="module")
def phone(browser: Any) -> Any:
    context = browser.new_context(viewport={"width": 390, "height": 844})
    yield context
    context.close()


@pytest.fixture(scope="module")
def desk(browser: Any) -> Any:
    context = browser.new_context(viewport={"width": 1280, "height": 800})
    yield context
    context.close()


@pytest.mark.parametrize("name", EVERY)
def test_on_a_phone(phone: Any, folder: Path, name: str) -> None:
    """Nothing under 16 px, nothing cut off, contrast of 7 to 1, labels inside their drawings."""
    page = phone.new_page()
    page.goto((folder / name).as_uri())
    for fold in page.query_selector_all("article details"):
        fold.evaluate("(one) => { one.open = true; }")
    assert measured(page, "small_text") == []
    assert measured(page, "cut_off") == []
    assert measured(page, "labels") == []
    assert measured(page, "gray") == []
    page.close()


@pytest.mark.parametrize("name", [*KINDS, "es/details/post.html", "es/weather.html"])
def test_on_a_desk(desk: Any, folder: Path, name: str) -> None:
    page = desk.new_page()
    page.goto((folder / name).as_uri())
    assert measured(page, "small_text") == []
    assert measured(page, "cut_off") == []
    page.close()


@pytest.mark.parametrize("name", ["details/post.html", "es/substrates/lead.html", "reading.html"])
def test_in_the_dark(browser: Any, folder: Path, name: str) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 844}, color_scheme="dark")
    page = context.new_page()
    page.goto((folder / name).as_uri())
    assert measured(page, "gray") == []
    context.close()


@pytest.mark.parametrize("name", EVERY)
def test_axe_finds_nothing(phone: Any, folder: Path, name: str) -> None:
    axe = pytest.importorskip("axe_playwright_python.sync_playwright").Axe()
    page = phone.new_page()
    page.goto((folder / name).as_uri())
    found = axe.run(page)
    assert found.violations_count == 0, found.generate_report()
    page.close()


@pytest.mark.parametrize("name", ["index.html", "es/details/post.html"])
def test_axe_finds_nothing_in_search_and_menu(phone: Any, folder: Path, name: str) -> None:
    axe = pytest.importorskip("axe_playwright_python.sync_playwright").Axe()
    page = phone.new_page()
    page.goto((folder / name).as_uri())
    page.click("#menu-open")
    found = axe.run(page)
    assert found.violations_count == 0, found.generate_report()
    page.keyboard.press("Escape")
    assert page.evaluate("document.activeElement.id") == "menu-open"
    page.click("#search-open")
    page.fill("#search-words", "tpo")
    page.wait_for_selector("#search-found a")
    found = axe.run(page)
    assert found.violations_count == 0, found.generate_report()
    page.close()


@pytest.mark.parametrize("name", ["index.html", "details/post.html", "es/details/index.html"])
def test_big_targets(phone: Any, folder: Path, name: str) -> None:
    """What is pressed with a glove on is at least 44 px high: buttons, menu, lists of links."""
    page = phone.new_page()
    page.goto((folder / name).as_uri())
    assert measured(page, "small_targets") == []
    page.close()


@pytest.mark.parametrize("name", ["index.html", "details/post.html", "es/reckon.html"])
def test_nothing_is_asked_of_any_other_place(
    browser: Any, folder: Path, served: str, name: str
) -> None:
    """A page, its scripts and its search ask for nothing but files of the handbook."""
    for start in (served, folder.as_uri() + "/"):
        context = browser.new_context(viewport={"width": 390, "height": 844})
        page = context.new_page()
        asked: list[str] = []
        faults: list[str] = []
        context.on("request", partial(_keep, asked, "url"))
        page.on("pageerror", partial(_keep, faults, "message"))
        page.on("console", partial(_keep, faults, "text"))
        page.goto(start + name)
        page.click("#search-open")
        page.fill("#search-words", "lead")
        page.wait_for_selector("#search-found a")
        assert len(asked) > 4
        assert [url for url in asked if not url.startswith(start)] == []
        assert faults == []
        context.close()


def _keep(found: list[str], what: str, event: Any) -> None:
    found.append(getattr(event, what))


def test_works_without_scripts(browser: Any, folder: Path) -> None:
    """The menu stands at the foot, and the page is whole."""
    context = browser.new_context(viewport={"width": 390, "height": 844}, java_script_enabled=False)
    page = context.new_page()
    page.goto((folder / "details/post.html").as_uri())
    page.click("#menu-open")
    assert page.get_by_role("link", name="Surfaces", exact=True).first.is_visible()
    page.get_by_role("link", name="Surfaces", exact=True).first.click()
    assert page.inner_text("h1") == "Surfaces"
    context.close()


NARROW = "Liberation Sans Narrow"


SHEETS = {
    "details/post.html": 2,
    "es/details/post.html": 2,
    "details/scupper.html": 3,
    "es/details/scupper.html": 3,
    "es/details/threshold.html": 3,
}


@pytest.mark.parametrize("name", SHEETS)
def test_a_detail_prints_on_few_sheets(
    browser: Any, folder: Path, tmp_path: Path, name: str
) -> None:
    """Few pages of letter paper, the first in 11 pt or more; no part of the screen's frame."""
    fonts = shutil.which("fc-list")
    if (
        fonts is None
        or NARROW not in subprocess.run([fonts], capture_output=True, text=True, check=True).stdout
    ):
        pytest.skip("the narrow font that paper is laid out with is not installed")
    page = browser.new_page()
    page.goto((folder / name).as_uri())
    out = tmp_path / "post.pdf"
    page.pdf(path=str(out), prefer_css_page_size=True)
    assert len(re.findall(rb"/Type\s*/Page\b", out.read_bytes())) <= SHEETS[name]
    page.emulate_media(media="print")
    for frame in (".top", ".toc", ".menu", "#search", "#print", "#offline"):
        assert not page.is_visible(frame), frame
    for kept in (
        ".sheet .danger",
        ".sheet .holds",
        ".plan svg",
        "#limits",
        "#confirm",
        ".sizes tr:last-child",
        ".steps .hold",
        ".steps .danger",
        ".stamp",
    ):
        assert page.is_visible(kept), kept
    size = page.eval_on_selector(".sheet", "(one) => parseFloat(getComputedStyle(one).fontSize)")
    assert size >= 11 * 96 / 72 - 0.01
    page.close()


@pytest.mark.parametrize("folder_of", ["", "es/"])
def test_paper_has_the_words_of_checks_made_before(
    browser: Any, folder: Path, edition: Edition, folder_of: str
) -> None:
    """Made before, on a screen a check is a name; paper also says how, and when it is good."""
    lang = folder_of.strip("/") or "en"
    page = browser.new_page()
    page.emulate_media(media="print")
    page.goto((folder / f"{folder_of}details/post.html").as_uri())
    said = " ".join(page.inner_text("#confirm ~ .days-ahead").replace("\u00a0", " ").split())
    said += " ".join(page.inner_text("#confirm ~ .before-ladder").replace("\u00a0", " ").split())
    for id in ("peel-test", "permits-in-hand", "edge-protection", "material-in-date"):
        check = edition.record(f"checks/{id}")
        for field in ("method", "acceptance"):
            assert " ".join(check.text(field, lang).split()) in said, (id, field)
    page.close()


LONGEST = {"": {"details": 15, "other": 10}, "es/": {"details": 16, "other": 10}}
"""Screens of 390 by 844 that no page goes over, every fold open; Spanish runs longer."""


@pytest.mark.parametrize("folder_of", ["", "es/"])
def test_screens_of_each_page(phone: Any, folder: Path, folder_of: str) -> None:
    """What is counted is the page as it opens: one size picked, the others aside."""
    long = []
    for path in sorted((folder / folder_of).rglob("*.html")):
        name = path.relative_to(folder).as_posix()
        if name.startswith("es/") is not bool(folder_of):
            continue
        page = phone.new_page()
        page.goto(path.as_uri())
        page.evaluate("document.querySelectorAll('article details').forEach((d) => d.open = true)")
        screens = page.evaluate("document.documentElement.scrollHeight / innerHeight")
        page.close()
        works = "details/" in name and not name.endswith(
            ("-numbers.html", "-cut.html", "index.html")
        )
        if screens > LONGEST[folder_of]["details" if works else "other"]:
            long.append((name, round(screens, 1)))
    assert long == []


def test_a_size_that_is_picked_changes_numbers_and_steps(phone: Any, folder: Path) -> None:
    """A 6 in square tube: fleece 5 in past each face on the roof is 15 in; tape 1/2 in beyond."""
    page = phone.new_page()
    page.goto((folder / "details/post.html").as_uri())
    page.select_option("#size", label="Tube 6\u00a0×\u00a06\u00a0×\u00a01/4\u00a0in")
    seen = page.inner_text("article").replace("\u00a0", " ")
    assert "15 in × 15 in on the roof" in seen
    assert "13 in × 13 in on the roof" not in seen
    page.close()


def test_units_are_chosen_and_kept_on_the_device(browser: Any, folder: Path) -> None:
    """Inside the tape a post takes 13 in, 330 mm: as the engine says it in each system."""
    context = browser.new_context(viewport={"width": 390, "height": 844})
    page = context.new_page()
    page.goto((folder / "details/post.html").as_uri())
    assert "13 in × 13 in" in page.inner_text("article").replace("\u00a0", " ")
    page.click("#units")
    page.goto((folder / "es/details/post.html").as_uri())
    text = page.inner_text("article").replace("\u00a0", " ")
    assert "330 mm × 330 mm" in text  # 13 in × 25.4 mm is 330.2 mm
    assert "13 in × 13 in" not in text
    assert measured(page, "small_text") == []
    assert measured(page, "cut_off") == []
    assert measured(page, "labels") == []
    page.click("#units")
    assert "13 in × 13 in" in page.inner_text("article").replace("\u00a0", " ")
    context.close()


@pytest.mark.parametrize("name", ["record.html", "es/record.html"])
def test_the_record_is_filled_in_kept_saved_and_cleared(
    browser: Any, folder: Path, tmp_path: Path, name: str
) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 844}, accept_downloads=True)
    page = context.new_page()
    page.goto((folder / name).as_uri())
    fields = page.locator(".record textarea")
    assert fields.count() == len(page.query_selector_all(".record td:not(:first-child)"))
    assert fields.count() > 60
    fields.nth(0).fill('Roof 3, "north"')
    fields.nth(6).fill("=1+1")
    assert measured(page, "small_text") == []
    assert measured(page, "cut_off") == []
    assert all(
        box["height"] >= 44
        for box in page.evaluate(
            "[...document.querySelectorAll('textarea')].map((f) => f.getBoundingClientRect())"
        )
    )
    page.reload()
    assert fields.nth(0).input_value() == 'Roof 3, "north"'
    with page.expect_download() as download:
        page.click("#record-save")
    download.value.save_as(tmp_path / "record.csv")
    with (tmp_path / "record.csv").open(encoding="utf-8-sig", newline="") as file:
        rows = list(csv.reader(file))
    assert rows[1][1] == 'Roof 3, "north"'
    assert "'=1+1" in [cell for row in rows for cell in row]  # a spreadsheet reads no formula
    page.click("#record-clear")
    assert fields.nth(0).input_value() == 'Roof 3, "north"'
    page.click("#record-clear")
    assert fields.nth(0).input_value() == ""
    page.reload()
    assert fields.nth(0).input_value() == ""
    context.close()


def test_ticks_and_size_are_kept_on_the_device(phone: Any, folder: Path) -> None:
    page = phone.new_page()
    page.goto((folder / "details/post.html").as_uri())
    page.check(".steps li:nth-child(3) input")
    page.select_option("#size", index=2)
    page.reload()
    assert page.is_checked(".steps li:nth-child(3) input")
    assert not page.is_checked(".steps li:nth-child(4) input")
    assert page.eval_on_selector("#size", "(one) => one.selectedIndex") == 2
    page.click("#clear-ticks")
    assert not page.is_checked(".steps li:nth-child(3) input")
    page.close()
