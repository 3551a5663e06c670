"""Dew and frost point against independent computations.

Convention: humidity is over water at every temperature, as weather services give it. Above freezing
psychrolib uses the same one, and the two forms (Magnus here, Hyland-Wexler there) stay within
0.1 °F. Below freezing psychrolib reads humidity over ice as well, so it is compared there from the
vapour pressure alone: the frost point of the same vapour, with the vapour from the Goff-Gratch
equation over water (as quoted in several public programs). 0.15 °F covers both fits.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

import psychrolib
import pytest

from upstand.formulas.weather import (
    dew_point,
    frost_point,
    saturation_over_ice,
    saturation_over_water,
)


@pytest.fixture(autouse=True)
def us_units() -> Iterator[None]:
    psychrolib.SetUnitSystem(psychrolib.IP)
    yield


def goff_gratch_over_water(celsius: float) -> float:
    """Saturation over plane water [hPa]; Goff and Gratch 1946, read second hand."""
    steam, kelvin = 373.16, celsius + 273.16
    ratio = steam / kelvin
    return 10 ** (
        -7.90298 * (ratio - 1)
        + 5.02808 * math.log10(ratio)
        - 1.3816e-7 * (10 ** (11.344 * (1 - 1 / ratio)) - 1)
        + 8.1328e-3 * (10 ** (-3.49149 * (ratio - 1)) - 1)
        + math.log10(1013.246)
    )


def goff_gratch_over_ice(celsius: float) -> float:
    """Saturation over plane ice [hPa]; Goff and Gratch 1946, read second hand."""
    ratio = 273.16 / (celsius + 273.16)
    return 10 ** (
        -9.09718 * (ratio - 1)
        - 3.56654 * math.log10(ratio)
        + 0.876793 * (1 - 1 / ratio)
        + math.log10(6.1071)
    )


ABOVE = [
    (air, humidity)
    for air in (35.0, 40.0, 50.0, 60.0, 72.0, 80.0, 90.0, 100.0, 115.0)
    for humidity in (20.0, 35.0, 55.0, 70.0, 85.0, 95.0, 100.0)
]


@pytest.mark.parametrize(("air", "humidity"), ABOVE)
def test_above_freezing_as_psychrolib(air: float, humidity: float) -> None:
    theirs = psychrolib.GetTDewPointFromRelHum(air, humidity / 100)
    if theirs < 32:  # there theirs is a frost point
        assert frost_point(air, humidity) == pytest.approx(theirs, abs=0.15)
    else:
        assert dew_point(air, humidity) == pytest.approx(theirs, abs=0.1)


@pytest.mark.parametrize(
    ("air", "humidity"),
    [
        (35.0, 80.9),
        (40.0, 82.1),
        (50.0, 82.8),
        (60.0, 83.5),
        (70.0, 84.2),
        (80.0, 84.8),
        (90.0, 85.3),
        (100.0, 85.9),
    ],
)
def test_humidity_at_which_five_degrees_are_left(air: float, humidity: float) -> None:
    """Computed with psychrolib, humidity rounded to 0.1 %, which is 0.04 °F of dew point.

    At 35 °F the point is at 30 °F, where psychrolib's is a frost point.
    """
    point = frost_point(air, humidity) if air - 5 < 32 else dew_point(air, humidity)
    assert air - point == pytest.approx(5.0, abs=0.1)


def test_below_freezing_over_water() -> None:
    """30 °F and 40 %: metpy 8.57, Magnus 8.56, both over water; psychrolib 10.92 over ice."""
    assert dew_point(30.0, 40.0) == pytest.approx(8.56, abs=0.01)
    assert psychrolib.GetTDewPointFromRelHum(30.0, 0.40) == pytest.approx(10.92, abs=0.01)
    assert frost_point(30.0, 40.0) > 10.92


@pytest.mark.parametrize("air", [5.0, 14.0, 20.0, 25.0, 31.0, 40.0])
@pytest.mark.parametrize("humidity", [30.0, 60.0, 80.0, 95.0])
def test_frost_point_of_the_same_vapour(air: float, humidity: float) -> None:
    celsius = (air - 32) / 1.8
    pascals = goff_gratch_over_water(celsius) * humidity
    psi = pascals / 6894.757293168
    theirs = psychrolib.GetTDewPointFromVapPres(air + 10, psi)  # room to lie above the air
    if theirs < 32:
        assert frost_point(air, humidity) == pytest.approx(theirs, abs=0.15)
    else:
        assert dew_point(air, humidity) == pytest.approx(theirs, abs=0.1)


def test_how_far_the_conventions_are_apart() -> None:
    """25 °F and 80 %: humidity read over ice gives a frost point 0.8 °F lower than over water."""
    apart = frost_point(25.0, 80.0) - psychrolib.GetTDewPointFromRelHum(25.0, 0.80)
    assert apart == pytest.approx(0.8, abs=0.1)


def test_frost_point_is_the_higher_below_freezing_and_meets_at_32() -> None:
    for air in (-10.0, 0.0, 15.0, 30.0):
        assert frost_point(air, 60.0) > dew_point(air, 60.0)
    assert frost_point(32.0, 100.0) == pytest.approx(dew_point(32.0, 100.0), abs=1e-9)


@pytest.mark.parametrize("celsius", [-40.0, -20.0, -10.0, -5.0, 0.0, 10.0, 20.0, 35.0, 50.0])
def test_saturation_over_water(celsius: float) -> None:
    """Two fits to different tables: 0.5 % is 0.1 °F of dew point; 1 % at -40 °C is under 0.2 °F."""
    allowed = 0.01 if celsius < -20 else 0.005
    ours = saturation_over_water(celsius)
    assert ours == pytest.approx(goff_gratch_over_water(celsius), rel=allowed)


@pytest.mark.parametrize("celsius", [-40.0, -20.0, -10.0, -5.0, 0.0])
def test_saturation_over_ice(celsius: float) -> None:
    ours = saturation_over_ice(celsius)
    assert ours == pytest.approx(goff_gratch_over_ice(celsius), rel=0.006)


def test_saturation_at_20_celsius() -> None:
    """2338.80 Pa by psychrolib, 2334.75 Pa by metpy: 0.3 % covers the choice of equation."""
    assert saturation_over_water(20.0) * 100 == pytest.approx(2338.80, rel=0.003)
    assert saturation_over_water(20.0) * 100 == pytest.approx(2334.75, rel=0.001)
