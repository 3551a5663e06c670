"""The weather: dew point, margin, and the verdict by activity, at the door and over the API."""

from __future__ import annotations

from typing import Any

import psychrolib
import pytest
from flask.testing import FlaskClient

from upstand.conditions import conditions
from upstand.document.conditions import write
from upstand.edition import Edition
from upstand.query import QueryFaults
from upstand.query.conditions import read_conditions

GOOD = {
    "air": "72 F",
    "surface": "78 F",
    "surface_warmest": "80 F",
    "humidity": "55 %",
    "material": "70 F",
    "wind": "5 mph",
    "rain_chance": "5 %",
    "wet": False,
}


@pytest.fixture(scope="session")
def judge(edition: Edition) -> Any:
    """Judge the weather of a good day with some readings changed; None takes one away."""

    def judged(resin: str = "pu-2k", **changed: Any) -> dict[str, Any]:
        now = {k: v for k, v in {**GOOD, **changed}.items() if v is not None}
        return write(conditions(read_conditions({"resin": resin, "now": now}, edition), edition))

    return judged


def test_a_good_day_goes(judge: Any) -> None:
    told = judge()
    assert told["verdict"] == "go"
    assert told["reasons"] == [] and told["other_reasons"] == [] and told["confirm"] == []
    assert set(told["activities"].values()) == {"go"}


def test_dew_point_and_margin_are_those_of_a_general_library(judge: Any) -> None:
    psychrolib.SetUnitSystem(psychrolib.IP)
    expected = psychrolib.GetTDewPointFromRelHum(72.0, 0.55)
    told = judge()
    # the two formulas differ by up to 0.057 °F above freezing
    assert told["dew_point"]["value"] == pytest.approx(expected, abs=0.06)
    assert told["margin"]["value"] == pytest.approx(78.0 - expected, abs=0.06)
    assert told["kind"] == "dew"
    assert [working["id"] for working in told["workings"]] == ["dew_point", "margin"]


def test_at_or_below_freezing_it_is_the_frost_point(judge: Any) -> None:
    # air 50 °F at 40 %: dew point 27 °F by the Magnus formula over water, so frost is what forms
    told = judge(air="50 F", humidity="40 %", surface="50 F")
    assert told["kind"] == "frost"
    # over ice it lies higher than the 26.9 °F over water, and still under freezing
    assert 27.0 < told["dew_point"]["value"] < 32.0


@pytest.mark.parametrize(
    ("surface", "verdict"),
    # dew point 60.0 °F at 70 °F and 70.6 %; 5 °F is not enough, 3 °C (5.4 °F) is the stricter
    [("65.2 F", "hold"), ("65.8 F", "go")],
)
def test_the_stricter_of_five_fahrenheit_and_three_celsius_is_kept(
    judge: Any, surface: str, verdict: str
) -> None:
    told = judge(air="70 F", humidity="70.6 %", surface=surface)
    assert told["dew_point"]["value"] == pytest.approx(60.0, abs=0.1)
    assert told["verdict"] == verdict
    assert told["activities"]["prime-metal"] == verdict
    assert told["activities"]["grind"] == "go"


@pytest.mark.parametrize(
    ("reading", "value", "held", "free"),
    [
        ("air", "95 F", {"mix", "base-coat", "prime-metal"}, {"grind", "clean", "paint"}),
        ("surface", "95 F", {"base-coat", "top-coat", "prime-sheet"}, {"degrease", "dry-fit"}),
        ("material", "50 F", {"mix", "base-coat"}, {"clean", "mask"}),
        ("wind", "26 mph", {"fleece", "dry-fit", "degrease", "grind"}, {"mask", "paint"}),
        ("rain_chance", "30 %", {"base-coat", "prime-metal", "paint"}, {"grind", "mask"}),
        ("wet", True, {"mask", "clean", "prime-metal", "base-coat"}, {"degrease", "dry-fit"}),
    ],
)
def test_a_broken_limit_holds_the_work_it_concerns(
    judge: Any, reading: str, value: Any, held: set[str], free: set[str]
) -> None:
    # dry air, so that no margin is broken besides
    told = judge(**{"humidity": "30 %", reading: value})
    assert told["verdict"] == "hold"
    assert {a for a in held if told["activities"][a] == "hold"} == held
    assert {a for a in free if told["activities"][a] == "go"} == free
    named = [a for r in told["reasons"] + told["other_reasons"] for a in r["activities"]]
    assert held <= set(named)


