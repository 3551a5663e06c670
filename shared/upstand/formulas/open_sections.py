"""Girth and cross-section of open steel sections, one pair of functions a section.

Girth is the length of the outer boundary: what a wrap goes round. Area is what the section takes
out of the roof, filled. Outlines are sharp: inside fillets and rolled toes are ignored, which puts
the girth 0 to 2.2 % over for wide flanges and 3 to 5.5 % over for channels.
"""

from __future__ import annotations

from upstand.formulas.language.units_of import Inches, SquareInches


def angle_girth(leg_a: Inches, leg_b: Inches, thickness: Inches) -> Inches:
    """Girth of an angle: the notch between the legs doesn't change it.

    Valid for a thickness under both legs. Sharp corners.

    Agrees with the whole perimeter AISC gives for L3x3x1/4, 12.0 in.

    >>> angle_girth(3, 3, 0.25)
    12
    """
    return 2 * (leg_a + leg_b)


def angle_area(leg_a: Inches, leg_b: Inches, thickness: Inches) -> SquareInches:
    """Cross-section of an angle.

    Valid for a thickness under both legs. Sharp corners.

    Two rectangles that share the heel.

    >>> angle_area(3, 3, 0.25)
    1.4375
    """
    return thickness * (leg_a + leg_b - thickness)


def channel_girth(
    depth: Inches, flange_width: Inches, web_thickness: Inches, flange_thickness: Inches
) -> Inches:
    """Girth of a channel.

    Valid for a web thinner than the flange is wide and two flanges thinner than the depth.
    Sharp corners and flat flanges: 3 to 5.5 % over a rolled channel.

    >>> round(channel_girth(6, 1.92, 0.2, 0.343), 2)
    19.28
    """
    return 2 * depth + 4 * flange_width - 2 * web_thickness


def channel_area(
    depth: Inches, flange_width: Inches, web_thickness: Inches, flange_thickness: Inches
) -> SquareInches:
    """Cross-section of a channel.

    Valid for a web thinner than the flange is wide and two flanges thinner than the depth.

    The web over the whole depth and two flange outstands.

    >>> channel_area(6, 2, 0.25, 0.5)
    3.25
    """
    return depth * web_thickness + 2 * (flange_width - web_thickness) * flange_thickness


def i_section_girth(
    depth: Inches, flange_width: Inches, web_thickness: Inches, flange_thickness: Inches
) -> Inches:
    """Girth of an I-section or wide flange.

    Valid for a web thinner than the flange is wide and two flanges thinner than the depth.
    Sharp corners: 0 to 2.2 % over a rolled wide flange.

    >>> round(i_section_girth(8, 8, 0.285, 0.435), 2)
    47.43
    """
    return 2 * depth + 4 * flange_width - 2 * web_thickness


def i_section_area(
    depth: Inches, flange_width: Inches, web_thickness: Inches, flange_thickness: Inches
) -> SquareInches:
    """Cross-section of an I-section or wide flange.

    Valid for a web thinner than the flange is wide and two flanges thinner than the depth.

    Two flanges and the web between them.

    >>> i_section_area(8, 8, 0.25, 0.5)
    9.75
    """
    return 2 * flange_width * flange_thickness + (depth - 2 * flange_thickness) * web_thickness


def tee_girth(
    depth: Inches, flange_width: Inches, web_thickness: Inches, flange_thickness: Inches
) -> Inches:
    """Girth of a tee: that of the rectangle round it.

    Valid for a stem thinner than the flange is wide and a flange thinner than the depth.

    >>> tee_girth(4, 6, 0.25, 0.5)
    20
    """
    return 2 * (depth + flange_width)


def tee_area(
    depth: Inches, flange_width: Inches, web_thickness: Inches, flange_thickness: Inches
) -> SquareInches:
    """Cross-section of a tee.

    Valid for a stem thinner than the flange is wide and a flange thinner than the depth.

    The flange and the stem below it.

    >>> tee_area(4, 6, 0.25, 0.5)
    3.875
    """
    return flange_width * flange_thickness + (depth - flange_thickness) * web_thickness
