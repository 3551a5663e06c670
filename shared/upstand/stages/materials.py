"""Quantities of one detail, line by line: coats, primers, fleece, tape, and packs for them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from upstand.edition import Edition, Record
from upstand.formulas import primer as primer_formulas
from upstand.formulas import resin as resin_formulas
from upstand.formulas import supply
from upstand.layout import Layout, Surface
from upstand.quantity.traced import Origin, Traced, asked, assumed, reckon, total
from upstand.query.defaults import Settled
from upstand.stages.packs import choose, choose_rolls

OPENED = Origin("computed", "packs opened")
MaterialKind = Literal["resin", "primer", "fleece", "tape", "cleaner", "abrasive", "consumable"]


@dataclass(frozen=True, slots=True)
class Coat:
    """One coat: area in in², thickness in mil, volume in gal."""

    id: str
    area: Traced
    thickness: Traced
    volume: Traced


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a need; `surface` where it belongs to one."""

    id: str
    amount: Traced
    surface: str | None = None


@dataclass(frozen=True, slots=True)
class Supply:
    """A need, what to have ready, and packs "at least" for it; None where not computed."""

    need: Traced | None
    with_allowance: Traced | None
    packs: tuple[tuple[str, int], ...]
    leftover: Traced | None


@dataclass(frozen=True, slots=True)
class Material:
    """One product with its lines; `one` for one detail, `all` for every one of the count."""

    record: Record
    kind: MaterialKind
    lines: tuple[Line, ...]
    one: Supply
    all: Supply


@dataclass(frozen=True, slots=True)
class Takeoff:
    """What one detail takes."""

    coats: tuple[Coat, ...]
    film: Traced | None
    materials: tuple[Material, ...]
    primer_of: dict[str, str]
    totals: dict[str, Traced]


def take_off(settled: Settled, layout: Layout, edition: Edition) -> Takeoff:
    """Compute coats and materials from a layout. Without geometry every quantity is None."""
    primers = primers_of(layout, edition)
    coats, resin_lines, film = _resin(settled, layout, edition)
    stock = _Stock(settled, edition)
    materials = [stock.material(settled.resin, "resin", resin_lines)]
    for path in sorted({p for p in primers.values() if p}):
        record = edition.record(path)
        lines = [
            line
            for surface in layout.surfaces
            if primers.get(surface.id) == path
            for line in _primer_lines(surface, record, edition)
        ]
        materials.append(stock.material(record, "primer", lines))
    materials += stock.fleece_and_tape(layout)
    return Takeoff(coats, film, tuple(materials), primers, stock.totals(layout))


def primers_of(layout: Layout, edition: Edition) -> dict[str, str]:
    """Name the primer record of each surface by its id; surfaces without one are left out."""
    found = {}
    for surface in layout.surfaces:
        primer = edition.record(f"substrates/{surface.substrate}").get("primer")
        if isinstance(primer, str) and edition.has(primer):
            found[surface.id] = primer
    return found


def _primer_lines(surface: Surface, primer: Record, edition: Edition) -> Iterator[Line]:
    if surface.area is None:
        return
    substrate = edition.record(f"substrates/{surface.substrate}")
    coats = (
        substrate.value("primer_coats") if substrate.has("primer_coats") else primer.value("coats")
    )
    volume = reckon(
        primer_formulas.primer_volume,
        area=surface.area,
        coverage=primer.value("coverage").traced("ft^2/gal"),
        coats=coats.traced("1"),
    )
    yield Line(f"primer/{surface.id}", volume, surface.id)


def _resin(
    settled: Settled, layout: Layout, edition: Edition
) -> tuple[tuple[Coat, ...], list[Line], Traced | None]:
    """Base, drink, top and extra plies; roughness on the first coat that reaches each surface."""
    resin, fleece = settled.resin, settled.fleece
    thickness = fleece.value("thickness").traced("mil")
    base, top, bed = (resin.value(f"layers.{n}").traced("mil") for n in ("base", "top", "bed"))
    film = reckon(resin_formulas.system_film, base=base, fleece=thickness, top=top)
    if layout.fleece is None or layout.coated is None:
        return (), [], film
    void = reckon(
        resin_formulas.void_fraction,
        areal_mass=fleece.value("areal_mass").traced("g/m^2"),
        fibre_density=fleece.value("fibre_density").traced("kg/m^3"),
        thickness=thickness,
    )
    drink = reckon(resin_formulas.drink_thickness, void=void, thickness=thickness)
    laid = [
        ("base", layout.fleece.zone, base),
        ("drink", layout.fleece.zone, drink),
        ("top", layout.coated, top),
        (
            "extra",
            layout.fleece.extra,
            reckon(resin_formulas.extra_thickness, drink=drink, bed=bed),
        ),
    ]
    coats = tuple(
        Coat(name, area, film_of, reckon(resin_formulas.film_volume, area=area, thickness=film_of))
        for name, area, film_of in laid
    )
    lines = [Line(coat.id, coat.volume) for coat in coats]
    for surface in layout.surfaces:
        rough = edition.record(f"substrates/{surface.substrate}").value("roughness").traced("mil")
        if surface.area is not None and rough.value > 0.0:
            fill = reckon(resin_formulas.film_volume, area=surface.area, thickness=rough)
            lines.append(Line(f"roughness/{surface.id}", fill, surface.id))
    if resin.has("volume_solids"):
        solids = resin.value("volume_solids").traced("percent")
        lines = [
            Line(
                line.id,
                reckon(resin_formulas.divide_by_solids, volume=line.amount, solids=solids),
                line.surface,
            )
            for line in lines
        ]
    return coats, lines, film


