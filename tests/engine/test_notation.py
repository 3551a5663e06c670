"""The closed grammar: what people write is read, and everything else is refused in plain words."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from upstand.quantity.spellings import BARE, EXAMPLES, LIMITS, SPELLINGS
from upstand.quantity.typed import NotationFault, Reading, accepted, read
from upstand.quantity.units import DIMENSIONS, UNITS, UnitFault, convert, quantity, system_unit

ACCEPTED = [
    ("8 1/2 in", "length", 8.5, "in"),
    ('8-1/2"', "length", 8.5, "in"),
    ("8 1/2\u2033", "length", 8.5, "in"),
    ("2'-6 1/2\"", "length", 30.5, "in"),
    ("2\u2032-6 1/2\u2033", "length", 30.5, "in"),
    ("2' 6\"", "length", 30.0, "in"),
    ("2 ft 6 1/2 in", "length", 30.5, "in"),
    ("2 ft. - 6 in.", "length", 30.0, "in"),
    ("216 mm", "length", 216.0, "mm"),
    ("2.54cm", "length", 25.4, "mm"),
    ("1.5 ft", "length", 1.5, "ft"),
    (".5 in", "length", 0.5, "in"),
    ("1/4 in", "length", 0.25, "in"),
    ("0 in", "length", 0.0, "in"),
    ("1,250 mm", "length", 1250.0, "mm"),
    ("4 pulgadas", "length", 4.0, "in"),
    ("8\u00a01/2\u00a0IN", "length", 8.5, "in"),
    ("1,000 ft", "length", 1000.0, "ft"),
    ("72 F", "temperature", 72.0, "degF"),
    ("22 °C", "temperature", 22.0, "degC"),
    ("22 ° C", "temperature", 22.0, "degC"),
    ("-5 F", "temperature", -5.0, "degF"),
    ("\u22125 F", "temperature", -5.0, "degF"),
    ("+5 F", "temperature", 5.0, "degF"),
    ("40 degF", "temperature", 40.0, "degF"),
    ("5.4 °F", "temperature_difference", 5.4, "delta_degF"),
    ("5 delta_degF", "temperature_difference", 5.0, "delta_degF"),
    ("3 delta_degC", "temperature_difference", 3.0, "delta_degC"),
    ("55 %", "fraction", 55.0, "percent"),
    ("55 percent", "fraction", 55.0, "percent"),
    ("40 mil", "film", 40.0, "mil"),
    ("1,016 µm", "film", 1016.0, "um"),
    ("1 mm", "film", 1000.0, "um"),
    ("90 deg", "angle", 90.0, "deg"),
    ("90°", "angle", 90.0, "deg"),
    ("1 gal", "volume", 1.0, "gal"),
    ("1 qt", "volume", 0.25, "gal"),
    ("19 fl oz", "volume", 19.0, "fl_oz"),
    ("560 ml", "volume", 560.0, "ml"),
    ("12.5 sq ft", "area", 12.5, "ft^2"),
    ("1.2 m²", "area", 1.2, "m^2"),
    ("144 in^2", "area", 144.0, "in^2"),
    ("12 mph", "speed", 12.0, "mph"),
    ("5 m/s", "speed", 18.0, "km/h"),
    ("30 min", "time", 30.0, "min"),
    ("2 h", "time", 2.0, "h"),
    ("2 h 30 min", "time", 150.0, "min"),
    ("2 days", "time", 48.0, "h"),
    ("300 ft^2/gal", "coverage", 300.0, "ft^2/gal"),
    ("300 sq ft per gallon", "coverage", 300.0, "ft^2/gal"),
    ("8 oz", "mass", 0.5, "lb"),
    ("165 g/m^2", "areal_mass", 165.0, "g/m^2"),
    ("1380 kg/m³", "density", 1380.0, "kg/m^3"),
    ("10 sq ft/min", "work_rate", 10.0, "ft^2/min"),
    ("24", "count", 24.0, "1"),
]

# text, dimension, words that the message must hold
REFUSED = [
    ("8", "length", 'is 8 inches or millimeters? write "8 in" or "8 mm"'),
    ("8 1/2", "length", "is 8 1/2 inches or millimeters?"),
    ("72", "temperature", 'is 72 degrees Fahrenheit or Celsius? write "72 F" or "72 C"'),
    ("72°", "temperature", "is 72 degrees Fahrenheit or Celsius?"),
    ("40", "film", "is 40 mils or micrometers?"),
    ("55", "fraction", 'write "55 %"'),
    ("40 mil", "length", '"40 mil" is a film thickness: write a length as "8 1/2 in"'),
    ("8 in", "temperature", '"8 in" is a length: write a temperature as "72 F" or "22 C"'),
    ("2 h", "length", "is a time"),
    ("19 oz", "volume", 'by weight or fluid? write "19 fl oz"'),
    ("-8 in", "length", "a length can't be negative"),
    ("-1 gal", "volume", "a volume can't be negative"),
    ("1001 ft", "length", "a length here is 1,000 ft at most"),
    ("12001 in", "length", "a length here is 1,000 ft at most"),
    ("1001 mil", "film", "1,000 mil at most"),
    ("26 mm", "film", "1,000 mil at most"),  # 25.4 mm is 1,000 mil
    ("-151 F", "temperature", "-150 °F at least"),
    ("1001 F", "temperature", "1,000 °F at most"),
    ("10001 h", "time", "10,000 h at most"),
    ("201 mph", "speed", "200 mph at most"),
    ("1/0 in", "length", "1/0 divides by zero"),
    ("8 1/0 in", "length", "8 1/0 divides by zero"),
    ("1/2/3 in", "length", "is not one number and a unit"),
    ("8 1/2/3 in", "length", "is not one number and a unit"),
    ("8 3/2 in", "length", "the fraction is less than one"),
    ("8.5 1/2 in", "length", "mixes a decimal with a fraction"),
    ("1,5 ft", "length", "a decimal is written with a point"),
    ("1.2.3 in", "length", "does not start with a number"),
    ("2 ft 14 in", "length", "the second part is less than 12"),
    ("2 ft 12 in", "length", "the second part is less than 12"),
    ("2.5 ft 6 in", "length", "the first is a whole number"),
    ("2 h 60 min", "time", "the second part is less than 60"),
    ("8 in 2 ft", "length", "is not one number and a unit"),
    ("2 ft 6", "length", "is not one number and a unit"),
    ("8 furlong", "length", "is not one number and a unit"),
    ("½ in", "length", "write fractions as 8 1/2"),
    ("٣ in", "length", "has a sign not read here"),
    ("８ in", "length", "has a sign not read here"),
    ("8\nin", "length", "has a sign not read here"),
    ("8 in\x00", "length", "has a sign not read here"),
    ("9**9**7 ft", "length", "is not one number and a unit"),
    ("1e999999999 in", "length", "is not one number and a unit"),
    ("1e3 in", "length", "is not one number and a unit"),
    ("1_0 in", "length", "is not one number and a unit"),
    ("NaN in", "length", "does not start with a number"),
    ("inf ft", "length", "does not start with a number"),
    ("--5 F", "temperature", "does not start with a number"),
    ("+-5 F", "temperature", "does not start with a number"),
    ("-", "length", "does not start with a number"),
    ("in", "length", "does not start with a number"),
    ("", "length", "is empty"),
    ("   ", "length", "is empty"),
    ("1234567890123456789012345 in", "length", "over 24 digits"),
    ("1" * 41, "length", "is 41 characters long, 40 are read"),
    ("1" * 10_000, "length", "is 10000 characters long"),
    (" " * 10_000 + "8 in", "length", "characters long"),
    ("1/" * 20, "length", "is not"),
    ("-1", "count", "a count can't be negative"),
    ("3 in", "count", "is a length: write a count as"),
]


@pytest.mark.parametrize(("text", "dimension", "value", "unit"), ACCEPTED)
def test_reads(text: str, dimension: str, value: float, unit: str) -> None:
    assert read(text, dimension) == Reading(value, unit, text)


@pytest.mark.parametrize(("text", "dimension", "words"), REFUSED)
def test_refuses(text: str, dimension: str, words: str) -> None:
    with pytest.raises(NotationFault) as fault:
        read(text, dimension)
    assert words in fault.value.message
    assert str(fault.value) == fault.value.message
    assert fault.value.message.isprintable()
    assert len(fault.value.message) < 250


@pytest.mark.parametrize("thing", [None, True, [], {}, b"8 in", float("nan"), 1e300])
def test_refuses_what_is_not_text(thing: object) -> None:
    with pytest.raises(NotationFault, match="is not text: write a length as"):
        read(thing, "length")  # type: ignore[arg-type]


def test_a_number_of_thousands_of_digits_is_not_written_out() -> None:
    with pytest.raises(NotationFault, match="is not text: write a length as"):
        read(10**5000, "length")  # type: ignore[arg-type]


@pytest.mark.parametrize(("number", "shown"), [(8, "8"), (8.5, "8.5"), (0, "0")])
def test_a_json_number_is_asked_back_like_a_bare_one(number: float, shown: str) -> None:
    with pytest.raises(NotationFault, match=f"is {shown} inches or millimeters"):
        read(number, "length")  # type: ignore[arg-type]


def test_positions_may_be_negative_when_asked_for() -> None:
    assert read("-6 1/2 in", "length", signed=True).value == -6.5
    assert read("-2' 6\"", "length", signed=True).value == -30.0
    with pytest.raises(NotationFault, match="1,000 ft at least"):
        read("-1001 ft", "length", signed=True)


def test_an_unknown_dimension_is_a_fault_of_the_program() -> None:
    with pytest.raises(UnitFault, match="no dimension 'size'"):
        read("8 in", "size")


def test_the_tables_cover_the_closed_list() -> None:
    assert set(SPELLINGS) == set(EXAMPLES) == set(LIMITS) == DIMENSIONS
    assert set(BARE) == DIMENSIONS - {"count"}
    for name, spellings in SPELLINGS.items():
        for unit, _ in spellings.values():
            assert UNITS[unit] == name


@pytest.mark.parametrize("unit", sorted(set(UNITS) - {"1"}))
def test_every_closed_unit_is_read_by_its_own_name(unit: str) -> None:
    reading = read(f"2 {unit}", UNITS[unit])
    assert convert(reading.value, reading.unit, unit) == pytest.approx(2.0, rel=1e-15)


@pytest.mark.parametrize("dimension", sorted(DIMENSIONS))
def test_every_example_offered_is_read(dimension: str) -> None:
    for example in EXAMPLES[dimension]:
        read(example, dimension)
        assert f'"{example}"' in accepted(dimension)
    for unit in BARE.get(dimension, ()):
        read(f"8 {unit}", dimension)


@given(whole=st.integers(0, 999), low=st.sampled_from([2, 4, 8, 16, 32, 64]), data=st.data())
def test_mixed_numbers_are_exact(whole: int, low: int, data: st.DataObject) -> None:
    top = data.draw(st.integers(0, low - 1))
    expected = float(whole + Fraction(top, low))
    for form in ("{} {}/{} in", '{}-{}/{}"', "{} {}/{}in.", "{} {}/{} inches"):
        assert read(form.format(whole, top, low), "length") == Reading(
            expected, "in", form.format(whole, top, low)
        )


@given(feet=st.integers(0, 900), eighths=st.integers(0, 95))
def test_feet_and_inches_are_exact(feet: int, eighths: int) -> None:
    whole, rest = divmod(eighths, 8)
    for form in ("{}'-{} {}/8\"", "{} ft {} {}/8 in", "{}' {}-{}/8\"", "{}ft{} {}/8in"):
        reading = read(form.format(feet, whole, rest), "length")
        assert (reading.value, reading.unit) == (feet * 12 + eighths / 8, "in")


@given(hundredths=st.integers(0, 99_999), unit=st.sampled_from(["mm", "in", "ft", '"']))
def test_decimals_are_what_they_say(hundredths: int, unit: str) -> None:
    whole, rest = divmod(hundredths, 100)
    assert read(f"{whole}.{rest:02d} {unit}", "length").value == hundredths / 100


# what is shown, the coarsest step of its text at these sizes, in the unit shown
SHOWN = [
    ("in", 0.0, 1e4, 1 / 8), ("mil", 0.0, 900.0, 1.0), ("ft^2", 0.0, 99.0, 0.1),
    ("gal", 0.0, 99.0, 0.1), ("lb", 0.0, 99.0, 0.1), ("degF", -60.0, 200.0, 0.1),
    ("delta_degF", -60.0, 200.0, 0.1), ("min", 0.0, 5000.0, 1.0), ("h", 0.0, 99.0, 1 / 60),
    ("percent", 0.0, 100.0, 0.1), ("deg", -360.0, 360.0, 0.1), ("mph", 0.0, 99.0, 0.1),
    ("ft^2/gal", 0.0, 999.0, 1.0), ("g/m^2", 0.0, 999.0, 1.0), ("kg/m^3", 0.0, 9990.0, 10.0),
    ("ft^2/min", 0.0, 99.0, 0.1), ("1", 0.0, 9999.0, 1.0),
]  # fmt: skip


@pytest.mark.parametrize(("unit", "low", "high", "step"), SHOWN)
@pytest.mark.parametrize("system", ["us", "si"])
@given(data=st.data())
def test_what_was_shown_is_read_back(
    unit: str, low: float, high: float, step: float, system: str, data: st.DataObject
) -> None:
    value = data.draw(st.floats(min_value=low, max_value=high))
    there = system_unit(unit, system)
    made = quantity(value, unit, system)
    coarse = step
    if there != unit:
        # the SI text keeps whole mm, tens of um, a tenth of a degree, three digits elsewhere
        least = {"mm": 1.0, "um": 10.0}.get(there, 0.1)
        coarse = max(least, 0.01 * abs(made["value"]))
    # a volume under a gallon says the same twice: each part is read back alone
    for part in made["text"].rstrip(")").split(" ("):
        reading = read(part, UNITS[unit])
        back = convert(reading.value, reading.unit, there)
        assert back == pytest.approx(made["value"], abs=coarse / 2 + 1e-9, rel=1e-9)


@given(text=st.text(max_size=60), dimension=st.sampled_from(sorted(DIMENSIONS)))
def test_any_text_is_read_or_refused(text: str, dimension: str) -> None:
    try:
        reading = read(text, dimension)
    except NotationFault as fault:
        assert fault.message.isprintable()
    else:
        assert UNITS[reading.unit] == dimension


@given(text=st.text(alphabet="0123456789 -/.,'\"+infthm%", max_size=40))
def test_near_misses_are_read_or_refused(text: str) -> None:
    for dimension in ("length", "time", "temperature", "count"):
        try:
            reading = read(text, dimension)
        except NotationFault:
            continue
        low, high, unit = LIMITS[dimension]
        assert low <= convert(reading.value, reading.unit, unit) <= high
