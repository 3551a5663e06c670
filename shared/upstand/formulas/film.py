"""Film thickness from readings or from the packs used."""

from __future__ import annotations

from upstand.formulas.language.constants import CUBIC_INCHES_PER_GALLON, MIL_PER_INCH
from upstand.formulas.language.units_of import Count, Gallons, Mils, SquareInches


def mean_film(total: Mils, count: Count) -> Mils:
    """Mean of a number of readings.

    Valid for one reading or more.

    >>> mean_film(114, 3)
    38.0
    """
    return total / count


def film_from_volume(volume: Gallons, area: SquareInches) -> Mils:
    """Mean wet film that a volume makes on an area.

    Valid for an area above 0 and a volume that is all on the roof.

    1 US gal on 100 ft^2 is 16.0417 mil.

    >>> round(film_from_volume(1, 14400), 4)
    16.0417
    """
    return volume * CUBIC_INCHES_PER_GALLON / area * MIL_PER_INCH