class _Stock:
    """Adds up needs and chooses packs, for one detail and for the count."""

    def __init__(self, settled: Settled, edition: Edition) -> None:
        self.settled, self.edition = settled, edition
        self.allowance = edition.record("limits/allowance").value("value").traced("percent")
        given = settled.query.count is not None
        self.count = (asked if given else assumed)(float(settled.count), "1", "/count")

    def material(self, record: Record, kind: MaterialKind, lines: list[Line]) -> Material:
        """Make the material of a product that is bought by volume."""
        if not lines:
            nothing = Supply(None, None, (), None)
            return Material(record, kind, (), nothing, nothing)
        need = total(f"need of {record.id}", [line.amount for line in lines])
        many = reckon(supply.scaled, amount=need, count=self.count)
        return Material(
            record, kind, tuple(lines), self.by_volume(record, need), self.by_volume(record, many)
        )

    def by_volume(self, record: Record, need: Traced) -> Supply:
        ready = reckon(supply.with_allowance, need=need, allowance=self.allowance)
        sizes = {
            pack.id: pack.value("size").magnitude("gal") for pack in self.packs_of(record.path)
        }
        if not sizes:
            return Supply(need, ready, (), None)
        chosen = choose(ready.value, sizes)
        opened = Traced(chosen.opened, "gal", OPENED)
        left = reckon(supply.leftover, opened=opened, need=ready)
        return Supply(need, ready, tuple(chosen.counts.items()), left)

    def packs_of(self, path: str) -> list[Record]:
        return [p for p in self.edition.kind("packs").values() if p.get("of") == path]

    def fleece_and_tape(self, layout: Layout) -> list[Material]:
        """Make the materials that are bought by the roll."""
        fleece, masking = layout.fleece, layout.masking
        tape = self.edition.record("tools/masking-tape")
        if fleece is None or masking is None:
            nothing = Supply(None, None, (), None)
            return [
                Material(self.settled.fleece, "fleece", (), nothing, nothing),
                Material(tape, "tape", (), nothing, nothing),
            ]
        widest = max(min(p.width.value, p.length.value) for p in fleece.pieces)
        cut = [Line("cut", fleece.cut)]
        strips = [Line("masking", masking.tape), Line("corners", masking.corners)]
        run = total("need of tape", [line.amount for line in strips])
        return [
            Material(
                self.settled.fleece,
                "fleece",
                tuple(cut),
                self.by_area(self.settled.fleece, fleece.cut, widest),
                self.by_area(
                    self.settled.fleece,
                    reckon(supply.scaled, amount=fleece.cut, count=self.count),
                    widest,
                ),
            ),
            Material(
                tape,
                "tape",
                tuple(strips),
                self.by_length(tape, run),
                self.by_length(tape, reckon(supply.scaled, amount=run, count=self.count)),
            ),
        ]

    def totals(self, layout: Layout) -> dict[str, Traced]:
        """Scale areas and lengths to every one of the count."""
        if layout.fleece is None or layout.masking is None or layout.coated is None:
            return {}
        sizes = {"area": layout.coated, "zone": layout.fleece.zone, "cut": layout.fleece.cut}
        found = {
            name: reckon(supply.scaled, amount=size, count=self.count)
            for name, size in sizes.items()
        }
        found["tape"] = reckon(supply.scaled, amount=layout.masking.tape, count=self.count)
        return found

    def by_area(self, record: Record, need: Traced, widest: float) -> Supply:
        ready = reckon(supply.with_allowance, need=need, allowance=self.allowance)
        rolls = {
            pack.id: (pack.value("width").magnitude("in"), pack.value("length").magnitude("in"))
            for pack in self.packs_of(record.path)
        }
        chosen = choose_rolls(ready.value, widest, rolls)
        opened = Traced(chosen.opened, "in^2", OPENED)
        left = reckon(supply.leftover, opened=opened, need=ready)
        return Supply(need, ready, tuple(chosen.counts.items()), left)

    def by_length(self, record: Record, need: Traced) -> Supply:
        ready = reckon(supply.with_allowance, need=need, allowance=self.allowance)
        sizes = {
            pack.id: pack.value("length").magnitude("in") for pack in self.packs_of(record.path)
        }
        if not sizes:
            return Supply(need, ready, (), None)
        chosen = choose(ready.value, sizes)
        opened = Traced(chosen.opened, "in", OPENED)
        left = reckon(supply.leftover, opened=opened, need=ready)
        return Supply(need, ready, tuple(chosen.counts.items()), left)
