"""What a line through a section leaves on one side of it: what a base piece is cut round.

`reach` is how far the line lies past the middle of the section, along the side it crosses. The
sizes may be those of the section itself or of the section shrunk by the turn-up.
"""

from __future__ import annotations

from math import asin, pi, sqrt

from upstand.formulas.language.units_of import Inches, SquareInches


def shrunk(side: Inches, turn_up: Inches) -> Inches:
    """Side of what a base piece is cut round: the turn-up off both ends, down to nothing.

    >>> shrunk(4, 0.25)
    3.5
    """
    return max(0, side - 2 * turn_up)


def disc_part(radius: Inches, reach: Inches) -> SquareInches:
    """Area of a disc on one side of a line.

    >>> round(disc_part(2, 0), 4)
    6.2832
    """
    to = min(max(reach, 0 - radius), radius)
    turn = asin(to / radius) if radius > 0 else 0
    return radius * radius * (pi / 2 + turn) + to * sqrt(radius * radius - to * to)


def rounded_part(
    width: Inches, depth: Inches, corner_radius: Inches, reach: Inches
) -> SquareInches:
    """Area of a rectangle with round corners on one side of a line across its depth.

    Valid for a line at or past the middle.

    >>> rounded_part(4, 6, 0, 1)
    16.0
    """
    straight = min(reach, depth / 2 - corner_radius)
    past = min(max(reach - straight, 0), corner_radius)
    turn = asin(past / corner_radius) if corner_radius > 0 else 0
    half = (width * depth - (4 - pi) * corner_radius * corner_radius) / 2
    between = width - 2 * corner_radius + sqrt(corner_radius * corner_radius - past * past)
    return half + width * straight + past * between + corner_radius * corner_radius * turn


def stepped_part(
    length: Inches, wide: Inches, narrow: Inches, low: Inches, high: Inches, reach: Inches
) -> SquareInches:
    """Area on the low side of a line across a section that is wide at its ends.

    `low` and `high` are how long the wide ends are; between them it is narrow.

    >>> stepped_part(8, 8, 0.25, 0.5, 0.5, 0)
    4.875
    """
    to = min(max(reach + length / 2, 0), length)
    broad = min(to, low) + max(0, to - (length - high))
    return wide * broad + narrow * (to - broad)


def crossed_part(
    length: Inches, wide: Inches, narrow: Inches, web: Inches, reach: Inches
) -> SquareInches:
    """Area on the low side of a line across a section that is wide at its middle, for a web.

    >>> crossed_part(8, 8, 1, 0.25, 0)
    4.875
    """
    to = min(max(reach + length / 2, 0), length)
    broad = min(max(reach + web / 2, 0), web)
    return wide * broad + narrow * (to - broad)


def less(side: Inches, turn_up: Inches) -> Inches:
    """Round corner of what a base piece is cut round: the turn-up off it, down to nothing.

    >>> less(0.5, 0.25)
    0.25
    """
    return max(0, side - turn_up)
