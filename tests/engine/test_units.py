"""The closed list of units, conversion, and the text of quantities."""

from __future__ import annotations

import math

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from upstand.quantity import text as showing
from upstand.quantity.units import (
    UNITS,
    UnitFault,
    convert,
    dimension,
    pint_unit,
    quantity,
    registry,
    system_unit,
)

JSON_UNITS = {
    "in", "ft", "mil", "in^2", "ft^2", "gal", "fl_oz", "lb", "degF", "delta_degF", "min", "h",
    "percent", "mm", "um", "m^2", "L", "ml", "kg", "degC", "delta_degC",
}  # fmt: skip
PAIRS = [
    ("in", "mm"), ("mil", "um"), ("ft^2", "m^2"), ("gal", "L"), ("lb", "kg"), ("degF", "degC"),
    ("delta_degF", "delta_degC"), ("mph", "km/h"), ("ft^2/gal", "m^2/L"), ("ft^2/min", "m^2/min"),
]  # fmt: skip
VALUES = st.floats(min_value=-1e6, max_value=1e6, allow_nan=False)


def shown(value: float, unit: str, system: str = "us", style: str | None = None) -> str:
    return quantity(value, unit, system, style)["text"].replace("\u00a0", " ")


def test_every_unit_of_the_answers_is_in_the_closed_list() -> None:
    assert set(UNITS) >= JSON_UNITS
    with pytest.raises(TypeError):
        UNITS["furlong"] = "length"  # type: ignore[index]


def test_a_film_mil_is_a_length_while_the_registry_keeps_its_angle() -> None:
    assert registry().Quantity(1, "mil").check("[]")
    assert pint_unit("mil").dimensionality == {"[length]": 1}
    assert dimension("mil") == dimension("um") == "film"


def test_the_registry_refuses_a_second_definition() -> None:
    with pytest.raises(pint.RedefinitionError):
        registry().define("mil = 0.001 * inch")


@pytest.mark.parametrize(
    ("value", "unit", "to", "expected"),
    [
        (254, "mm", "in", 10.0),  # 254 / 25.4
        (1, "in", "mil", 1000.0),
        (2.5, "ft", "in", 30.0),
        (144, "in^2", "ft^2", 1.0),
        (2, "h", "min", 120.0),
        (500, "g", "kg", 0.5),
        (250, "ml", "L", 0.25),
        (68, "degF", "degC", 20.0),
        (-40, "degF", "degC", -40.0),
        (18, "delta_degF", "delta_degC", 10.0),
    ],
)
def test_convert_is_exact_where_the_factor_is(
    value: float, unit: str, to: str, expected: float
) -> None:
    assert convert(value, unit, to) == expected


@pytest.mark.parametrize(
    ("unit", "to"),
    [
        ("in", "gal"), ("degF", "delta_degF"), ("percent", "1"), ("deg", "1"), ("mil", "deg"),
        ("in", "in^2"), ("inch", "mm"), ("in", "furlong"), ("", "in"), ("g/m^2", "kg/m^3"),
    ],
)  # fmt: skip
def test_convert_refuses(unit: str, to: str) -> None:
    with pytest.raises(UnitFault):
        convert(1.0, unit, to)


def test_a_unit_fault_says_which_dimensions_clash() -> None:
    with pytest.raises(UnitFault, match="length in in can't be turned into volume in gal"):
        convert(1.0, "in", "gal")
    with pytest.raises(UnitFault, match="'furlong' is not a unit of the closed list: in ft mm"):
        dimension("furlong")


@pytest.mark.parametrize(("us", "si"), PAIRS)
@given(value=VALUES)
def test_us_to_si_and_back(us: str, si: str, value: float) -> None:
    there = quantity(value, us, "si")
    assert there["unit"] == si
    back = quantity(there["value"], si, "us")
    assert back["unit"] == us
    # a scale with an offset loses digits near its zero, so the tolerance is absolute there too
    assert back["value"] == pytest.approx(value, rel=1e-14, abs=1e-13)


