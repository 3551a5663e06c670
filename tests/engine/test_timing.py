"""Working times at their temperatures: stated at 70 °F, halved every 18 °F, by hand beside."""

from __future__ import annotations

import copy
import math
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from upstand.answer import Answer, answer
from upstand.document.requirements import write
from upstand.edition import Edition, load
from upstand.edition.build import edition as make_edition
from upstand.edition.schema.kinds import KINDS
from upstand.query import read_requirements
from upstand.stages.times import WorkingTime

Ask = Callable[..., Answer]
DRY = {"humidity": "30 %"}


def at(ask: Ask, id: str, **now: str) -> WorkingTime:
    """One time of the example in other weather; material and surface 70 °F unless said."""
    whole = {"air": "70 F", "surface": "70 F", "material": "70 F", **DRY, **now}
    time = ask(now=whole).timing.find(id)
    assert time is not None
    return time


def minutes(time: WorkingTime) -> tuple[float, float]:
    assert time.low is not None and time.high is not None and time.why is None
    return time.low.value, time.high.value


@pytest.mark.parametrize(
    ("material", "resin", "primer"),
    [
        # colder: stated stands; 18 °F warmer: half; 9 °F warmer: over sqrt(2)
        ("55 F", (25, 30), (8, 13)),
        ("70 F", (25, 30), (8, 13)),
        ("79 F", (25 / math.sqrt(2), 30 / math.sqrt(2)), (8 / math.sqrt(2), 13 / math.sqrt(2))),
        ("88 F", (12.5, 15), (4, 6.5)),
        ("106 F", (6.25, 7.5), (2, 3.25)),
        ("-40 F", (25, 30), (8, 13)),
        # 21.1111 C is 70 F and 31.1111 C is 88 F, to the digits given
        ("31.11111 C", (12.5, 15), (4, 6.5)),
    ],
)
def test_pot_life_goes_by_the_material(
    ask: Ask, material: str, resin: tuple[float, float], primer: tuple[float, float]
) -> None:
    assert minutes(at(ask, "pot-life/pu-2k", material=material)) == pytest.approx(resin, rel=1e-6)
    assert minutes(at(ask, "pot-life/metal-wood", material=material)) == pytest.approx(
        primer, rel=1e-6
    )


def test_pot_life_does_not_go_by_the_surface(ask: Ask) -> None:
    warm = at(ask, "pot-life/pu-2k", surface="88 F")
    assert minutes(warm) == (25, 30)
    assert warm.at is not None and warm.at.value == 70


@pytest.mark.parametrize("id", ["cure/pu-2k", "watertight/pu-2k", "cure/metal-wood"])
@pytest.mark.parametrize(
    ("surface", "hours"),
    [
        ("52 F", (4, 8)),
        ("61 F", (2 * math.sqrt(2), 4 * math.sqrt(2))),
        ("70 F", (2, 4)),
        ("88 F", (2, 4)),  # never under the stated
        ("90 F", (2, 4)),
        ("40 F", (2 * 2 ** (30 / 18), 4 * 2 ** (30 / 18))),
    ],
)
def test_reaction_cure_goes_by_the_surface(
    ask: Ask, id: str, surface: str, hours: tuple[float, float]
) -> None:
    time = at(ask, id, surface=surface, material="79 F")
    assert minutes(time) == pytest.approx([60 * h for h in hours], rel=1e-9)
    assert time.at is not None and f"{time.at.value:g} F" == surface


@pytest.mark.parametrize(
    ("surface", "hours"),
    [("88 F", 12), ("79 F", 24 / math.sqrt(2)), ("70 F", 24), ("52 F", 24), ("40 F", 24)],
)
def test_cover_within_shrinks_in_heat_and_never_grows(ask: Ask, surface: str, hours: float) -> None:
    time = at(ask, "cover-within/metal-wood", surface=surface)
    assert time.high is not None and time.high.value == pytest.approx(60 * hours, rel=1e-9)


@pytest.mark.parametrize("surface", ["70 F", "75 F", "90 F"])
def test_flash_off_is_as_stated_at_70_and_above(ask: Ask, surface: str) -> None:
    assert minutes(at(ask, "flash-off/thermoplastic", surface=surface)) == (10, 60)


