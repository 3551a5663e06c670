"""Film: readings and packs against what a layer must have, each number worked by hand."""

from __future__ import annotations

from typing import Any

import pytest

from upstand.edition import Edition
from upstand.film import Film, film
from upstand.query import QueryFaults
from upstand.query.film import read_film
from upstand.stages.film import readings_needed


@pytest.fixture
def judged(edition: Edition) -> Any:
    def judge(**body: Any) -> Film:
        return film(read_film(body, edition), edition)

    return judge


def mils(*values: int) -> list[str]:
    return [f"{value} mil" for value in values]


def test_all_wetted_goes(judged: Any) -> None:
    found = judged(layer="base", area="2.03 sq ft", readings=mils(40, 40, 45, 40, 45, 40))
    assert found.state == "go"
    assert found.by_gage.short_by.value == 0.0
    assert found.top_up is None


def test_one_short_reading_holds_and_says_how_much(judged: Any) -> None:
    """One of six lacks 5 mil: 2.03 ft² × 144 × (5/6)/1000 in = 0.2436 in³; ÷ 231 = 0.00105 gal."""
    found = judged(layer="base", area="2.03 sq ft", readings=mils(35, 40, 40, 45, 40, 40))
    assert found.state == "hold"
    assert found.by_gage.short == (35.0,)
    assert found.by_gage.short_by.value == pytest.approx(5.0)
    assert found.by_gage.top_up.value == pytest.approx(2.03 * 144 * (5 / 6) / 1000 / 231)
    assert found.top_up.with_allowance.value == pytest.approx(0.00105455 * 1.1, rel=1e-3)
    assert found.top_up.packs == (("pu-2k-1-qt", 1),)


def test_a_gage_that_skips_can_t_tell(judged: Any) -> None:
    """30 wetted and 50 not: the film may be over 40 or under."""
    found = judged(
        layer="base",
        area="2 sq ft",
        readings=mils(30, 30, 30, 30, 30, 30),
        gauge={"teeth": ["20 mil", "30 mil", "50 mil"]},
    )
    assert found.state == "ask"
    assert found.by_gage.unsure == (30.0,) * 6


def test_too_few_readings_are_asked_about(judged: Any) -> None:
    found = judged(layer="base", area="2 sq ft", readings=mils(45))
    assert (found.state, found.notes, found.by_gage.needed) == ("ask", ("film-few",), 6)


def test_a_film_that_shrinks_is_read_wet(judged: Any) -> None:
    """80 % solids: 40 dry is 50 wet, so a 45 with a 5 mil step is short by 5."""
    found = judged(
        layer="base", area="2 sq ft", resin="pu-1k", readings=mils(45, 45, 45, 45, 45, 45)
    )
    assert found.wet.value == pytest.approx(50.0)
    assert found.state == "hold"
    assert found.by_gage.short_by.value == pytest.approx(5.0)


def test_the_whole_is_not_read_on_fleece(judged: Any) -> None:
    found = judged(layer="total", area="2 sq ft", readings=mils(*[100] * 6))
    assert (found.state, "film-on-fleece" in found.notes) == ("ask", True)


def test_top_coat_counts_on_the_rim_alone(judged: Any) -> None:
    found = judged(layer="top", area="2 sq ft", readings=mils(*[25] * 6))
    assert (found.state, found.confirm) == ("go", ("film-top-on-rim",))


def test_a_detail_by_what_was_used(judged: Any, example: dict[str, Any]) -> None:
    """1 qt = 0.25 gal, less 11 fl oz (11/128): 0.1641 gal; ÷ 1.10 = 0.1491.

    Least: need 0.1483 less 292.56 in² of top coat at 25 - 20 mil: 292.56 × 0.005 / 231 = 0.00633.
    """
    found = judged(layer="total", detail=example, packs_used=["pu-2k-1-qt"], left="11 fl oz")
    assert found.state == "go"
    assert found.by_packs.net.value == pytest.approx((0.25 - 11 / 128) / 1.1)
    assert found.by_packs.least_volume.value == pytest.approx(0.1420, abs=5e-5)


def test_an_area_by_what_was_used(judged: Any) -> None:
    """2 qt on 9 ft²: 0.5 / 1.1 × 231 / 1296 in = 81.02 mil; least 40 + 31.29 + 20 = 91.29."""
    found = judged(layer="total", area="9 sq ft", packs_used=[{"pack": "pu-2k-1-qt", "count": 2}])
    assert found.state == "hold"
    assert found.by_packs.mean.value == pytest.approx(0.5 / 1.1 * 231 / 1296 * 1000)
    assert found.by_packs.least_film.value == pytest.approx(91.2927, abs=1e-4)
    assert found.by_packs.short.value == pytest.approx(0.0576, abs=5e-5)
    assert found.top_up.packs == (("pu-2k-1-qt", 1),)
    assert found.confirm == ("film-laps-left-out",)


def test_readings_follow_the_published_count_on_large_areas() -> None:
    """12,500 ft² are 15 areas of five readings: the worked count of the rule for film on metal."""
    assert readings_needed(12_500.0, 2, 3) == 75
    assert readings_needed(25.0, 2, 3) == 6
    assert [readings_needed(a, 2, 3) for a in (26.0, 250.0, 300.0, 700.0, 1_001.0)] == [
        5,
        15,
        15,
        15,
        20,
    ]


@pytest.mark.parametrize(
    ("body", "where", "says"),
    [
        ({"layer": "base", "area": "2 sq ft"}, "/readings", "write one of the two"),
        ({"layer": "base", "readings": ["40 mil"]}, "/area", "write one of the two"),
        ({"layer": "rim", "area": "2 sq ft", "readings": ["40 mil"]}, "/layer", "base, top, total"),
        (
            {"layer": "base", "area": "2 sq ft", "readings": ["40 mil"], "left": "2 fl oz"},
            "/left",
            "packs_used",
        ),
        ({"layer": "base", "area": "2 sq ft", "readings": ["0 mil"]}, "/readings/0", "more than 0"),
        (
            {"layer": "base", "area": "2 sq ft", "packs_used": ["pu-2k-2-qt"]},
            "/packs_used/0",
            "pu-2k-1-qt",
        ),
    ],
)
def test_what_is_wrong_is_named(
    edition: Edition, body: dict[str, Any], where: str, says: str
) -> None:
    with pytest.raises(QueryFaults) as told:
        read_film(body, edition)
    fault = next(f for f in told.value.faults if f.pointer == where)
    assert says in fault.detail
