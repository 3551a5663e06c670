"""Areas and lengths of a detail: mask, zone, upright, tape.

Lengths in inches, areas in square inches. The outline is the filled union of the members, the
target the rectangle the fleece covers, the mask the target grown by the reveal.
"""

from __future__ import annotations

from upstand.formulas.language.units_of import Count, Inches, SquareInches


def rectangle_area(width: Inches, length: Inches) -> SquareInches:
    """Area of a rectangle.

    >>> rectangle_area(12, 11)
    132
    """
    return width * length


def rectangle_perimeter(width: Inches, length: Inches) -> Inches:
    """Perimeter of a rectangle.

    >>> rectangle_perimeter(12, 12)
    48
    """
    return 2 * (width + length)


def flat_area(mask_area: SquareInches, outline_area: SquareInches) -> SquareInches:
    """Flat surface to prepare: the mask less what stands in it.

    Valid where the outline lies wholly inside the mask.

    >>> flat_area(144, 1.4375)
    142.5625
    """
    return mask_area - outline_area


def upright_area(girth: Inches, height: Inches, reveal: Inches) -> SquareInches:
    """Upright surface to prepare, from the roof to the tape.

    Valid for an upright of one section over the whole height.

    >>> upright_area(12, 8, 0.5)
    102.0
    """
    return girth * (height + reveal)


def zone_area(
    target_area: SquareInches, outline_area: SquareInches, girth: Inches, height: Inches
) -> SquareInches:
    """Zone: where fleece lies once, flat and upright together.

    Valid where the outline lies wholly inside the target. Laps, foot, covers and patches are not
    in it.

    >>> zone_area(121, 1.4375, 12, 8)
    215.5625
    """
    return target_area - outline_area + girth * height


def tape_length(mask_perimeter: Inches, girth: Inches) -> Inches:
    """Tape round the mask and round the upright, corner overlaps not counted.

    Valid where the tape can run in the re-entrant corners of the section.

    >>> tape_length(48, 12)
    60
    """
    return mask_perimeter + girth


def grown_side(side: Inches, margin: Inches) -> Inches:
    """Side of a rectangle grown by a margin at both ends.

    >>> grown_side(3, 4)
    11
    """
    return side + 2 * margin


def line_height(height: Inches, reveal: Inches) -> Inches:
    """Height of the tape line on the upright.

    >>> line_height(8, 0.5)
    8.5
    """
    return height + reveal


def difference(whole: SquareInches, part: SquareInches) -> SquareInches:
    """What is left of an area when a part is taken out.

    Valid for a part that lies in the whole.

    >>> difference(260, 215.5)
    44.5
    """
    return whole - part


def edge_before(middle: Inches, side: Inches, margin: Inches) -> Inches:
    """Where something grown by a margin begins along an axis.

    >>> edge_before(6, 3, 2)
    2.5
    """
    return middle - side / 2 - margin


def edge_after(middle: Inches, side: Inches, margin: Inches) -> Inches:
    """Where something grown by a margin ends along an axis.

    >>> edge_after(6, 3, 2)
    9.5
    """
    return middle + side / 2 + margin


def span(first: Inches, last: Inches) -> Inches:
    """From one place along an axis to another.

    >>> span(-5.5, 9.5)
    15.0
    """
    return last - first


def joint_area(
    width: Inches, length: Inches, columns: Count, rows: Count, lap: Inches
) -> SquareInches:
    """Laps within a rectangle laid in pieces: `columns` over its width, `rows` over its length.

    Where two joints cross the area counts once.

    >>> joint_area(10, 240, 1, 3, 2)
    40
    """
    joints = (columns - 1) * length + (rows - 1) * width
    return lap * joints - lap * lap * (columns - 1) * (rows - 1)