@pytest.mark.parametrize("unit", sorted(UNITS))
@given(value=st.floats(min_value=-1e4, max_value=1e4))
def test_the_table_is_what_pint_says(unit: str, value: float) -> None:
    for to in (system_unit(unit, "us"), system_unit(unit, "si")):
        oracle = float(registry().Quantity(value, pint_unit(unit)).to(pint_unit(to)).magnitude)
        assert convert(value, unit, to) == pytest.approx(oracle, rel=1e-12, abs=1e-9)


@pytest.mark.parametrize(
    ("unit", "us", "si"),
    [
        ("ft", "in", "mm"), ("m", "in", "mm"), ("um", "mil", "um"), ("in^2", "ft^2", "m^2"),
        ("in^3", "gal", "L"), ("ml", "gal", "L"), ("g", "lb", "kg"), ("min", "min", "min"),
        ("h", "h", "h"), ("percent", "percent", "percent"), ("deg", "deg", "deg"),
        ("g/m^2", "g/m^2", "g/m^2"), ("kg/m^3", "kg/m^3", "kg/m^3"), ("1", "1", "1"),
    ],
)  # fmt: skip
def test_shown_in(unit: str, us: str, si: str) -> None:
    assert (system_unit(unit, "us"), system_unit(unit, "si")) == (us, si)


@pytest.mark.parametrize(
    ("value", "unit", "system", "style", "text"),
    [
        (8.5, "in", "us", None, "8 1/2 in"),
        (0.5, "in", "us", None, "1/2 in"),
        (8.0, "in", "us", None, "8 in"),
        (8.0625, "in", "us", None, "8 1/8 in"),  # 64.5 eighths: half goes up
        (8.06, "in", "us", None, "8 in"),
        (0.1875, "in", "us", None, "3/16 in"),
        (0.036, "in", "us", None, "0.036 in"),
        (1500.0, "in", "us", None, "1,500 in"),
        (-2.5, "in", "us", None, "-2 1/2 in"),
        (8.1, "in", "us", "up-quarter", "8 1/4 in"),
        (8.0000000001, "in", "us", "up-quarter", "8 in"),
        (8.55, "in", "us", "down", "8 1/2 in"),
        (8.55, "in", "us", "up", "8 5/8 in"),
        (7.9999999999, "in", "us", "down", "8 in"),
        (8.5, "in", "si", None, "216 mm"),  # 215.9
        (8.1, "in", "si", "up-quarter", "210 mm"),  # 205.74, up to 5
        (8.5, "in", "si", "down", "215 mm"),
        (0.015, "in", "si", None, "0.38 mm"),  # 0.381
        (190.0, "in^2", "us", None, "1.32 sq ft"),  # 1.3194
        (190.0, "in^2", "si", None, "0.123 m²"),  # 0.12258
        (1604.17, "ft^2", "us", None, "1,600 sq ft"),
        (0.0, "in^2", "us", None, "0 sq ft"),
        (0.148, "gal", "us", None, "19 fl oz (0.148 gal)"),  # 18.944
        (0.03, "gal", "us", None, "3.8 fl oz (0.03 gal)"),  # 3.84
        (0.25, "gal", "us", None, "0.25 gal (32 fl oz)"),
        (0.9999, "gal", "us", None, "1 gal"),
        (2.49351, "gal", "us", None, "2.49 gal"),
        (34.188, "in^3", "us", None, "19 fl oz (0.148 gal)"),
        (0.148, "gal", "si", None, "560 ml"),  # 560.24
        (0.5, "gal", "si", None, "1.89 L"),
        (0.99999, "L", "si", None, "1 L"),
        (0.0, "gal", "si", None, "0 L"),
        (72.0, "degF", "us", None, "72 °F"),
        (53.64, "degF", "us", None, "53.6 °F"),
        (72.0, "degF", "si", None, "22.2 °C"),
        (31.99, "degF", "si", None, "0 °C"),  # -0.006: no minus before a nought
        (5.4, "delta_degF", "us", None, "5.4 °F"),
        (5.4, "delta_degF", "si", None, "3 °C"),
        (25.0, "min", "us", None, "25 min"),
        (12.5, "min", "us", None, "12.5 min"),
        (27.22, "min", "us", "down", "27 min"),
        (12.5, "min", "us", "down", "12 min"),
        (12.5, "min", "us", "up", "13 min"),
        (60.0, "min", "us", "up", "60 min"),
        (61.0, "min", "us", "up", "90 min"),
        (169.7, "min", "us", "up", "3 h"),  # 2 h 49.7 min
        (1058.3, "min", "us", "down", "17 h 30 min"),  # 17 h 38 min
        (1058.3, "min", "us", "full-hour", "17 h"),
        (119.0, "min", "us", "full-hour", "60 min"),
        (76.0, "in", "us", "run", "6 ft 4 in"),
        (72.01, "in", "us", "run", "6 ft 1 in"),
        (72.0, "in", "us", "run", "6 ft"),
        (8.0, "in", "us", "run", "8 in"),
        (76.0, "in", "si", "run", "1,940 mm"),  # 1,930.4
        (31.29, "mil", "si", "up", "800 µm"),  # 794.8
        (119.4, "min", "us", None, "119 min"),
        (119.5, "min", "us", None, "2 h"),
        (150.0, "min", "us", None, "2 h 30 min"),
        (-150.0, "min", "us", None, "-2 h 30 min"),
        (1.5, "h", "us", None, "90 min"),
        (48.0, "h", "si", None, "48 h"),
        (55.0, "percent", "us", None, "55 %"),
        (40.0, "mil", "us", None, "40 mil"),
        (2.5, "mil", "us", None, "2.5 mil"),
        (40.0, "mil", "si", None, "1,020 µm"),  # 1,016: no gauge has a finer tooth
        (200.0, "ft^2/gal", "us", None, "200 sq ft/gal"),
        (200.0, "ft^2/gal", "si", None, "4.91 m²/L"),  # 4.9085
        (12.0, "mph", "si", None, "19.3 km/h"),
        (165.0, "g/m^2", "us", None, "165 g/m²"),
        (1380.0, "kg/m^3", "us", None, "1,380 kg/m³"),
        (3.0, "1", "us", None, "3"),
        (1250.0, "1", "us", None, "1,250"),
        (0.8679, "1", "us", None, "0.868"),
        (90.0, "deg", "us", None, "90°"),
    ],
)
def test_text(value: float, unit: str, system: str, style: str | None, text: str) -> None:
    assert shown(value, unit, system, style) == text


