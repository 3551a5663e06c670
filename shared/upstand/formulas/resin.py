"""Resin by volume: what the film holds and what the fleece drinks.

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
)
from upstand.formulas.language.units_of import (
    Count,
    Gallons,
    GramsPerSquareMetre,
    KilogramsPerCubicMetre,
    Mils,
    Percent,
    SquareInches,
)


def void_fraction(
    areal_mass: GramsPerSquareMetre, fibre_density: KilogramsPerCubicMetre, thickness: Mils
) -> Count:
    """Share of a fleece's thickness that resin can fill.

    Parameters
    ----------
    areal_mass : float
        Mass of the fleece for its area [g/m^2].
    fibre_density : float
        Density of the fibre itself [kg/m^3]; polyester 1380.
    thickness : float
        Thickness of the fleece as laid [mil].

    Returns
    -------
    float
        Share from 0 to 1 [1].

    Notes
    -----
    Valid for a fleece filled wholly; below 0 the three inputs contradict each other.

    References
    ----------
    Closed form: one less the fibre volume in the fleece volume.

    Examples
    --------
    >>> round(void_fraction(165, 1380, 36), 3)
    0.869
    """
    fibre_mass = areal_mass / GRAMS_PER_KILOGRAM
    metres_thick = thickness * MICROMETRES_PER_MIL / MICROMETRES_PER_METRE
    return 1 - fibre_mass / (fibre_density * metres_thick)


def drink_thickness(void: Count, thickness: Mils) -> Mils:
    """Resin the fleece drinks, as a film over its area.

    Parameters
    ----------
    void : float
        Share of the fleece that resin can fill [1].
    thickness : float
        Thickness of the fleece as laid [mil].

    Returns
    -------
    float
        Thickness of the film [mil].

    Notes
    -----
    Valid for a void share from 0 to 1.

    References
    ----------
    Closed form.

    Examples
    --------
    >>> drink_thickness(0.875, 36)
    31.5
    """
    return void * thickness


def film_volume(area: SquareInches, thickness: Mils) -> Gallons:
    """Volume of a wet film.

    Parameters
    ----------
    area : float
        Area covered [in^2].
    thickness : float
        Thickness of the film [mil].

    Returns
    -------
    float
        Volume [gal].

    Notes
    -----
    Valid for a flat film; a rough surface adds its own fill.

    References
    ----------
    Closed form: 1 US gal is 231 in^3, 1 mil 0.001 in. 100 ft^2 at 40 mil take 2.49351 gal.

    Examples
    --------
    >>> round(film_volume(14400, 40), 5)
    2.49351
    """
    return area * thickness / MIL_PER_INCH / CUBIC_INCHES_PER_GALLON


def extra_thickness(drink: Mils, bed: Mils) -> Mils:
    """Film that extra fleece takes: laps, foot, covers and patches.

    Parameters
    ----------
    drink : float
        What the fleece drinks [mil].
    bed : float
        Bed it is laid in on the fleece below [mil].

    Returns
    -------
    float
        Thickness [mil].

    Notes
    -----
    Valid for one layer of fleece more.

    References
    ----------
    Closed form.

    Examples
    --------
    >>> extra_thickness(31, 20)
    51
    """
    return drink + bed


def system_film(base: Mils, fleece: Mils, top: Mils) -> Mils:
    """Thickness of the finished system: base, fleece and top.

    Parameters
    ----------
    base : float
        Base coat under the fleece [mil].
    fleece : float
        Thickness of the fleece; the resin it drinks lies within it [mil].
    top : float
        Top coat [mil].

    Returns
    -------
    float
        Thickness [mil].

    Notes
    -----
    Valid for one layer of fleece.

    References
    ----------
    Closed form.

    Examples
    --------
    >>> system_film(40, 36, 25)
    101
    """
    return base + fleece + top


def divide_by_solids(volume: Gallons, solids: Percent) -> Gallons:
    """Wet volume of a product that shrinks: cured volume over volume solids.

    Parameters
    ----------
    volume : float
        Volume left when cured [gal].
    solids : float
        Volume solids [percent].

    Returns
    -------
    float
        Volume to apply [gal].

    Notes
    -----
    Valid for solids above 0 and up to 100.

    References
    ----------
    Closed form: wet is dry over volume solids; 40 mil dry at 80 % is 50 mil wet.

    Examples
    --------
    >>> divide_by_solids(2, 80)
    2.5
    """
    return volume / (solids / ALL_OF_IT)


def scaled(volume: Gallons, count: Count) -> Gallons:
    """Volume for a number of equal details.

    Parameters
    ----------
    volume : float
        Volume for one [gal].
    count : float
        How many [1].

    Returns
    -------
    float
        Volume for all [gal].

    Notes
    -----
    Valid for a count from 0 up.

    References
    ----------
    Closed form.

    Examples
    --------
    >>> scaled(0.25, 6)
    1.5
    """
    return volume * count
