"""Working times at a temperature other than the one they were stated at.

Times in minutes, temperatures in degrees Fahrenheit. Which rule applies to which time, and on
whose temperature, is the data's to say; these functions only do the arithmetic.
"""

from __future__ import annotations

from math import exp, log

from upstand.formulas.language.constants import ALL_OF_IT
from upstand.formulas.language.units_of import (
    Count,
    DegreesFahrenheit,
    FahrenheitSteps,
    Minutes,
    Percent,
)


def halved_time(
    stated: Minutes, at: DegreesFahrenheit, temperature: DegreesFahrenheit, step: FahrenheitSteps
) -> Minutes:
    """Time by the halving rule: each step warmer halves it, each step colder doubles it.

    For pot life and reaction cure only, within some 20 °F of the stated temperature. A reaction of
    50 kJ/mol departs from it by 4 % from 50 to 95 °F (stated at 68 °F) and by 8 % at 40 °F.

    Rule of thumb, doubling of rate per 10 °C; compared with the Arrhenius equation.

    >>> round(halved_time(20, 68, 86, 18), 9)
    10.0
    """
    return stated * exp((at - temperature) / step * log(2))


def warmth_rate(
    temperature: DegreesFahrenheit, at: DegreesFahrenheit, step: FahrenheitSteps
) -> Count:
    """How many hours of a window one hour uses up: one, and more where it is warm.

    The halving rule, read as a rate. Cold never lengthens a window: the clock runs on.

    >>> round(warmth_rate(88, 70, 18), 9), warmth_rate(40, 70, 18)
    (2.0, 1)
    """
    return max(1, exp((temperature - at) / step * log(2)))


def shorter(a: Minutes, b: Minutes) -> Minutes:
    """The shorter of two times: for windows that must not grow.

    >>> shorter(25, 12.5)
    12.5
    """
    return min(a, b)


def longer(a: Minutes, b: Minutes) -> Minutes:
    """The longer of two times: for waits that must not shrink.

    >>> longer(240, 480)
    480
    """
    return max(a, b)


def pot_life_kept(pot_life: Minutes, margin: Percent) -> Minutes:
    """Pot life to plan on: what is left when a margin is kept back.

    Valid for a margin from 0 to 100.

    >>> pot_life_kept(20, 25)
    15.0
    """
    return pot_life * (1 - margin / ALL_OF_IT)


def log_linear(
    temperature: DegreesFahrenheit,
    t0: DegreesFahrenheit,
    v0: Minutes,
    t1: DegreesFahrenheit,
    v1: Minutes,
) -> Minutes:
    """Time between two stated points, on a straight line in the logarithm of time.

    Valid for a temperature from t0 to t1, two different temperatures and times above 0. The caller
    keeps to that: a table is never read past its ends.

    Halfway between two points lies their geometric mean.

    >>> round(log_linear(60, 50, 40, 70, 10), 9)
    20.0
    """
    return v0 * exp(log(v1 / v0) * (temperature - t0) / (t1 - t0))
