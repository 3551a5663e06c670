"""From the need of one detail to what is bought for all, and what is left over."""

from __future__ import annotations

from upstand.formulas.language.constants import ALL_OF_IT
from upstand.formulas.language.units_of import Count, Gallons, Inches, Percent, SquareInches


def scaled_area(area: SquareInches, count: Count) -> SquareInches:
    """Area of a number of equal details.

    Parameters
    ----------
    area : float
        Area of one [in^2].
    count : float
        How many [1].

    Returns
    -------
    float
        Area of all [in^2].

    Notes
    -----
    Valid for a count from 0 up.

    References
    ----------
    Closed form.

    Examples
    --------
    >>> scaled_area(144, 4)
    576
    """
    return area * count


def scaled_length(length: Inches, count: Count) -> Inches:
    """Length for a number of equal details.

    Parameters
    ----------
    length : float
        Length for one [in].
    count : float
        How many [1].

    Returns
    -------
    float
        Length for all [in].

    Notes
    -----
    Valid for a count from 0 up.

    References
    ----------
    Closed form.

    Examples
    --------
    >>> scaled_length(60, 4)
    240
    """
    return length * count


def with_allowance(need: Gallons, allowance: Percent) -> Gallons:
    """Volume to have ready: the need and an allowance on it.

    Parameters
    ----------
    need : float
        Volume by area and thickness [gal].
    allowance : float
        Allowance for what stays in pail, roller and cup [percent].

    Returns
    -------
    float
        Volume [gal].

    Notes
    -----
    Valid for an allowance from 0 up.

    References
    ----------
    Closed form.

    Examples
    --------
    >>> with_allowance(2, 50)
    3.0
    """
    return need * (1 + allowance / ALL_OF_IT)


def with_allowance_area(need: SquareInches, allowance: Percent) -> SquareInches:
    """Area to have ready: the need and an allowance on it.

    Parameters
    ----------
    need : float
        Area of the pieces as cut [in^2].
    allowance : float
        Allowance for offcuts and mistakes [percent].

    Returns
    -------
    float
        Area [in^2].

    Notes
    -----
    Valid for an allowance from 0 up.

    References
    ----------
    Closed form.

    Examples
    --------
    >>> with_allowance_area(200, 50)
    300.0
    """
    return need * (1 + allowance / ALL_OF_IT)


def with_allowance_length(need: Inches, allowance: Percent) -> Inches:
    """Length to have ready: the need and an allowance on it.

    Parameters
    ----------
    need : float
        Length as laid [in].
    allowance : float
        Allowance for offcuts and mistakes [percent].

    Returns
    -------
    float
        Length [in].

    Notes
    -----
    Valid for an allowance from 0 up.

    References
    ----------
    Closed form.

    Examples
    --------
    >>> with_allowance_length(60, 50)
    90.0
    """
    return need * (1 + allowance / ALL_OF_IT)


def leftover(opened: Gallons, need: Gallons) -> Gallons:
    """What is left in the packs that were opened.

    Parameters
    ----------
    opened : float
        Volume of the packs opened [gal].
    need : float
        Volume used [gal].

    Returns
    -------
    float
        Volume left [gal]; below 0 when the packs don't suffice.

    Notes
    -----
    Valid for any volumes.

    References
    ----------
    Closed form.

    Examples
    --------
    >>> leftover(1, 0.75)
    0.25
    """
    return opened - need


def leftover_area(opened: SquareInches, need: SquareInches) -> SquareInches:
    """What is left of the sheets or rolls that were opened.

    Parameters
    ----------
    opened : float
        Area of the rolls opened [in^2].
    need : float
        Area used [in^2].

    Returns
    -------
    float
        Area left [in^2]; below 0 when the rolls don't suffice.

    Notes
    -----
    Valid for any areas. It says how much is left, not in which shapes.

    References
    ----------
    Closed form.

    Examples
    --------
    >>> leftover_area(500, 300)
    200
    """
    return opened - need


def leftover_length(opened: Inches, need: Inches) -> Inches:
    """What is left of the rolls that were opened, by length.

    Parameters
    ----------
    opened : float
        Length of the rolls opened [in].
    need : float
        Length used [in].

    Returns
    -------
    float
        Length left [in]; below 0 when the rolls don't suffice.

    Notes
    -----
    Valid for any lengths.

    References
    ----------
    Closed form.

    Examples
    --------
    >>> leftover_length(600, 240)
    360
    """
    return opened - need
