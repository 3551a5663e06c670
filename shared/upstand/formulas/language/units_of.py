"""The units a formula's parameters and result may carry, as annotations.

A formula works on plain floats; the annotation names the unit, so that the type checker reads
``float`` and the register, the exporter and the dimension proof read the unit.

>>> from typing import get_type_hints
>>> def doubled(side: Inches) -> Inches:
...     return 2 * side
>>> get_type_hints(doubled, include_extras=True)["side"].__metadata__
('in',)
"""

from __future__ import annotations

from typing import Annotated

Inches = Annotated[float, "in"]
SquareInches = Annotated[float, "in^2"]
Mils = Annotated[float, "mil"]
Gallons = Annotated[float, "gal"]
SquareFeetPerGallon = Annotated[float, "ft^2/gal"]
GramsPerSquareMetre = Annotated[float, "g/m^2"]
KilogramsPerCubicMetre = Annotated[float, "kg/m^3"]
Minutes = Annotated[float, "min"]
DegreesFahrenheit = Annotated[float, "degF"]
DegreesCelsius = Annotated[float, "degC"]
FahrenheitSteps = Annotated[float, "delta_degF"]
Hectopascals = Annotated[float, "hPa"]
Percent = Annotated[float, "percent"]
Count = Annotated[float, "1"]
"""A number of things, or a share of one: no unit."""

ANY = "*"
"""Stands for a unit that is the same for every parameter that carries it, and for the result."""

Amount = Annotated[float, ANY]
