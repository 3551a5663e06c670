"""Coats of one layout: what is laid over which area, wet, and what each surface takes besides."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from upstand.edition import Edition, Record
from upstand.formulas import resin as formulas
from upstand.layout import Layout, Surface
from upstand.quantity.traced import Traced, reckon
from upstand.query.defaults import Settled


@dataclass(frozen=True, slots=True)
class Coat:
    """One coat as laid, wet: area in in², thickness in mil, volume in gal.

    dry : what is left of it when cured, of a product that shrinks; None where it does not.
    """

    id: str
    area: Traced
    thickness: Traced
    volume: Traced
    dry: Traced | None = None


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a need; `surface` where it belongs to one."""

    id: str
    amount: Traced
    surface: str | None = None


@dataclass(frozen=True, slots=True)
class Coats:
    """The resin of one layout.

    film : the finished system, cured. gauge : what a gauge must read in `base` and `top`, wet.
    whole : False where a surface's material is not known, so that its roughness isn't either.
    """

    coats: tuple[Coat, ...]
    lines: tuple[Line, ...]
    film: Traced | None
    gauge: Mapping[str, Traced]
    whole: bool


def lay_coats(settled: Settled, layout: Layout, edition: Edition) -> Coats:
    """Find base, drink, top and extra plies; roughness on the first coat of each surface."""
    resin, fleece = settled.resin, settled.fleece
    thickness = fleece.value("thickness").traced("mil")
    base, top, bed = (resin.value(f"layers.{n}").traced("mil") for n in ("base", "top", "bed"))
    film = reckon(formulas.system_film, base=base, fleece=thickness, top=top)
    gauge = {"base": wet_film_of(base, resin), "top": wet_film_of(top, resin)}
    if layout.fleece is None or layout.coated is None:
        return Coats((), (), film, gauge, False)
    drink = drink_of(fleece)
    extra = reckon(formulas.extra_thickness, drink=drink, bed=bed)
    zone = layout.fleece.zone
    laid = (
        ("base", zone, base),
        ("drink", zone, drink),
        ("top", layout.coated, top),
        ("extra", layout.fleece.extra, extra),
    )
    coats = tuple(_coat(name, area, cured, resin) for name, area, cured in laid)
    rough = tuple(_roughness(layout.surfaces, resin, edition))
    return Coats(
        coats,
        (*(Line(coat.id, coat.volume) for coat in coats), *rough),
        film,
        gauge,
        all(surface.substrate is not None for surface in layout.surfaces),
    )


def drink_of(fleece: Record) -> Traced:
    """Find the film of resin that a fleece drinks [mil]."""
    thickness = fleece.value("thickness").traced("mil")
    void = reckon(
        formulas.void_fraction,
        areal_mass=fleece.value("areal_mass").traced("g/m^2"),
        fibre_density=fleece.value("fibre_density").traced("kg/m^3"),
        thickness=thickness,
    )
    return reckon(formulas.drink_thickness, void=void, thickness=thickness)


def wet_film_of(cured: Traced, resin: Record) -> Traced:
    """Find the film to lay, which a gauge reads: of a product that shrinks more than is left."""
    if not resin.has("volume_solids"):
        return cured
    return reckon(
        formulas.wet_film, dry=cured, solids=resin.value("volume_solids").traced("percent")
    )


def _coat(name: str, area: Traced, cured: Traced, resin: Record) -> Coat:
    wet = wet_film_of(cured, resin)
    volume = reckon(formulas.film_volume, area=area, thickness=wet)
    return Coat(name, area, wet, volume, None if wet is cured else cured)


def _roughness(surfaces: tuple[Surface, ...], resin: Record, edition: Edition) -> Iterator[Line]:
    """Fill of rough surfaces; the bond breaker is no surface, so it takes none."""
    for surface in surfaces:
        if surface.substrate is None or surface.area is None:
            continue
        rough = edition.record(f"substrates/{surface.substrate}").value("roughness").traced("mil")
        if rough.value > 0.0:
            fill = reckon(
                formulas.film_volume, area=surface.area, thickness=wet_film_of(rough, resin)
            )
            yield Line(f"roughness/{surface.id}", fill, surface.id)
