"""Constants the formulas use, each with its unit.

They are plain floats when the engine runs. The annotation carries the unit, so that the dimension
proof can run the same functions with quantities and the printed working can show ``231 in³/gal``
instead of a bare number.

Exact by definition: US gallon 231 in³, inch 25.4 mm, square foot 144 in² (international units as
NIST SP 811 and Handbook 44 Appendix C give them; not read, the definitions are common knowledge).
The Magnus coefficients are the WMO's of 1990 (Sonntag), written from memory and checked against an
independent library in the reference tests.
"""

from __future__ import annotations

import sys
from typing import Annotated, get_type_hints

MIL_PER_INCH: Annotated[float, "mil/in"] = 1000.0
"""A mil is a thousandth of an inch."""

CUBIC_INCHES_PER_GALLON: Annotated[float, "in^3/gal"] = 231.0
"""The US liquid gallon; the imperial one is a fifth larger."""

SQUARE_INCHES_PER_SQUARE_FOOT: Annotated[float, "in^2/ft^2"] = 144.0
"""Twelve by twelve."""

MICROMETRES_PER_MIL: Annotated[float, "um/mil"] = 25.4
"""From the inch of 25.4 mm."""

MICROMETRES_PER_METRE: Annotated[float, "um/m"] = 1_000_000.0
"""A million."""

GRAMS_PER_KILOGRAM: Annotated[float, "g/kg"] = 1000.0
"""A thousand."""

ALL_OF_IT: Annotated[float, "percent"] = 100.0
"""The whole, in percent: what a percentage is divided by."""

ICE_POINT_F: Annotated[float, "degF"] = 32.0
"""Where water freezes, in degrees Fahrenheit."""

ICE_POINT_C: Annotated[float, "degC"] = 0.0
"""Where water freezes, in degrees Celsius."""

FAHRENHEIT_PER_CELSIUS: Annotated[float, "delta_degF/delta_degC"] = 1.8
"""Fahrenheit steps in one Celsius step."""

SATURATION_AT_ICE_POINT: Annotated[float, "hPa"] = 6.112
"""Vapour pressure of saturated air at the ice point (Magnus form)."""

MAGNUS_WATER: Annotated[float, "1"] = 17.62
"""Magnus exponent over water, -45 to 60 °C."""

MAGNUS_WATER_OFFSET: Annotated[float, "delta_degC"] = 243.12
"""Magnus temperature over water, -45 to 60 °C."""

MAGNUS_ICE: Annotated[float, "1"] = 22.46
"""Magnus exponent over ice, -65 to 0 °C."""

MAGNUS_ICE_OFFSET: Annotated[float, "delta_degC"] = 272.62
"""Magnus temperature over ice, -65 to 0 °C."""

DRIEST: Annotated[float, "percent"] = 1.0
"""Lowest humidity the dew point formulas read: wholly dry air has no dew point."""

ONE_MINUTE: Annotated[float, "min"] = 1.0
"""What plans are made in: whole minutes."""

HAIR: Annotated[float, "1"] = 1e-9
"""What a float may miss a whole number by and still be that number."""


CONSTANT_UNITS: dict[str, str] = {
    name: hint.__metadata__[0]
    for name, hint in get_type_hints(sys.modules[__name__], include_extras=True).items()
    if hasattr(hint, "__metadata__")
}
"""Unit of each constant by name, e.g. ``{"MIL_PER_INCH": "mil/in", ...}``."""
