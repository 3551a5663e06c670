"""Which primer on what, and what is needed days ahead: whole, and as the edition says."""

from __future__ import annotations

import re
from typing import Any

import pytest

from upstand.edition import Edition

Places = dict[str, str]


def words(html: str) -> str:
    text = re.sub(r"<[^>]+>", " ", html)
    return " ".join(text.replace("\u00a0", " ").replace("\u2060", "").split())


@pytest.mark.parametrize("place", ["", "es/"])
def test_every_check_of_days_ahead_stands_on_its_page(
    pages: Places, edition: Edition, place: str
) -> None:
    page = pages[f"{place}days-ahead.html"]
    ticks = re.findall(r'data-tick="([a-z0-9-]+)"', page)
    ahead = [c.id for c in edition.kind("checks").values() if c.get("by") == "days-ahead"]
    assert sorted(ticks) == sorted(ahead) and len(ahead) > 20
    assert len(re.findall(r"<li>\s*<p><label", page)) == len(ahead), (
        "an item is no item of its list"
    )
    lang = place.strip("/") or "en"
    for id in ahead:
        check = edition.record(f"checks/{id}")
        for field in ("name", "method", "acceptance"):
            said = words(check.text(field, lang).replace("<", "&lt;"))
            assert said in words(page), (id, field)


def test_each_check_says_what_calls_for_it(pages: Places) -> None:
    page = words(pages["days-ahead.html"])
    permits = page[page.index("Permits in hand") :]
    assert permits[: permits.index("Clear") if "Clear" in permits else 600].count("every job") >= 1
    concrete = page[page.index("Concrete old enough") :][:500]
    assert "For: Concrete" in concrete


@pytest.mark.parametrize("place", ["", "es/"])
def test_every_surface_has_its_row_with_its_primer(
    pages: Places, edition: Edition, place: str
) -> None:
    page = pages[f"{place}which-primer.html"]
    rows = re.findall(r"<tr[^>]*>(.*?)</tr>", page, flags=re.S)
    for substrate in edition.kind("substrates").values():
        [row] = [
            r for r in rows if re.search(rf'<td[^>]*>\s*<a href="substrates/{substrate.id}\.', r)
        ]
        primer = str(substrate.get("primer"))
        if edition.has(primer):
            assert f"primers/{primer.partition('/')[2]}.html" in row, substrate.id
        else:
            assert "primers/" not in row, substrate.id
        if not edition.has(str(substrate.get("preparation"))):
            assert "#preparation" not in row, substrate.id


def test_a_primer_that_is_not_known_under_a_resin_asks(pages: Places, edition: Edition) -> None:
    """No primer on file is known to go under the methacrylate: four rows, four asks."""
    known = [
        str(each["resin"])
        for primer in edition.kind("primers").values()
        for each in primer.get("under", ())
    ]
    assert "resins/pmma" not in known
    table = pages["which-primer.html"].partition('id="surfaces"')[0]
    cells = re.findall(r'data-label="Methacrylate[^"]*"[^>]*>(.*?)</td>', table, flags=re.S)
    assert [words(cell) for cell in cells] == ["ask"] * len(edition.kind("primers"))


@pytest.mark.browser
def test_ticks_of_days_ahead_are_kept_on_the_device(browser: Any, folder: Any) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 844})
    page = context.new_page()
    page.goto((folder / "days-ahead.html").as_uri())
    page.check('[data-tick="permits-in-hand"]')
    page.reload()
    assert page.is_checked('[data-tick="permits-in-hand"]')
    page.click("#clear-ticks")
    assert not page.is_checked('[data-tick="permits-in-hand"]')
    context.close()


def test_what_a_detail_names_is_said_for_it(pages: Places) -> None:
    """The anchors of a support are in no surface's list, but in the detail's."""
    page = words(pages["days-ahead.html"])
    anchors = page[page.index("Base plate and anchors tight") :][:400]
    assert "For: Support leg" in anchors
