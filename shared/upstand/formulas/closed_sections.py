"""Girth and filled area of tubes, pipes, rods and bars.

Girth is the length of the outer boundary: what a wrap goes round. Area is what the section takes
out of the roof, so that a hollow counts as filled. Tube corners are round, bar corners sharp.
"""

from __future__ import annotations

from math import pi

from upstand.formulas.language.units_of import Count, Inches, SquareInches


def corner_radius(wall: Inches, walls: Count) -> Inches:
    """Outside corner radius of a tube, where nobody measured it.

    Parameters
    ----------
    wall : float
        Wall thickness [in].
    walls : float
        Radius in wall thicknesses [1].

    Returns
    -------
    float
        Outside radius [in].

    Notes
    -----
    Valid while the radius stays within half the smaller side.

    References
    ----------
    2 walls is from memory: the areas that AISC lists for HSS come out within 0.4 % with it.

    Examples
    --------
    >>> corner_radius(0.233, 2)
    0.466
    """
    return wall * walls


def tube_girth(width: Inches, depth: Inches, corner_radius: Inches) -> Inches:
    """Girth of a square or rectangular tube with round corners.

    Parameters
    ----------
    width : float
        Outside width [in].
    depth : float
        Outside depth [in].
    corner_radius : float
        Outside radius of the corners [in]; 2 x the design wall where nobody measured it.

    Returns
    -------
    float
        Girth [in].

    Notes
    -----
    Valid for a radius from 0 to half the smaller side.

    References
    ----------
    Closed form; HSS4x4x1/4 with a design wall of 0.233 in: 15.20 in.

    Examples
    --------
    >>> round(tube_girth(4, 4, 0.466), 2)
    15.2
    """
    return 2 * (width + depth) - (8 - 2 * pi) * corner_radius


def tube_area(width: Inches, depth: Inches, corner_radius: Inches) -> SquareInches:
    """Filled area of a square or rectangular tube with round corners.

    Parameters
    ----------
    width : float
        Outside width [in].
    depth : float
        Outside depth [in].
    corner_radius : float
        Outside radius of the corners [in].

    Returns
    -------
    float
        Area within the outline, the hollow counted in [in^2].

    Notes
    -----
    Valid for a radius from 0 to half the smaller side.

    References
    ----------
    Closed form: the rectangle less four corner spandrels.

    Examples
    --------
    >>> tube_area(4, 4, 0)
    16.0
    """
    return width * depth - (4 - pi) * corner_radius * corner_radius


def round_girth(diameter: Inches) -> Inches:
    """Girth of a pipe or rod.

    Parameters
    ----------
    diameter : float
        Outside diameter [in]; a 4 in pipe measures 4.5 in.

    Returns
    -------
    float
        Girth [in].

    Notes
    -----
    Valid for any diameter above 0.

    References
    ----------
    Closed form.

    Examples
    --------
    >>> round(round_girth(4.5), 3)
    14.137
    """
    return pi * diameter


def round_area(diameter: Inches) -> SquareInches:
    """Filled area of a pipe or rod.

    Parameters
    ----------
    diameter : float
        Outside diameter [in].

    Returns
    -------
    float
        Area within the outline, the bore counted in [in^2].

    Notes
    -----
    Valid for any diameter above 0.

    References
    ----------
    Closed form.

    Examples
    --------
    >>> round(round_area(2), 4)
    3.1416
    """
    return pi * diameter * diameter / 4


def bar_girth(width: Inches, depth: Inches) -> Inches:
    """Girth of a flat or square bar.

    Parameters
    ----------
    width : float
        Width [in].
    depth : float
        Depth [in].

    Returns
    -------
    float
        Girth [in].

    Notes
    -----
    Valid for any sides above 0. Sharp corners.

    References
    ----------
    Closed form.

    Examples
    --------
    >>> bar_girth(4, 0.5)
    9.0
    """
    return 2 * (width + depth)


def bar_area(width: Inches, depth: Inches) -> SquareInches:
    """Cross-section of a flat or square bar.

    Parameters
    ----------
    width : float
        Width [in].
    depth : float
        Depth [in].

    Returns
    -------
    float
        Area [in^2].

    Notes
    -----
    Valid for any sides above 0.

    References
    ----------
    Closed form.

    Examples
    --------
    >>> bar_area(4, 0.5)
    2.0
    """
    return width * depth
