"""Primer by coverage."""

from __future__ import annotations

from upstand.formulas.language.constants import SQUARE_INCHES_PER_SQUARE_FOOT
from upstand.formulas.language.units_of import Count, Gallons, SquareFeetPerGallon, SquareInches


def primer_volume(area: SquareInches, coverage: SquareFeetPerGallon, coats: Count) -> Gallons:
    """Primer for an area.

    Valid for a coverage above 0 that was stated for the same kind of surface: roughness is in
    the coverage, not added to it.

    >>> primer_volume(14400, 100, 2)
    2.0
    """
    return area / SQUARE_INCHES_PER_SQUARE_FOOT / coverage * coats
