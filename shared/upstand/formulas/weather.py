"""Dew point, frost point and how far a surface stays above them.

Humidity is relative to saturation over water at every temperature, as weather services give it,
below freezing too. The dew point is found over water. Where it lies at or below 32 °F what forms
is frost, and the frost point of the same vapour, found over ice, is the one to use: it is higher.
"""

from __future__ import annotations

from math import exp, log

from upstand.formulas.language.constants import (
    ALL_OF_IT,
    DRIEST,
    FAHRENHEIT_PER_CELSIUS,
    ICE_POINT_C,
    ICE_POINT_F,
    MAGNUS_ICE,
    MAGNUS_ICE_OFFSET,
    MAGNUS_WATER,
    MAGNUS_WATER_OFFSET,
    SATURATION_AT_ICE_POINT,
)
from upstand.formulas.language.units_of import (
    DegreesCelsius,
    DegreesFahrenheit,
    FahrenheitSteps,
    Hectopascals,
    Percent,
)


def saturation_over_water(temperature: DegreesCelsius) -> Hectopascals:
    """Vapour pressure of air saturated over water.

    Valid from -45 to 60 °C; below 0 °C the water is supercooled.

    Magnus form, coefficients 6.112, 17.62 and 243.12 of the WMO (from memory, not read).

    >>> round(saturation_over_water(20), 2)
    23.33
    """
    celsius = temperature - ICE_POINT_C
    return SATURATION_AT_ICE_POINT * exp(MAGNUS_WATER * celsius / (MAGNUS_WATER_OFFSET + celsius))


def saturation_over_ice(temperature: DegreesCelsius) -> Hectopascals:
    """Vapour pressure of air saturated over ice.

    Valid from -65 to 0 °C.

    Magnus form, coefficients 6.112, 22.46 and 272.62 of the WMO (from memory, not read).

    >>> round(saturation_over_ice(-10), 2)
    2.6
    """
    celsius = temperature - ICE_POINT_C
    return SATURATION_AT_ICE_POINT * exp(MAGNUS_ICE * celsius / (MAGNUS_ICE_OFFSET + celsius))


def dew_point(air: DegreesFahrenheit, humidity: Percent) -> DegreesFahrenheit:
    """Dew point over water.

    Valid for air from -49 to 140 °F and humidity from 0 to 100 %. At 100 % it is the air itself.

    Inverse of the Magnus form over water, see `saturation_over_water`.

    >>> round(dew_point(30, 40), 1)
    8.6
    """
    celsius = (air - ICE_POINT_F) / FAHRENHEIT_PER_CELSIUS
    share = max(humidity, DRIEST) / ALL_OF_IT
    vapour = log(share) + MAGNUS_WATER * celsius / (MAGNUS_WATER_OFFSET + celsius)
    dew_celsius = MAGNUS_WATER_OFFSET * vapour / (MAGNUS_WATER - vapour)
    return min(air, ICE_POINT_F + FAHRENHEIT_PER_CELSIUS * dew_celsius)


def frost_point(air: DegreesFahrenheit, humidity: Percent) -> DegreesFahrenheit:
    """Frost point: where the vapour in the air begins to settle as ice.

    Valid where the result lies from -85 to 32 °F. Warmer than that there is no ice: use
    `dew_point`. At 32 °F the two agree.

    Vapour by the Magnus form over water, solved by the Magnus form over ice; both have the same
    pressure at the ice point, which cancels out.

    >>> round(frost_point(30, 40), 1)
    11.1
    """
    celsius = (air - ICE_POINT_F) / FAHRENHEIT_PER_CELSIUS
    share = max(humidity, DRIEST) / ALL_OF_IT
    vapour = log(share) + MAGNUS_WATER * celsius / (MAGNUS_WATER_OFFSET + celsius)
    frost_celsius = MAGNUS_ICE_OFFSET * vapour / (MAGNUS_ICE - vapour)
    return ICE_POINT_F + FAHRENHEIT_PER_CELSIUS * frost_celsius


def surface_margin(surface: DegreesFahrenheit, dew: DegreesFahrenheit) -> FahrenheitSteps:
    """How far a surface is above the dew or frost point.

    >>> surface_margin(78, 55)
    23
    """
    return surface - dew


def least_surface(dew: DegreesFahrenheit, margin: FahrenheitSteps) -> DegreesFahrenheit:
    """Coldest that a surface may be: the dew or frost point and the margin kept over it.

    >>> least_surface(55, 5)
    60
    """
    return dew + margin


def surface_over_air(air: DegreesFahrenheit, above: FahrenheitSteps) -> DegreesFahrenheit:
    """Return the temperature of a surface that is said to be so much warmer than the air.

    >>> surface_over_air(72, 15)
    87
    """
    return air + above
