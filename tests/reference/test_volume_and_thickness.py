"""Volume, area and thickness against exact definitions and closed forms worked by hand."""

from __future__ import annotations

import pytest

from upstand.quantity.units import convert

DEFINED = "exact by definition (NIST Handbook 44, Appendix C, quoted from memory)"

# value, unit, to, expected, relative tolerance, where the expected number comes from
DEFINITIONS = [
    (1, "gal", "in^3", 231.0, 1e-15, DEFINED),
    (1, "gal", "L", 3.785411784, 1e-15, DEFINED),
    (1, "gal", "fl_oz", 128.0, 1e-15, DEFINED),
    (1, "mil", "um", 25.4, 1e-15, "0.001 in of 25.4 mm each, exact by definition"),
    (1, "mil", "in", 0.001, 1e-15, "exact by definition"),
    (1, "lb", "kg", 0.45359237, 1e-15, DEFINED),
    (1, "ft^2", "m^2", 0.09290304, 1e-15, "0.3048 ^ 2"),
    (1, "mm", "mil", 39.3701, 1e-6, "1 / 0.0254"),
    (1, "ft^2/gal", "m^2/L", 0.0245424, 1e-6, "0.09290304 / 3.785411784"),
    (1, "mph", "km/h", 1.609344, 1e-15, "international mile, exact by definition"),
    (32, "degF", "degC", 0.0, 0.0, "ice point, by definition of the scale"),
    (212, "degF", "degC", 100.0, 1e-15, "steam point, by definition of the scale"),
    (-40, "degC", "degF", -40.0, 1e-15, "-40 * 9 / 5 + 32"),
    (3, "delta_degC", "delta_degF", 5.4, 1e-15, "3 * 9 / 5"),
]


@pytest.mark.parametrize(("value", "unit", "to", "expected", "within", "source"), DEFINITIONS)
def test_definition(
    value: float, unit: str, to: str, expected: float, within: float, source: str
) -> None:
    assert convert(value, unit, to) == pytest.approx(expected, rel=within, abs=0.0), source


def area_ft2(gallons: float, mils: float) -> float:
    """Spread a volume as a film: in^3 / in = in^2."""
    return convert(convert(gallons, "gal", "in^3") / convert(mils, "mil", "in"), "in^2", "ft^2")


def volume_gal(square_feet: float, mils: float) -> float:
    """Fill a film: in^2 * in = in^3."""
    return convert(convert(square_feet, "ft^2", "in^2") * convert(mils, "mil", "in"), "in^3", "gal")


# gallons, mils, square feet, relative tolerance (half the last digit given), closed form
SPREAD = [
    (1, 1, 1604.1667, 1e-7, "231 / 0.001 / 144"),
    (1, 40, 40.104, 2e-5, "231 / 0.040 / 144 = 40.10417"),
    (1, 100, 16.042, 3.2e-5, "231 / 0.100 / 144 = 16.04167"),
    (1, 16.0417, 100.0, 1e-5, "231 / 14400 in = 16.04167 mil: a gallon a square of 100 sq ft"),
]


@pytest.mark.parametrize(("gallons", "mils", "expected", "within", "source"), SPREAD)
def test_what_a_volume_covers(
    gallons: float, mils: float, expected: float, within: float, source: str
) -> None:
    assert area_ft2(gallons, mils) == pytest.approx(expected, rel=within), source


# square feet, mils, unit, expected, relative tolerance (half the last digit given), closed form
FILL = [
    (100, 40, "gal", 2.49351, 2e-6, "100 * 144 * 0.040 / 231"),
    (100, 40, "L", 9.4389, 1e-5, "the same * 3.785411784"),
    (10, 40, "fl_oz", 31.917, 1e-5, "10 * 144 * 0.040 / 231 * 128"),
    (100, 100, "gal", 6.23377, 2e-6, "100 * 144 * 0.100 / 231"),
    (100, 100, "L", 23.597, 2e-5, "the same * 3.785411784"),
    (25, 100, "gal", 1.55844, 5e-6, "25 * 144 * 0.100 / 231"),
    (12.5, 60, "gal", 0.46753, 1.1e-5, "12.5 * 144 * 0.060 / 231"),
    (7.3, 80, "gal", 0.36405, 2e-5, "7.3 * 144 * 0.080 / 231"),
    (100, 40 / 0.80, "gal", 3.1169, 1e-5, "40 mil dry at 80 % solids = 50 mil wet; 720 / 231"),
]


@pytest.mark.parametrize(("feet", "mils", "unit", "expected", "within", "source"), FILL)
def test_what_a_film_takes(
    feet: float, mils: float, unit: str, expected: float, within: float, source: str
) -> None:
    found = convert(volume_gal(feet, mils), "gal", unit)
    assert found == pytest.approx(expected, rel=within), source


def test_a_litre_on_a_square_metre_is_a_millimetre() -> None:
    # 0.001 m^3 / 1 m^2 = 0.001 m; and so 1 gal on 1 sq ft is 40.7458 L on 1 m^2
    depth_in = convert(1, "L", "in^3") / convert(1, "m^2", "in^2")
    assert convert(depth_in, "in", "mm") == pytest.approx(1.0, rel=1e-14)
    litres_a_square_metre = convert(1, "gal", "L") / convert(1, "ft^2", "m^2")
    assert litres_a_square_metre == pytest.approx(40.7458, rel=1e-6)


def test_the_imperial_gallon_is_not_read_as_gallon() -> None:
    # 277.42 in^3, some 20 % more: the usual slip
    assert convert(1, "gal", "in^3") != pytest.approx(277.42, rel=0.1)
