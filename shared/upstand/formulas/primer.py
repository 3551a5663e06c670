"""Primer by coverage."""

from __future__ import annotations

from upstand.formulas.language.constants import SQUARE_INCHES_PER_SQUARE_FOOT
from upstand.formulas.language.units_of import Count, Gallons, SquareFeetPerGallon, SquareInches


def primer_volume(area: SquareInches, coverage: SquareFeetPerGallon, coats: Count) -> Gallons:
    """Primer for an area.

    Parameters
    ----------
    area : float
        Area to prime, out to the tape [in^2].
    coverage : float
        What a gallon covers in one coat [ft^2/gal].
    coats : float
        Number of coats [1].

    Returns
    -------
    float
        Volume [gal].

    Notes
    -----
    Valid for a coverage above 0 that was stated for the same kind of surface: roughness is in
    the coverage, not added to it.

    References
    ----------
    Closed form.

    Examples
    --------
    >>> primer_volume(14400, 100, 2)
    2.0
    """
    return area / SQUARE_INCHES_PER_SQUARE_FOOT / coverage * coats
