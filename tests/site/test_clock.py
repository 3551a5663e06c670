"""The day clock: by the wall clock, over reloads and sleep, never past the engine's pot life."""

from __future__ import annotations

import json
import math
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from upstand.edition import Edition
from upstand_site.by_degree import MATERIAL, SURFACE, mixed_products, pot_lives, waits

EARLIER, NINE = "2026-11-24T08:59:59-06:00", "2026-11-24T09:00:00-06:00"


def test_pot_life_by_degree_is_the_halving_rule_by_hand(edition: Edition) -> None:
    """25 min at 70 °F, 18 °F a halving, never longer than stated; 20 % is kept off."""
    lives = pot_lives(edition, edition.record("resins/pu-2k"))
    assert lives[70 - MATERIAL[0]] == (25, 20)
    assert lives[55 - MATERIAL[0]] == (25, 20)
    assert lives[88 - MATERIAL[0]] == (12, 10)
    for degrees in range(MATERIAL[0], MATERIAL[1] + 1):
        exact = min(25.0, 25.0 * 2 ** ((70 - degrees) / 18))
        life = lives[degrees - MATERIAL[0]]
        assert life is not None
        assert life == (math.floor(exact + 1e-6), math.floor(exact * 0.8 + 1e-6))


def test_waits_by_degree_grow_in_the_cold_alone(edition: Edition) -> None:
    """Watertight 2 to 4 h at 70 °F: twice that at 52 °F, no less at 90 °F, none below 40 °F."""
    tight = waits(edition, edition.record("resins/pu-2k"), "watertight")
    at = {degrees: tight[degrees - SURFACE[0]] for degrees in (39, 52, 70, 90)}
    assert at == {39: None, 52: (240, 480), 70: (120, 240), 90: (120, 240)}


def test_the_table_on_paper_holds_each_product_that_is_mixed(
    pages: dict[str, str], edition: Edition
) -> None:
    for name, plan in (("clock.html", "25 min, plan on 20"), ("es/clock.html", "cuente con 20")):
        page = pages[name].replace("\u00a0", " ").replace("&nbsp;", " ")
        assert "needs-js" in page and "<noscript>" in page
        lang = "es" if name.startswith("es") else "en"
        for product in mixed_products(edition):
            assert product.text("name", lang).partition(",")[0] in page
        assert plan in page


@pytest.fixture
def clock(browser: Any, folder: Path) -> Iterator[Any]:
    """A phone at nine in the morning, with the clock's page open."""
    context = browser.new_context(
        viewport={"width": 390, "height": 844}, timezone_id="America/Chicago"
    )
    page = context.new_page()
    page.clock.install(time=EARLIER)
    page.clock.pause_at(NINE)
    page.goto((folder / "clock.html").as_uri())
    yield page
    context.close()


def start(page: Any, material: str = "", surface: str = "", name: str = "") -> None:
    for field, text in (("material", material), ("surface", surface), ("name", name)):
        page.fill(f"#clock-{field}", text)
    page.click(".clock-start")


def left(page: Any, number: int = 0) -> str:
    text: str = page.locator(".mix-left").nth(number).inner_text()
    return text.replace("\u00a0", " ")


@pytest.mark.browser
def test_it_counts_down_and_stops_at_the_margin_then_at_the_end(clock: Any) -> None:
    """At 70 °F: 20 min to place, pot life over at 25 min."""
    start(clock, "70", "70")
    assert left(clock) == "20 min left to place"
    text = clock.inner_text("#clock-mixes").replace("\u00a0", " ").replace("\u202f", " ")
    assert "Last of it placed by 9:20 AM; pot life ends at 9:25 AM." in text
    assert "Watertight, expected from 11:00 AM to 1:20 PM" in text
    clock.clock.fast_forward("14:59")
    assert left(clock) == "6 min left to place"
    clock.clock.fast_forward("00:02")
    assert left(clock) == "5 min left to place"
    assert "soon" in (clock.locator(".mix").get_attribute("class") or "")
    clock.clock.fast_forward("05:00")
    assert left(clock) == "STOP placing: pot life ends in 5 min"
    clock.clock.fast_forward("05:00")
    assert left(clock).startswith("POT LIFE OVER")
    assert "POT LIFE OVER" in clock.inner_text("#clock-told")
    assert clock.evaluate("upstandAlarms") == 3


@pytest.mark.browser
def test_it_survives_a_reload_and_a_screen_that_slept(clock: Any) -> None:
    """Time that no timer saw is counted all the same: it is the wall clock's."""
    start(clock, "70", "", "post 3")
    clock.clock.fast_forward("05:00")
    start(clock, "88")
    clock.reload()
    assert [left(clock, n) for n in (0, 1)] == ["10 min left to place", "15 min left to place"]
    assert "post 3" in clock.inner_text(".mix >> nth=1")
    clock.goto("about:blank")
    clock.clock.fast_forward("11:00")
    clock.go_back()
    clock.wait_for_selector(".mix")
    assert left(clock, 0).startswith("STOP placing")
    assert left(clock, 1) == "4 min left to place"


@pytest.mark.browser
def test_between_two_degrees_pot_life_is_the_warmer_ones(clock: Any) -> None:
    """At 87.2 °F it is read at 88 °F: 10 min to place, not the 10.3 of 87.2 °F."""
    start(clock, "87.2")
    assert left(clock) == "10 min left to place"


@pytest.mark.browser
def test_what_was_not_measured_is_planned_warm_and_said(clock: Any) -> None:
    """80 °F is planned on: 25 min halved by 10/18 of a step is 17; 13 to place."""
    start(clock)
    assert left(clock) == "13 min left to place"
    assert "Material not measured: planned on 80" in clock.inner_text("#clock-mixes")


@pytest.mark.browser
def test_cold_material_holds_and_a_wrong_number_starts_nothing(clock: Any) -> None:
    start(clock, "55")
    assert "HOLD: the material is at 55" in clock.inner_text(".mix .hold")
    start(clock, "seventy")
    assert clock.locator(".mix").count() == 1
    assert "Write a number" in clock.inner_text("#clock-material-fault")
    assert clock.evaluate("document.activeElement.id") == "clock-material"


@pytest.mark.browser
def test_without_a_pot_life_on_file_it_counts_up(clock: Any) -> None:
    clock.select_option("#clock-product", "pmma")
    start(clock, "60")
    clock.clock.fast_forward("03:00")
    assert left(clock) == "3 min since the parts met"
    assert "own sheet" in clock.inner_text(".mix .hold")


@pytest.mark.browser
def test_a_running_mix_is_removed_only_when_that_is_meant(clock: Any) -> None:
    start(clock, "70")
    clock.once("dialog", lambda dialog: dialog.dismiss())
    clock.click(".mix-remove")
    assert clock.locator(".mix").count() == 1
    clock.once("dialog", lambda dialog: dialog.accept())
    clock.click(".mix-remove")
    assert clock.locator(".mix").count() == 0
    assert json.loads(clock.evaluate("localStorage.getItem('upstand:clock')"))["mixes"] == []


@pytest.mark.browser
def test_where_the_screen_cannot_be_kept_on_it_says_so(clock: Any) -> None:
    clock.evaluate("Object.defineProperty(Navigator.prototype, 'wakeLock', {value: undefined}); 0")
    clock.evaluate("delete Navigator.prototype.wakeLock; 0")
    clock.check("#clock-wake")
    start(clock, "70")
    assert "can't keep the screen on" in clock.inner_text("#clock-wake-note")
