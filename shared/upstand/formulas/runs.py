"""Sizes of runs: along a wall, a sill, a crack, with ends that are free or go on.

A joined end has neither reveal nor tape; there the fleece runs half a lap past, and the neighbor
does the same.
"""

from __future__ import annotations

from math import pi

from upstand.formulas.language.units_of import Count, Inches, SquareInches


def free_ends(joined: Count) -> Count:
    """Ends of a run that end in tape: those that don't go on into another detail.

    >>> free_ends(1)
    1
    """
    return 2 - joined


def masked_run(length: Inches, ends: Count, reveal: Inches) -> Inches:
    """Length of a run within the tape: the reveal beyond each free end.

    >>> masked_run(240, 2, 0.5)
    241.0
    """
    return length + ends * reveal


def fleece_run(length: Inches, joined: Count, lap: Inches) -> Inches:
    """Length of the fleece of a run: half the lap past each end that goes on.

    >>> fleece_run(240, 1, 2)
    241.0
    """
    return length + joined * lap / 2


def behind_wall(before: Inches, width: Inches) -> SquareInches:
    """Area of a plate's cover that would lie in the wall; `before` is where it begins.

    >>> behind_wall(-2, 7)
    14
    """
    return max(0, (0 - before) * width)


def default_line(least: Inches, edge: Inches, margin: Inches) -> Inches:
    """Height where nobody asked for one: the least, or a margin over an edge, the greater.

    >>> default_line(8, 4, 2)
    8
    """
    return max(least, edge + margin)


def drain_flange(usual: Inches, sump: Inches, bowl: Inches) -> Inches:
    """How far fleece reaches past a bowl: the usual, or to the sump's edge where it is nearer.

    >>> drain_flange(6, 24, 16)
    4.0
    """
    return min(usual, (sump - bowl) / 2)


def ring_area(outside: Inches, inside: Inches) -> SquareInches:
    """Area of a ring, from its two diameters.

    >>> round(ring_area(16, 11), 3)
    106.029
    """
    return pi * (outside * outside - inside * inside) / 4


def round_corners(radius: Inches) -> SquareInches:
    """What a rectangle loses when its four corners are rounded.

    >>> round(round_corners(1), 4)
    0.8584
    """
    return (4 - pi) * radius * radius


def bonded_metal(bowl: Inches, seat: Inches, reveal: Inches) -> Inches:
    """How far fleece bonds to the metal of a bowl: from its edge to the tape, less the reveal.

    >>> bonded_metal(16, 11, 0.5)
    2.0
    """
    return (bowl - seat) / 2 - reveal


def ring_tape(diameter: Inches) -> Inches:
    """Tape round a ring's seat.

    >>> round(ring_tape(11), 3)
    34.558
    """
    return pi * diameter
