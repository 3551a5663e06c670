"""Areas and lengths of a detail: mask, zone, upright, tape.

Lengths in inches, areas in square inches. The outline is the filled union of the members, the
target the rectangle the fleece covers, the mask the target grown by the reveal.
"""

from __future__ import annotations

from upstand.formulas.language.units_of import Inches, SquareInches


def rectangle_area(width: Inches, length: Inches) -> SquareInches:
    """Area of a rectangle.

    Parameters
    ----------
    width : float
        Across [in].
    length : float
        Along [in].

    Returns
    -------
    float
        Area [in^2].

    Notes
    -----
    Valid for sides from 0 up.

    References
    ----------
    Closed form.

    Examples
    --------
    >>> rectangle_area(12, 11)
    132
    """
    return width * length


def rectangle_perimeter(width: Inches, length: Inches) -> Inches:
    """Perimeter of a rectangle.

    Parameters
    ----------
    width : float
        Across [in].
    length : float
        Along [in].

    Returns
    -------
    float
        Perimeter [in].

    Notes
    -----
    Valid for sides from 0 up.

    References
    ----------
    Closed form.

    Examples
    --------
    >>> rectangle_perimeter(12, 12)
    48
    """
    return 2 * (width + length)


def flat_area(mask_area: SquareInches, outline_area: SquareInches) -> SquareInches:
    """Flat surface to prepare: the mask less what stands in it.

    Parameters
    ----------
    mask_area : float
        Area within the tape on the roof [in^2].
    outline_area : float
        Area the members take out of it [in^2].

    Returns
    -------
    float
        Area [in^2].

    Notes
    -----
    Valid where the outline lies wholly inside the mask.

    References
    ----------
    Closed form.

    Examples
    --------
    >>> flat_area(144, 1.4375)
    142.5625
    """
    return mask_area - outline_area


def upright_area(girth: Inches, height: Inches, reveal: Inches) -> SquareInches:
    """Upright surface to prepare, from the roof to the tape.

    Parameters
    ----------
    girth : float
        Length of the outer boundary of the upright [in].
    height : float
        Reinforced height [in].
    reveal : float
        From the edge of the fleece to the tape [in].

    Returns
    -------
    float
        Area [in^2].

    Notes
    -----
    Valid for an upright of one section over the whole height.

    References
    ----------
    Closed form.

    Examples
    --------
    >>> upright_area(12, 8, 0.5)
    102.0
    """
    return girth * (height + reveal)


def zone_area(
    target_area: SquareInches, outline_area: SquareInches, girth: Inches, height: Inches
) -> SquareInches:
    """Zone: where fleece lies once, flat and upright together.

    Parameters
    ----------
    target_area : float
        Area the fleece reaches to on the roof [in^2].
    outline_area : float
        Area the members take out of it [in^2].
    girth : float
        Length of the outer boundary of the upright [in].
    height : float
        Reinforced height [in].

    Returns
    -------
    float
        Area [in^2].

    Notes
    -----
    Valid where the outline lies wholly inside the target. Laps, foot, covers and patches are not
    in it.

    References
    ----------
    Closed form.

    Examples
    --------
    >>> zone_area(121, 1.4375, 12, 8)
    215.5625
    """
    return target_area - outline_area + girth * height


def tape_length(mask_perimeter: Inches, girth: Inches) -> Inches:
    """Tape round the mask and round the upright, corner overlaps not counted.

    Parameters
    ----------
    mask_perimeter : float
        Perimeter of the mask on the roof [in].
    girth : float
        Length of the outer boundary of the upright [in].

    Returns
    -------
    float
        Length [in].

    Notes
    -----
    Valid where the tape can run in the re-entrant corners of the section.

    References
    ----------
    Closed form.

    Examples
    --------
    >>> tape_length(48, 12)
    60
    """
    return mask_perimeter + girth


def grown_side(side: Inches, margin: Inches) -> Inches:
    """Side of a rectangle grown by a margin at both ends.

    Parameters
    ----------
    side : float
        Side before growing [in].
    margin : float
        Added at each end [in].

    Returns
    -------
    float
        Side after growing [in].

    Notes
    -----
    Valid for a margin from 0 up.

    References
    ----------
    Closed form.

    Examples
    --------
    >>> grown_side(3, 4)
    11
    """
    return side + 2 * margin


def line_height(height: Inches, reveal: Inches) -> Inches:
    """Height of the tape line on the upright.

    Parameters
    ----------
    height : float
        Reinforced height [in].
    reveal : float
        From the edge of the fleece to the tape [in].

    Returns
    -------
    float
        Height above the roof [in].

    Notes
    -----
    Valid for a reveal from 0 up.

    References
    ----------
    Closed form.

    Examples
    --------
    >>> line_height(8, 0.5)
    8.5
    """
    return height + reveal


def difference(whole: SquareInches, part: SquareInches) -> SquareInches:
    """What is left of an area when a part is taken out.

    Parameters
    ----------
    whole : float
        Area [in^2].
    part : float
        Area taken out of it [in^2].

    Returns
    -------
    float
        Area left [in^2].

    Notes
    -----
    Valid for a part that lies in the whole.

    References
    ----------
    Closed form.

    Examples
    --------
    >>> difference(260, 215.5)
    44.5
    """
    return whole - part