@pytest.mark.parametrize("surface", ["69.9 F", "55 F", "40 F"])
def test_flash_off_below_70_is_none_with_why(ask: Ask, surface: str) -> None:
    now = {"air": "70 F", "surface": surface, "material": "70 F", **DRY}
    document = write(ask(now=now))
    time = next(t for t in document["times"] if t["id"] == "flash-off/thermoplastic")
    assert time["low"] is None and time["high"] is None
    assert "Below 70 °F no time is on file" in time["why"]


def test_the_sheet_primers_window_is_the_shift_in_words(ask: Ask) -> None:
    time = next(t for t in write(ask())["times"] if t["id"] == "cover-within/thermoplastic")
    assert (time["low"], time["high"]) == (None, None)
    assert time["text"] == "the same shift"


@pytest.mark.parametrize("surface", ["39 F", "91 F", "150 F", "-10 F"])
def test_no_time_outside_the_range_it_is_applied_in(ask: Ask, surface: str) -> None:
    now = {"air": "70 F", "surface": surface, "material": "88 F", **DRY}
    document = write(ask(now=now))
    times = {t["id"]: t for t in document["times"]}
    for id in (
        "cure/pu-2k", "watertight/pu-2k", "cure/metal-wood", "cover-within/metal-wood",
        "flash-off/thermoplastic",
    ):  # fmt: skip
        assert times[id]["low"] is None and times[id]["high"] is None, id
        assert "40–90" in times[id]["why"], id
    assert times["pot-life/pu-2k"]["low"]["value"] == 12.5


def test_without_a_surface_temperature_times_are_as_stated(ask: Ask) -> None:
    document = write(ask(now={"air": "50 F", "humidity": "40 %", "material": "70 F"}))
    times = {t["id"]: t for t in document["times"]}
    for id in ("cure/pu-2k", "watertight/pu-2k"):
        assert (times[id]["low"]["value"], times[id]["high"]["value"]) == (120, 240)
        assert times[id]["at"]["value"] == 70, "never the air's"
    assert any(a["pointer"] == "/now/surface" for a in document["assumed"])


@pytest.mark.parametrize(
    ("now", "planned"),
    [
        ({}, 80),
        ({"air": "72 F", "surface": "78 F"}, 80),
        ({"air": "95 F", "surface": "78 F"}, 95),
        ({"air": "72 F", "surface": "120 F"}, 120),
        ({"surface": "82 F"}, 82),
        ({"air": "30 C"}, 86),
    ],
    ids=str,
)
def test_unknown_material_is_planned_on_the_warmest(
    ask: Ask, now: dict[str, str], planned: float
) -> None:
    result = ask(now=now)
    time = result.timing.find("pot-life/pu-2k")
    assert time is not None and time.at is not None
    assert time.at.value == pytest.approx(planned)
    half = 2 ** ((70 - planned) / 18)
    assert minutes(time) == pytest.approx((25 * half, 30 * half))
    document = write(result)
    assert any(a["pointer"] == "/now/material" for a in document["assumed"])
    assert any(c["id"] == "limits/storage-temperature" for c in document["confirm"])


def test_known_material_is_neither_assumed_nor_confirmed(ask: Ask) -> None:
    document = write(ask())
    assert not any(a["pointer"] == "/now/material" for a in document["assumed"])
    assert not any(c["id"] == "limits/storage-temperature" for c in document["confirm"])


def test_a_fifth_is_kept_off_the_pot_life(ask: Ask) -> None:
    """20 % off the shorter end: 25 min leave 20, 12.5 leave 10."""
    usable = ask().timing.usable_of["resins/pu-2k"]
    assert usable.value == pytest.approx(20)
    usable = ask(now={"material": "88 F"}).timing.usable_of["resins/pu-2k"]
    assert usable.value == pytest.approx(10)


