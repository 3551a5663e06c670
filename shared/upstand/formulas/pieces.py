"""Sizes of fleece pieces that follow from a girth and the limits on laps and foot.

All lengths in inches.
"""

from __future__ import annotations

from upstand.formulas.language.units_of import Count, Inches, SquareInches


def wrap_length(girth: Inches, joints: Count, lap: Inches) -> Inches:
    """Length of fleece round a member, with a lap at each joint.

    Parameters
    ----------
    girth : float
        Length of the outer boundary of the member [in].
    joints : float
        Vertical joints: one for one wrap, two for two [1].
    lap : float
        Overlap at each joint [in].

    Returns
    -------
    float
        Length of all wraps of the member together [in].

    Notes
    -----
    Valid where the wrap follows the section into its re-entrant corners.

    References
    ----------
    Closed form.

    Examples
    --------
    >>> wrap_length(12, 1, 2)
    14
    """
    return girth + joints * lap


def wrap_width(height: Inches, foot: Inches) -> Inches:
    """Width of a wrap: the reinforced height and the foot turned out on the roof.

    Parameters
    ----------
    height : float
        Reinforced height [in].
    foot : float
        Part that lies on the roof, slit at corners [in].

    Returns
    -------
    float
        Width [in].

    Notes
    -----
    Valid for a foot from 0 up.

    References
    ----------
    Closed form.

    Examples
    --------
    >>> wrap_width(8, 2)
    10
    """
    return height + foot


def wrap_part(length: Inches, parts: Count) -> Inches:
    """Length of one wrap where a member takes several equal ones.

    Parameters
    ----------
    length : float
        Length of all wraps together, laps counted in [in].
    parts : float
        Number of wraps [1].

    Returns
    -------
    float
        Length of one [in].

    Notes
    -----
    Valid for one part or more.

    References
    ----------
    Closed form.

    Examples
    --------
    >>> wrap_part(51.5, 2)
    25.75
    """
    return length / parts


def lap_area(width: Inches, length: Inches) -> SquareInches:
    """Area where one piece lies on another along a straight lap.

    Parameters
    ----------
    width : float
        Width of the lap [in].
    length : float
        Length along the joint [in].

    Returns
    -------
    float
        Area [in^2].

    Notes
    -----
    Valid for a straight joint.

    References
    ----------
    Closed form.

    Examples
    --------
    >>> lap_area(2, 8)
    16
    """
    return width * length
