"""Resin and primer by volume: what a film holds, what the fleece drinks, what a gallon covers.

Areas in square inches, film thickness in mil, volumes in US gallons. Volume is area times
thickness, with no factor for waste: the allowance is added later, in the open.
"""

from __future__ import annotations

from upstand.formulas.language.constants import (
    ALL_OF_IT,
    CUBIC_INCHES_PER_GALLON,
    GRAMS_PER_KILOGRAM,
    MICROMETRES_PER_METRE,
    MICROMETRES_PER_MIL,
    MIL_PER_INCH,
    SQUARE_INCHES_PER_SQUARE_FOOT,
)
from upstand.formulas.language.units_of import (
    Count,
    Gallons,
    GramsPerSquareMetre,
    KilogramsPerCubicMetre,
    Mils,
    Percent,
    SquareFeetPerGallon,
    SquareInches,
)


def void_fraction(
    areal_mass: GramsPerSquareMetre, fibre_density: KilogramsPerCubicMetre, thickness: Mils
) -> Count:
    """Share of a fleece's thickness that resin can fill.

    Valid for a fleece filled wholly; below 0 the three inputs contradict each other.

    One less the fibre volume in the fleece volume.

    >>> round(void_fraction(165, 1380, 36), 3)
    0.869
    """
    fibre_mass = areal_mass / GRAMS_PER_KILOGRAM
    metres_thick = thickness * MICROMETRES_PER_MIL / MICROMETRES_PER_METRE
    return 1 - fibre_mass / (fibre_density * metres_thick)


def drink_thickness(void: Count, thickness: Mils) -> Mils:
    """Resin the fleece drinks, as a film over its area.

    Valid for a void share from 0 to 1.

    >>> drink_thickness(0.875, 36)
    31.5
    """
    return void * thickness


def film_volume(area: SquareInches, thickness: Mils) -> Gallons:
    """Volume of a wet film.

    Valid for a flat film; a rough surface adds its own fill.

    1 US gal is 231 in^3, 1 mil 0.001 in. 100 ft^2 at 40 mil take 2.49351 gal.

    >>> round(film_volume(14400, 40), 5)
    2.49351
    """
    return area * thickness / MIL_PER_INCH / CUBIC_INCHES_PER_GALLON


def extra_thickness(drink: Mils, bed: Mils) -> Mils:
    """Film that extra fleece takes: laps, foot, covers and patches.

    Valid for one layer of fleece more.

    >>> extra_thickness(31, 20)
    51
    """
    return drink + bed


def system_film(base: Mils, fleece: Mils, top: Mils) -> Mils:
    """Thickness of the finished system: base, fleece and top.

    Valid for one layer of fleece.

    >>> system_film(40, 36, 25)
    101
    """
    return base + fleece + top


def wet_film(dry: Mils, solids: Percent) -> Mils:
    """Film to lay of a product that shrinks: what a gauge reads while it is wet.

    Valid for solids above 0 and up to 100.

    >>> wet_film(40, 80)
    50.0
    """
    return dry / (solids / ALL_OF_IT)


def primer_volume(area: SquareInches, coverage: SquareFeetPerGallon, coats: Count) -> Gallons:
    """Primer for an area.

    Valid for a coverage above 0 that was stated for the same kind of surface: roughness is in
    the coverage, not added to it.

    >>> primer_volume(14400, 100, 2)
    2.0
    """
    return area / SQUARE_INCHES_PER_SQUARE_FOOT / coverage * coats
