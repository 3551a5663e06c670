"""Sizes of fleece pieces that follow from a girth and the limits on laps and foot.

All lengths in inches.
"""

from __future__ import annotations

from math import ceil

from upstand.formulas.language.constants import HAIR
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


def parts_needed(side: Inches, most: Inches, lap: Inches) -> Count:
    """How many equal pieces a side takes when none may be longer than `most`, laps counted in.

    >>> parts_needed(240, 120, 2)
    3
    """
    return max(1, ceil((side - lap) / (most - lap) - HAIR))


def even_part(side: Inches, parts: Count, lap: Inches) -> Inches:
    """Length of one of the equal pieces of a side, laps counted in.

    >>> even_part(12, 2, 2)
    7.0
    """
    return (side + (parts - 1) * lap) / parts


def split_area(
    width: Inches, length: Inches, columns: Count, rows: Count, lap: Inches
) -> SquareInches:
    """Area of all pieces of a rectangle laid in `columns` over its width, `rows` over its length.

    >>> split_area(10, 240, 1, 3, 2)
    2440
    """
    return (width + (columns - 1) * lap) * (length + (rows - 1) * lap)


def piece_before(first: Inches, line: Inches, lap: Inches) -> Inches:
    """Width of the piece before a line that a target is split along: half the lap past it.

    >>> piece_before(-5.5, 0, 2)
    6.5
    """
    return line - first + lap / 2


def piece_after(line: Inches, last: Inches, lap: Inches) -> Inches:
    """Width of the piece behind a line that a target is split along: half the lap before it.

    >>> piece_after(0, 9.5, 2)
    10.5
    """
    return last - line + lap / 2
