"""The halving rule against its closed form and against the Arrhenius equation."""

from __future__ import annotations

import math

import pytest

from upstand.formulas.times import halved_time, log_linear, longer, shorter

GAS_CONSTANT = 8.314462618  # J/(mol K)

# Closed form: 20 min at 68 °F, doubling for each 18 °F (10 °C), to the digits given.
STATED = [(50.0, 40.0), (60.0, 27.22), (68.0, 20.0), (77.0, 14.14), (86.0, 10.0), (95.0, 7.07)]

# Arrhenius at 50 kJ/mol from the same start, to the digits given.
ARRHENIUS_50 = [
    (40.0, 63.13),
    (50.0, 41.27),
    (60.0, 27.43),
    (77.0, 14.18),
    (86.0, 10.17),
    (95.0, 7.37),
]


def arrhenius(stated: float, at: float, temperature: float, joules: float) -> float:
    """Time of a reaction with one activation energy, temperatures in °F."""
    start, now = ((each - 32) / 1.8 + 273.15 for each in (at, temperature))
    return stated * math.exp(joules / GAS_CONSTANT * (1 / now - 1 / start))


@pytest.mark.parametrize(("temperature", "minutes"), STATED)
def test_doubling_per_10_celsius(temperature: float, minutes: float) -> None:
    assert halved_time(20.0, 68.0, temperature, 18.0) == pytest.approx(minutes, abs=0.005)


@pytest.mark.parametrize(("temperature", "minutes"), ARRHENIUS_50)
def test_the_oracle_gives_the_published_column(temperature: float, minutes: float) -> None:
    assert arrhenius(20.0, 68.0, temperature, 50_000) == pytest.approx(minutes, abs=0.01)


@pytest.mark.parametrize(("temperature", "minutes"), ARRHENIUS_50)
def test_how_far_a_real_reaction_departs(temperature: float, minutes: float) -> None:
    """50 kJ/mol: within 4.5 % from 50 to 95 °F, within 8 % at 40 °F: a rule of thumb."""
    allowed = 0.08 if temperature < 50 else 0.045
    assert halved_time(20.0, 68.0, temperature, 18.0) == pytest.approx(minutes, rel=allowed)


def test_activation_energy_for_exact_doubling() -> None:
    """52.95 kJ/mol doubles from 25 to 35 °C (77 to 95 °F)."""
    assert arrhenius(20.0, 77.0, 95.0, 52_950) == pytest.approx(10.0, rel=1e-3)


@pytest.mark.parametrize(
    ("temperature", "low", "high"), [(55.0, 25.0, 30.0), (70.0, 25.0, 30.0), (88.0, 12.5, 15.0)]
)
def test_pot_life_shrinks_in_heat_and_never_grows_in_cold(
    temperature: float, low: float, high: float
) -> None:
    """25 to 30 min stated at 70 °F, as two-part polyurethane."""
    for stated, expected in ((25.0, low), (30.0, high)):
        found = shorter(stated, halved_time(stated, 70.0, temperature, 18.0))
        assert found == pytest.approx(expected)


def test_waits_grow_in_cold_and_never_shrink_in_heat() -> None:
    """4 h stated at 70 °F: 8 h at 52 °F, still 4 h at 88 °F."""
    assert longer(240.0, halved_time(240.0, 70.0, 52.0, 18.0)) == pytest.approx(480.0)
    assert longer(240.0, halved_time(240.0, 70.0, 88.0, 18.0)) == 240.0


def test_at_the_stated_temperature_nothing_changes() -> None:
    assert halved_time(27.0, 70.0, 70.0, 18.0) == 27.0


def test_table_between_two_points_of_a_halving_reaction() -> None:
    """Points taken from the halving rule lie on its own straight line in the logarithm."""
    for temperature in (52.0, 60.0, 66.5):
        table = log_linear(temperature, 50.0, 40.0, 68.0, 20.0)
        assert table == pytest.approx(halved_time(20.0, 68.0, temperature, 18.0))
