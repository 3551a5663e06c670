"""Traced numbers: units kept, origin and working remembered, working shown."""

from __future__ import annotations

import time
from typing import Any

import pytest

from upstand.document.graph import walk
from upstand.document.workings import explain
from upstand.formulas import REGISTER
from upstand.formulas.resin import film_volume
from upstand.quantity.shown import Speech
from upstand.quantity.traced import (
    Origin,
    Traced,
    asked,
    assumed,
    constant,
    reckon,
    total,
)
from upstand.quantity.units import UnitFault
from upstand.words.fill import Words


def in_(lang: str, units: Any) -> Words:
    return Words(lang, Speech(units, no_break=True))


AREA = asked(14400.0, "in^2", "/area")
FILM = Traced(
    40.0, "mil", Origin("edition", "resins/pu-2k: layers.base", "memory", "sources/none-read")
)


def test_reckon_remembers() -> None:
    got = reckon(REGISTER["film_volume"], thickness=FILM, area=AREA)
    assert got.value == pytest.approx(576 / 231)
    assert got.unit == "gal"
    assert got.origin == Origin("computed", "film_volume")
    assert got.working is not None
    assert got.working.formula == "film_volume"
    # in the formula's order, whatever the call's
    assert [name for name, _ in got.working.inputs] == ["area", "thickness"]
    assert got.working.inputs[0][1] is AREA
    assert got.working.inputs[1][1] is FILM


def test_reckon_takes_the_function_too() -> None:
    assert reckon(film_volume, area=AREA, thickness=FILM) == reckon(
        REGISTER["film_volume"], area=AREA, thickness=FILM
    )


def test_reckon_gives_a_float() -> None:
    whole = asked(3, "in", "/a")
    got = reckon(REGISTER["angle_girth"], leg_a=whole, leg_b=whole, thickness=whole)
    assert type(got.value) is float


def test_reckon_converts_nothing() -> None:
    with pytest.raises(UnitFault, match=r"film_volume: area is in ft\^2, it must be in in\^2"):
        reckon(REGISTER["film_volume"], area=asked(100.0, "ft^2", "/area"), thickness=FILM)
    with pytest.raises(UnitFault, match="film_volume: thickness is in in, it must be in mil"):
        reckon(REGISTER["film_volume"], area=AREA, thickness=asked(0.04, "in", "/film"))


def test_reckon_wants_just_the_inputs() -> None:
    with pytest.raises(TypeError, match="film_volume takes area, thickness; it was given area"):
        reckon(REGISTER["film_volume"], area=AREA)
    with pytest.raises(TypeError, match="it was given nothing"):
        reckon(REGISTER["film_volume"])
    with pytest.raises(TypeError, match="it was given area, thickness, coats"):
        reckon(REGISTER["film_volume"], area=AREA, thickness=FILM, coats=FILM)
    with pytest.raises(TypeError, match="'<lambda>' is not a registered formula"):
        reckon(lambda area: area, area=AREA)


def test_total() -> None:
    parts = [asked(1.5, "gal", "/a"), asked(0.25, "gal", "/b"), asked(2.0, "gal", "/c")]
    got = total("need", parts)
    assert got.value == 3.75
    assert got.unit == "gal"
    assert got.origin == Origin("computed", "need")
    assert got.working is not None
    assert got.working.formula == "total"
    assert got.working.inputs == (
        ("part_1", parts[0]),
        ("part_2", parts[1]),
        ("part_3", parts[2]),
    )


def test_total_of_unlike_or_nothing() -> None:
    with pytest.raises(UnitFault, match="need: part 2 is in mil, the first is in gal"):
        total("need", [asked(1.5, "gal", "/a"), FILM])
    with pytest.raises(ValueError, match="need: there is nothing to add up"):
        total("need", [])


def test_origins() -> None:
    assert asked(1.0, "in", "/height").origin == Origin("asked", "/height")
    assert assumed(1.0, "in", "/height", "memory", "sources/x").origin == Origin(
        "assumed", "/height", "memory", "sources/x"
    )
    assert constant(1.0, "1", "one joint").origin == Origin("constant", "one joint")


