"""Sizes of fleece pieces that follow from a girth and the limits on laps and foot.

All lengths in inches.
"""

from __future__ import annotations

from upstand.formulas.language.units_of import Count, Inches, SquareInches


def wrap_length(girth: Inches, joints: Count, lap: Inches) -> Inches:
    """Length of fleece round a member, with a lap at each joint.

    Valid where the wrap follows the section into its re-entrant corners.

    >>> wrap_length(12, 1, 2)
    14
    """
    return girth + joints * lap


def wrap_width(height: Inches, foot: Inches) -> Inches:
    """Width of a wrap: the reinforced height and the foot turned out on the roof.

    >>> wrap_width(8, 2)
    10
    """
    return height + foot


def wrap_part(length: Inches, parts: Count) -> Inches:
    """Length of one wrap where a member takes several equal ones.

    >>> wrap_part(51.5, 2)
    25.75
    """
    return length / parts


def lap_area(width: Inches, length: Inches) -> SquareInches:
    """Area where one piece lies on another along a straight lap.

    Valid for a straight joint.

    >>> lap_area(2, 8)
    16
    """
    return width * length