@pytest.mark.parametrize("resin", ["pu-2k", "pmma", "pu-1k", "stpe-1k"])
def test_every_time_names_its_temperature_or_why_it_has_none(ask: Ask, resin: str) -> None:
    for now in ({}, {"air": "72 F", "surface": "78 F"}, {"air": "20 F", "surface": "15 F"}):
        for time in write(ask(resin=resin, now=now))["times"]:
            if time["high"] is None:
                assert time["low"] is None and time["why"], time
            else:
                assert time["at"] is not None and "°F" in time["text"], time


def test_catalysed_and_moisture_cure_do_not_halve(ask: Ask) -> None:
    """One point on file is one point: no number at 71 °F, none below 70 °F."""
    now = {"air": "70 F", "surface": "71 F", "material": "71 F", "humidity": "50 %"}
    methacrylate = ask(resin="pmma", now=now).timing
    for id, low in (("cure/pmma", 60), ("watertight/pmma", 30)):
        time = methacrylate.find(id)
        assert time is not None and time.low is not None and time.low.value == low
    pot_life = methacrylate.find("pot-life/pmma")
    assert pot_life is not None and pot_life.low is None and pot_life.why
    at_70 = ask(resin="pmma", now={**now, "material": "70 F"}).timing.find("pot-life/pmma")
    assert at_70 is not None and minutes(at_70) == (10, 20)
    cold = ask(resin="pu-1k", now={**now, "surface": "60 F"}).timing
    cure = cold.find("cure/pu-1k")
    assert cure is not None and cure.low is None and cure.why


@pytest.fixture(scope="module")
def tabled(edition: Edition) -> Edition:
    """An edition whose methacrylate has three points of pot life."""
    raw = copy.deepcopy(dict(edition.raw))
    points = raw["resins"]["pmma"]["pot_life"]["points"]
    assert points == [{"at": "70 degF", "low": "10 min", "high": "20 min"}]
    points.insert(0, {"at": "50 degF", "low": "40 min", "high": "90 min"})
    points.append({"at": "88 degF", "low": "5 min", "high": "8 min"})
    return make_edition("next", raw, "draft", tuple(KINDS))


@pytest.mark.parametrize(
    ("material", "wanted"),
    [
        ("50 F", (40, 90)),
        ("70 F", (10, 20)),
        ("88 F", (5, 8)),
        # halfway lies the geometric mean: sqrt(40 × 10), sqrt(90 × 20)
        ("60 F", (20, math.sqrt(1800))),
        # a third of the way from 70 to 88: 10 (5/10)^(1/3), 20 (8/20)^(1/3)
        ("76 F", (10 * 0.5 ** (1 / 3), 20 * 0.4 ** (1 / 3))),
        ("49 F", None),
        ("88.1 F", None),
    ],
)
def test_a_table_is_straight_in_the_logarithm_and_has_ends(
    tabled: Any, example: dict[str, Any], material: str, wanted: tuple[float, float] | None
) -> None:
    example |= {"resin": "pmma", "now": {**example["now"], "material": material}}
    result = answer(read_requirements(example, tabled), tabled)
    time = result.timing.find("pot-life/pmma")
    assert time is not None
    if wanted is None:
        assert time.low is None and time.high is None and time.why
    else:
        assert minutes(time) == pytest.approx(wanted, rel=1e-9)


def test_celsius_answers_give_the_same_times(ask: Ask) -> None:
    now = {"air": "20 C", "surface": "11.11111111 C", "material": "20 C", "humidity": "30 %"}
    times = {t["id"]: t for t in write(ask(now=now, units="si"))["times"]}
    cure = times["cure/pu-2k"]
    # 11.11 °C is 52 °F: twice the stated hours
    assert cure["low"]["value"] == pytest.approx(240, rel=1e-6)
    assert cure["at"]["unit"] == "degC" and cure["at"]["value"] == pytest.approx(11.11111111)


def test_an_edition_that_is_read_again_answers_the_same(
    frozen_root: Path, example: dict[str, Any]
) -> None:
    # what is remembered of one copy of an edition is asked for by records of another
    told = [
        write(answer(read_requirements(example, held), held))
        for held in (load("next", frozen_root) for _ in range(3))
    ]
    assert told[0] == told[1] == told[2]