def test_explain() -> None:
    shown = explain(reckon(REGISTER["film_volume"], area=AREA, thickness=FILM), in_("en", "us"))
    assert shown["formula"] == "film_volume"
    assert shown["words"].replace("\u00a0", " ") == (
        "area × thickness ÷ 1,000 mil/in ÷ 231 in³/gal"
    )
    assert shown["inputs"] == [
        {
            "name": "area",
            "label": "area",
            "value": 100.0,
            "unit": "ft^2",
            "text": "100\u00a0sq\u00a0ft",
            "origin": {"kind": "asked", "where": "/area", "grade": "", "source": ""},
        },
        {
            "name": "thickness",
            "label": "thickness",
            "value": 40.0,
            "unit": "mil",
            "text": "40\u00a0mil",
            "origin": {
                "kind": "edition",
                "where": "resins/pu-2k: layers.base",
                "grade": "memory",
                "source": "sources/none-read",
            },
        },
    ]
    assert shown["result"]["unit"] == "gal"
    assert shown["result"]["value"] == pytest.approx(2.49351, rel=1e-5)
    assert shown["origin"]["where"] == "film_volume"


def test_explain_in_si_and_spanish() -> None:
    shown = explain(reckon(REGISTER["film_volume"], area=AREA, thickness=FILM), in_("es", "si"))
    # in any units: no factor between US units is left
    assert shown["words"] == "área × espesor"
    assert [each["label"] for each in shown["inputs"]] == ["área", "espesor"]
    assert [each["unit"] for each in shown["inputs"]] == ["m^2", "um"]
    # 100 ft2 at 40 mil: 9.290304 m2 x 1.016 mm
    assert shown["result"]["unit"] == "L"
    assert shown["result"]["value"] == pytest.approx(9.290304 * 1.016)


def test_explain_total_and_given() -> None:
    shown = explain(
        total("need", [asked(1.0, "gal", "/a"), asked(2.0, "gal", "/b")]), in_("es", "us")
    )
    assert (shown["formula"], shown["words"]) == ("total", "suma de las partes")
    assert [each["label"] for each in shown["inputs"]] == ["parte 1", "parte 2"]
    assert shown["origin"]["where"] == "need"
    given = explain(AREA, in_("en", "us"))
    assert (given["formula"], given["words"], given["inputs"]) == ("", "", [])
    assert given["result"]["value"] == 100.0
    assert given["origin"]["kind"] == "asked"


def test_explain_refuses_other_systems_and_languages() -> None:
    with pytest.raises(UnitFault):
        explain(AREA, in_("en", "imperial"))
    with pytest.raises(ValueError, match='languages are "en" and "es"'):
        explain(reckon(REGISTER["film_volume"], area=AREA, thickness=FILM), in_("fr", "us"))


def test_a_walk_meets_each_number_once() -> None:
    base = reckon(REGISTER["film_volume"], area=AREA, thickness=FILM)
    doubled = total("both", [base, base])
    allowance = assumed(10.0, "percent", "/allowance")
    bought = reckon(REGISTER["with_allowance"], need=doubled, allowance=allowance)
    graph = walk([("bought", bought), ("area", AREA), ("again", bought)])
    assert graph.computed == (base, doubled, bought)
    assert graph.leaves == (AREA, FILM, allowance)
    assert graph.names[id(bought)] == "bought"


def test_reckon_is_quick() -> None:
    """An answer reckons some sixty times: each has to cost microseconds, not tenths of one ms."""
    formula = REGISTER["film_volume"]
    best = min(_seconds_for(formula, 200) for _ in range(20)) / 200
    assert best < 50e-6


def _seconds_for(formula: object, times: int) -> float:
    started = time.perf_counter()
    for _ in range(times):
        reckon(formula, area=AREA, thickness=FILM)  # type: ignore[arg-type]
    return time.perf_counter() - started