def test_number_and_unit_never_part_at_a_line_end() -> None:
    assert quantity(8.5, "in", "us")["text"] == "8\u00a01/2\u00a0in"
    assert quantity(2, "ft^2", "us")["text"] == "2\u00a0sq\u00a0ft"


def test_the_value_is_not_rounded() -> None:
    assert quantity(8.123456, "in", "us", "up")["value"] == 8.123456
    assert quantity(1, "in^2", "us")["value"] == 1 / 144


@given(value=st.floats(min_value=0.2, max_value=1e4), style=st.sampled_from(["down", "up"]))
def test_limits_are_rounded_to_the_safe_side(value: float, style: str) -> None:
    steps = {"down": showing.down, "up": showing.up}[style](value * 8)
    assert abs(steps - value * 8) < 1.0
    assert steps <= value * 8 + 1e-5 if style == "down" else steps >= value * 8 - 1e-5


@pytest.mark.parametrize(("steps", "whole"), [(0.5, 1), (1.5, 2), (2.5, 3), (2.49, 2), (-0.5, 0)])
def test_halves_go_up_as_in_a_browser(steps: float, whole: int) -> None:
    assert showing.nearest(steps) == whole


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf, 1e300])
def test_no_quantity_of_what_is_not_a_number(value: float) -> None:
    with pytest.raises(UnitFault, match="not a quantity that can be shown"):
        quantity(value, "in", "us")


def test_unknown_system_and_style_are_refused() -> None:
    with pytest.raises(UnitFault, match='"us" or "si"'):
        quantity(1, "in", "metric")
    with pytest.raises(UnitFault, match="no rounding style"):
        quantity(1, "in", "us", "sideways")
    with pytest.raises(UnitFault, match="is for length, not for volume"):
        quantity(1, "gal", "us", "up-quarter")
    with pytest.raises(UnitFault, match="is for time, not for length"):
        quantity(1, "in", "us", "full-hour")
