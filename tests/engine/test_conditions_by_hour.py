"""Windows worked by hand, to the minute, and the traps of a forecast as downloaded.

Two-part polyurethane at 70 °F: 20 min to work with a mix (25 less a fifth), watertight 4 h at 70 °F
and above, doubled for each 18 °F below; its metal primer: 8 min, dry after 4 h likewise.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta
from typing import Any

import psychrolib
import pytest

from upstand.conditions_by_hour import ConditionsByHour, conditions_by_hour
from upstand.document.hours import write
from upstand.edition import Edition
from upstand.query import QueryFaults
from upstand.query.faults import pointer
from upstand.query.hours import read_hours

Body = dict[str, Any]
MIDNIGHT = datetime.fromisoformat("2031-05-14T00:00-05:00")
FAIR = {
    "air": "72 F",
    "surface": "78 F",
    "humidity": "55 %",
    "rain_chance": "10 %",
    "wind": "8 mph",
}


def hours(change: Callable[[int], Body], count: int = 48) -> list[Body]:
    """Hours from midnight on, all fair but for what `change` says of one."""
    return [
        {"start": (MIDNIGHT + timedelta(hours=n)).isoformat(), **FAIR, **change(n)}
        for n in range(count)
    ]


def found(body: Body, edition: Edition) -> ConditionsByHour:
    return conditions_by_hour(read_hours({"now": {"material": "70 F"}, **body}, edition), edition)


def windows(answer: ConditionsByHour, activity: str, day: int = 14) -> list[tuple[str, str, str]]:
    """Start, last start and end of the windows of one day."""
    return [
        (f"{w.start:%H:%M}", f"{w.last_start:%H:%M}" if w.last_start else "", f"{w.end:%H:%M}")
        for w in answer.windows
        if w.activity == activity and w.start.day == day
    ]


#: By what differs from a fair day: windows of the resin, and of primer and resin on one day.
CASES: dict[str, tuple[Callable[[int], Body], list[Any], list[Any]]] = {
    # laid by 17:30; primed so that 8 + 240 min later it is 17:10 at the latest
    "fair": (lambda n: {}, [("07:00", "17:10", "17:30")], [("07:00", "13:02", "17:30")]),
    # surface 56 °F is 1 °F over the dew point; 20 + 240 min before 19:00 is 14:40, less 248: 10:32
    "dew till nine and from seven": (
        lambda n: {"surface": "56 F"} if n % 24 < 9 or n % 24 >= 19 else {},
        [("09:00", "14:40", "17:30")],
        [("09:00", "10:32", "17:30")],
    ),
    # 260 min before 15:00; a primer would have to start at 6:32
    "rain at three": (
        lambda n: {"rain_chance": "80 %"} if n >= 15 else {},
        [("07:00", "10:40", "15:00")],
        [],
    ),
    # the hour from noon is unknown: nothing may dry through it
    "rain unknown at noon": (
        lambda n: {"rain_chance": None} if n == 12 else {},
        [("07:00", "07:40", "12:00"), ("13:00", "17:10", "17:30")],
        [("07:00", "07:52", "17:30"), ("13:00", "13:02", "17:30")],
    ),
    # wind keeps nobody's film from curing: primed at 11:52 it is dry at 16:00
    "wind at noon": (
        lambda n: {"wind": "40 mph"} if n == 12 else {},
        [("07:00", "11:40", "12:00"), ("13:00", "17:10", "17:30")],
        [("07:00", "11:52", "17:30"), ("13:00", "13:02", "17:30")],
    ),
    # 52 °F from 20:00 makes 8 h of the 4, and 38 °F at 23:00 ends it: in by 20:00, or by 23:00
    "a cold evening": (
        lambda n: {"air": "52 F", "surface": "52 F", "humidity": "40 %"} if 20 <= n < 23 else
        ({"air": "38 F", "surface": "38 F", "humidity": "40 %"} if n >= 23 else {}),
        [("07:00", "15:40", "17:30")],
        [("07:00", "11:32", "17:30")],
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", CASES)
def test_a_day_by_hand(name: str, edition: Edition) -> None:
    change, resin, whole = CASES[name]
    answer = found({"hours": hours(change)}, edition)
    assert windows(answer, "sequence/resin") == resin
    assert windows(answer, "sequence/whole") == whole


def test_where_no_surface_was_read_it_is_told_what_it_must_be(edition: Edition) -> None:
    """Dew point by psychrolib; 5.4 °F over it, and 90 °F at most."""
    psychrolib.SetUnitSystem(psychrolib.IP)
    dew = psychrolib.GetTDewPointFromRelHum(72.0, 0.55)
    answer = found({"hours": hours(lambda n: {"surface": None})}, edition)
    assert windows(answer, "sequence/resin") == [("07:00", "17:10", "17:30")]
    window = next(w for w in answer.windows if w.activity == "sequence/resin")
    assert not window.sure and window.needs_surface is not None
    low, high = (each.value for each in window.needs_surface)
    assert low == pytest.approx(dew + 5.4, abs=0.15) and high == 90.0
    assert answer.hours[9].activities["base-coat"] == "unknown"
    assert answer.hours[9].activities["degrease"] == "go"
    assert not windows(answer, "base-coat")
    assert "ground" in {each["id"] for each in write(answer)["confirm"]}


def test_a_surface_said_to_be_warmer_than_the_air_is_used_and_told(edition: Edition) -> None:
    body = {"hours": hours(lambda n: {"surface": None}), "surface_above_air": "6 F"}
    answer = found(body, edition)
    assert answer.hours[9].now.surface is not None and answer.hours[9].now.surface.value == 78.0
    assert "/surface_above_air" in {each["pointer"] for each in write(answer)["assumed"]}


def test_no_surface_would_do_is_held(edition: Edition) -> None:
    """Air of 88 °F at 98 %: the dew point and its margin lie over 90 °F."""
    wet = {"air": "88 F", "surface": None, "humidity": "98 %"}
    answer = found({"hours": hours(lambda n: wet, 2)}, edition)
    assert answer.hours[0].verdict == "hold" and answer.hours[0].surface_needed is None


def test_hours_are_instants_when_clocks_go_back(edition: Edition) -> None:
    """From midnight to rain at four it is five hours: 260 min before is 40 min past midnight."""
    start = datetime.fromisoformat("2031-11-02T00:00-05:00")
    told = []
    for n in range(9):
        at = start + timedelta(hours=n)
        if n >= 2:
            at = at.astimezone(datetime.fromisoformat("2031-11-02T00:00-06:00").tzinfo)
        rain = {"rain_chance": "80 %"} if at.hour >= 4 else {}
        told.append({"start": at.isoformat(), **FAIR, **rain})
    answer = found({"hours": told, "work": {"from": "00:00", "to": "06:00"}}, edition)
    (window,) = [w for w in answer.windows if w.activity == "sequence/resin"]
    assert window.last_start == datetime.fromisoformat("2031-11-02T00:40-05:00")
    assert window.end == datetime.fromisoformat("2031-11-02T04:00-06:00")


def test_the_sun_ends_the_day_where_the_place_is_known(edition: Edition) -> None:
    """On the equator, on the meridian of its offset: 6 h after noon, and noon is 4 min early."""
    body = {
        "hours": hours(lambda n: {}),
        "work": {"from": "07:00", "to": "20:00"},
        "place": {"lat": 0, "lon": -75},
    }
    answer = found(body, edition)
    ((_, _, end),) = windows(answer, "sequence/resin")
    assert "17:56" <= end <= "18:02"
    assert len(answer.sunsets) == 2


def test_rain_from_sixty_per_cent_stops_all_but_setting_up_and_cleaning_up(
    edition: Edition,
) -> None:
    answer = found({"hours": hours(lambda n: {"rain_chance": "60 %"}, 1)}, edition)
    assert answer.hours[0].activities["degrease"] == "hold"
    less = found({"hours": hours(lambda n: {"rain_chance": "59 %"}, 1)}, edition)
    assert less.hours[0].activities["degrease"] == "go"
    assert less.hours[0].activities["mix"] == "hold"


def test_a_resin_without_a_pot_life_has_windows_by_activity_alone(edition: Edition) -> None:
    answer = found({"hours": hours(lambda n: {}, 24), "resin": "pu-1k"}, edition)
    assert answer.no_sequence == "no-pot-life"
    assert windows(answer, "base-coat") and not windows(answer, "sequence/resin")


# a forecast as downloaded


def period(n: int, **other: Any) -> Body:
    start = MIDNIGHT + timedelta(hours=n)
    return {
        "number": n + 1,
        "startTime": start.isoformat(),
        "endTime": (start + timedelta(hours=1)).isoformat(),
        "isDaytime": 6 <= n % 24 < 18,
        "temperature": 72,
        "temperatureUnit": "F",
        "probabilityOfPrecipitation": {"unitCode": "wmoUnit:percent", "value": 10},
        "dewpoint": {"unitCode": "wmoUnit:degC", "value": 12.5},
        "relativeHumidity": {"unitCode": "wmoUnit:percent", "value": 55},
        "windSpeed": "8 mph",
        **other,
    }


def forecast(*changes: Body, **properties: Any) -> Body:
    periods = [period(n) for n in range(24)]
    for n, change in enumerate(changes):
        periods[n] |= change
    ring = [[-90, 40], [-90, 41], [-89, 41], [-89, 40], [-90, 40]]
    return {
        "type": "Feature",
        "geometry": {"type": "Polygon", "coordinates": [ring]},
        "properties": {"periods": periods, **properties},
    }


def read(*changes: Body, edition: Edition, **properties: Any) -> ConditionsByHour:
    return found({"forecast": forecast(*changes, **properties)}, edition)


def notes(answer: ConditionsByHour) -> dict[str, int]:
    return dict(answer.query.hours.notes)


def test_a_dew_point_in_celsius_beside_air_in_fahrenheit(edition: Edition) -> None:
    """12.5 °C is 54.5 °F."""
    answer = read(edition=edition)
    assert answer.hours[0].dew.point is not None
    assert answer.hours[0].dew.point.value == pytest.approx(54.5)
    assert notes(answer) == {"converted": 24}
    assert answer.query.place == (40.5, -89.5)


@pytest.mark.parametrize(
    ("change", "air"),
    [
        ({"temperature": 72}, 72.0),
        ({"temperature": 20, "temperatureUnit": "C"}, 68.0),
        ({"temperature": {"unitCode": "wmoUnit:degC", "value": 20}, "temperatureUnit": None}, 68.0),
        ({"temperature": {"unitCode": "wmoUnit:degF", "value": 71}, "temperatureUnit": "F"}, 71.0),
        ({"temperature": None}, None),
    ],
)
def test_air_is_a_number_or_an_object(change: Body, air: float | None, edition: Edition) -> None:
    hour = read({**change, "dewpoint": None}, edition=edition).hours[0]
    assert (hour.now.air and hour.now.air.value) == air


@pytest.mark.parametrize(
    ("wind", "mph"),
    [
        ("8 mph", 8.0),
        ("11 to 16 mph", 16.0),
        ("20 km/h", 20 / 1.609344),
        ({"unitCode": "wmoUnit:km_h-1", "value": 20}, 20 / 1.609344),
        ({"unitCode": "wmoUnit:km_h-1", "minValue": 10, "maxValue": 30}, 30 / 1.609344),
        ({"unitCode": "wmoUnit:m_s-1", "value": 10}, 36 / 1.609344),
        (None, None),
    ],
)
def test_wind_is_words_or_an_object_and_the_greater_counts(
    wind: Any, mph: float | None, edition: Edition
) -> None:
    found_wind = read({"windSpeed": wind}, edition=edition).hours[0].now.wind
    assert (found_wind and found_wind.value) == (mph and pytest.approx(mph))


def test_null_is_unknown_and_never_none_at_all(edition: Edition) -> None:
    rain = {"probabilityOfPrecipitation": {"unitCode": "wmoUnit:percent", "value": None}}
    hour = read(rain, edition=edition).hours[0]
    assert hour.now.rain_chance is None and hour.activities["base-coat"] == "unknown"


def test_a_missing_dew_point_is_computed_from_humidity(edition: Edition) -> None:
    psychrolib.SetUnitSystem(psychrolib.IP)
    answer = read({"dewpoint": {"unitCode": "wmoUnit:degC", "value": None}}, edition=edition)
    point = answer.hours[0].dew.point
    assert point is not None
    assert point.value == pytest.approx(psychrolib.GetTDewPointFromRelHum(72.0, 0.55), abs=0.15)
    assert notes(answer)["dew-point-computed"] == 1


def test_without_dew_point_and_humidity_the_margin_is_unknown(edition: Edition) -> None:
    hour = read({"dewpoint": None, "relativeHumidity": None}, edition=edition).hours[0]
    assert hour.dew.point is None and hour.surface_needed is None
    assert hour.activities["base-coat"] == "unknown"


def test_a_dew_point_above_the_air_is_unknown_and_said(edition: Edition) -> None:
    """24 °C is 75.2 °F, over 72 by more than rounding."""
    over = {"dewpoint": {"unitCode": "wmoUnit:degC", "value": 24}, "relativeHumidity": None}
    answer = read(over, edition=edition)
    assert answer.hours[0].dew.point is None
    assert notes(answer)["dew-point-above-air"] == 1


def test_periods_are_put_in_order_and_holes_are_listed(edition: Edition) -> None:
    body = forecast()
    periods = body["properties"]["periods"]
    body["properties"]["periods"] = [*reversed(periods[:6]), *periods[8:]]
    answer = found({"forecast": body}, edition)
    starts = [hour.hour.start for hour in answer.hours]
    assert starts == sorted(starts) and "sorted" in notes(answer)
    (hole,) = write(answer)["missing"]
    assert hole == {"from": "2031-05-14T06:00:00-05:00", "to": "2031-05-14T08:00:00-05:00"}


def test_an_old_forecast_is_said(edition: Edition) -> None:
    assert "old" in notes(read(edition=edition, updateTime="2031-05-13T22:00:00+00:00"))
    assert "old" not in notes(read(edition=edition, updateTime="2031-05-14T00:00:00+00:00"))


def test_daytime_is_a_clock_and_changes_nothing(edition: Edition) -> None:
    one, other = (read(*[{"isDaytime": day}] * 24, edition=edition) for day in (True, False))
    assert one.windows == other.windows


HALF_DAY = {"endTime": (MIDNIGHT + timedelta(hours=12)).isoformat()}
BAD_FORECASTS: list[tuple[Body, str, str]] = [
    (HALF_DAY, "/forecast", "is the 12-hour forecast, take the hourly one"),
    ({"startTime": "2031-05-14T00:00:00"}, "/forecast/properties/periods/0/startTime", "offset"),
    ({"temperatureUnit": "K"}, "/forecast/properties/periods/0/temperature", "is in K"),
    ({"windSpeed": "a breeze"}, "/forecast/properties/periods/0/windSpeed", "11 to 16 mph"),
    ({"temperature": "72"}, "/forecast/properties/periods/0/temperature", "is not a number"),
    ({"temperature": 720}, "/forecast/properties/periods/0/temperature", "from -60 to 200"),
]


@pytest.mark.parametrize(("change", "pointer", "said"), BAD_FORECASTS)
def test_a_forecast_that_cant_be_used(
    change: Body, pointer: str, said: str, edition: Edition
) -> None:
    with pytest.raises(QueryFaults) as refused:
        read(change, edition=edition)
    assert any(f.pointer == pointer and said in f.detail for f in refused.value.faults)


def one(n: int, **other: Any) -> Body:
    return {"start": (MIDNIGHT + timedelta(hours=n)).isoformat(), **FAIR, **other}


BAD_HOURS: list[tuple[Body, str, str]] = [
    ({"hours": []}, "/hours", "is not a list of hours"),
    ({"hours": [one(0)] * 201}, "/hours", "has 201 hours: the most is 200"),
    ({"hours": [one(0), one(0, air="60 F")]}, "/hours/1", "has other readings in entry 0"),
    ({"hours": [one(0, start="2031-05-14T09:00")]}, "/hours/0/start", "offset"),
    ({"hours": [one(0, sky="gray")]}, "/hours/0/sky", "is not a field here"),
    ({"hours": [one(0, air="72")]}, "/hours/0/air", "72"),
    ({"hours": [one(0)], "forecast": {}}, "/hours", "stands beside forecast"),
    ({"hours": [one(0)], "work": {"from": "18:00", "to": "07:00"}}, "/work", "ends before"),
    ({"hours": [one(0)], "work": {"from": "7"}}, pointer("work", "from"), "is not a time of day"),
    ({"hours": [one(0)], "place": {"lat": 95, "lon": 0}}, "/place/lat", "-90 to 90"),
    ({"hours": [one(0)], "now": {"air": "72 F"}}, "/now/air", "is not a field here"),
    ({"forecast": {"properties": {"periods": []}}}, "/forecast", "is not an hourly forecast"),
]


@pytest.mark.parametrize(("body", "pointer", "said"), BAD_HOURS)
def test_hours_that_cant_be_used(body: Body, pointer: str, said: str, edition: Edition) -> None:
    with pytest.raises(QueryFaults) as refused:
        read_hours(body, edition)
    assert any(f.pointer == pointer and said in f.detail for f in refused.value.faults)


def test_an_hour_told_twice_alike_is_taken_once(edition: Edition) -> None:
    answer = found({"hours": [one(0), one(0), one(1)]}, edition)
    assert len(answer.hours) == 2 and notes(answer) == {"twice": 1}