@pytest.mark.parametrize(
    ("reading", "verdict"),
    [
        ("surface", "ask"),
        ("air", "ask"),
        ("humidity", "ask"),
        ("surface_warmest", "go"),
        ("wind", "go"),
        ("rain_chance", "go"),
        ("wet", "go"),
        ("material", "go"),
    ],
)
def test_what_is_not_known_is_asked_or_confirmed_never_assumed(
    judge: Any, reading: str, verdict: str
) -> None:
    told = judge(**{reading: None})
    assert told["verdict"] == verdict
    assert bool(told["reasons"]) == (verdict == "ask")
    assert bool(told["confirm"]) == (verdict == "go")
    if verdict == "ask":
        assert all(len(reason["facts"]) >= 2 and reason["whom"] for reason in told["reasons"])


def test_a_surface_temperature_is_never_taken_from_the_air(judge: Any) -> None:
    told = judge(surface=None)
    assert told["margin"] is None
    assert told["dew_point"] is not None


def test_a_primers_own_range_holds_its_priming_only(judge: Any) -> None:
    # methacrylate goes down to 23 °F, the primers to 40 °F
    told = judge("pmma", air="30 F", surface="38 F", humidity="40 %")
    assert told["verdict"] == "go"
    assert told["activities"]["base-coat"] == "go"
    assert told["activities"]["prime-metal"] == "hold"
    assert told["reasons"] == []
    assert {a for reason in told["other_reasons"] for a in reason["activities"]} == {
        "prime-metal",
        "prime-masonry",
        "prime-sheet",
    }


def test_moisture_cure_needs_humidity(judge: Any) -> None:
    told = judge("pu-1k", humidity="20 %")
    assert told["activities"]["base-coat"] == "hold"
    assert told["activities"]["prime-metal"] == "go"
    assert judge("pu-2k", humidity="20 %")["verdict"] == "go"


def test_every_limit_on_the_weather_concerns_some_work(edition: Edition) -> None:
    weather = {"air", "surface", "material", "humidity", "margin", "wet", "rain_chance", "wind"}
    governs = {str(r.get("of")): r.get("governs") for r in edition.kind("limits").values()}
    stages = {str(r.get("stage")) for r in edition.kind("activities").values()}
    for fact in weather:
        assert governs[fact] and set(governs[fact]) <= stages, fact


def test_faults_come_at_once(edition: Edition) -> None:
    with pytest.raises(QueryFaults) as caught:
        read_conditions(
            {"resin": "pu", "now": {"air": "72", "humidity": "200 %", "wnd": "3 mph"}, "hours": []},
            edition,
        )
    said = {fault.pointer: fault.detail for fault in caught.value.faults}
    assert set(said) == {"/resin", "/now/air", "/now/humidity", "/now/wnd", "/hours"}
    assert "did you mean wind" in said["/now/wnd"]


@pytest.mark.parametrize("body", [{}, {"now": None}, {"now": 5}, [], None, "now"])
def test_without_readings_the_message_shows_how_to_write_them(
    edition: Edition, body: object
) -> None:
    with pytest.raises(QueryFaults) as caught:
        read_conditions(body, edition)
    assert any('"air": "72 F"' in f.detail or "{…}" in f.detail for f in caught.value.faults)
    assert all("{{" not in fault.detail for fault in caught.value.faults)


@pytest.mark.parametrize(
    "body",
    [
        {"resin": "pu-2k", "now": GOOD},
        {"now": {}},
        {
            "now": {"air": "-5 C", "surface": "-8 C", "humidity": "90 %"},
            "units": "si",
            "lang": "es",
        },
    ],
)
def test_over_the_api_it_is_the_same_document(
    client: FlaskClient, draft: Edition, conforms: Any, body: dict[str, Any]
) -> None:
    told = client.post("/v1/conditions", json=body)
    assert told.status_code == 200
    assert told.get_json() == write(conditions(read_conditions(body, draft), draft))
    conforms(told.get_json(), "ConditionsAnswer")


def test_hours_are_answered_as_documented(client: FlaskClient, conforms: Any) -> None:
    fair = {"air": "72 F", "surface": "78 F", "humidity": "55 %", "rain_chance": None}
    body = {"hours": [{"start": f"2031-05-14T{n:02d}:00-05:00", **fair} for n in range(24)]}
    told = client.post("/v1/conditions", json={**body, "lang": "es", "units": "si"})
    assert told.status_code == 200, told.text
    conforms(told.get_json(), "HoursAnswer")
    document = told.get_json()
    assert document["hours"][9]["activities"]["base-coat"] == "unknown"
    assert document["confirm"][0]["id"] == "gusts"


def test_a_forecast_of_half_days_is_refused_by_name(client: FlaskClient) -> None:
    period = {"startTime": "2031-05-14T06:00-05:00", "endTime": "2031-05-14T18:00-05:00"}
    body = {"forecast": {"properties": {"periods": [period]}}, "lang": "es"}
    told = client.post("/v1/conditions", json=body)
    assert told.status_code == 422
    assert told.get_json()["errors"][0]["detail"].startswith("es el pronóstico de 12 horas")
