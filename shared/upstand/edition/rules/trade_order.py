"""A detail's activities come in an order that the trade can work in."""

from __future__ import annotations

from collections.abc import Iterator

from upstand.edition.faults import Fault
from upstand.edition.held import activities_in_order, held_by, order_of
from upstand.edition.source import Source, Thing

PRIMING = ("prime-metal", "prime-masonry", "prime-sheet")

BEFORE: tuple[tuple[str, str, str], ...] = (
    ("setup", "attach", "nothing is worked on before the place is fit to start"),
    ("setup", "degrease", "nothing is worked on before the place is fit to start"),
    ("attach", "degrease", "loose sheet is fixed before it is cleaned"),
    ("repair", "degrease", "mortar and filler cure for days before the work"),
    ("degrease", "grind", "sparks never meet solvent, and grease is not ground in"),
    ("grind", "fire-watch", "the watch follows the sparks"),
    ("grind", "abrade", "all grinding is done before the sheet is abraded"),
    ("degrease", "abrade", "dirt is not sanded in"),
    ("abrade", "clean", "dust is cleaned off, not masked in"),
    ("grind", "clean", "dust is cleaned off, not masked in"),
    ("clean", "mask", "tape holds on clean surface only"),
    ("mask", "dry-fit", "pieces are cut to the masked place"),
    *(("mask", prime, "primer goes out to the tape") for prime in PRIMING),
    *(("abrade", prime, "dust never lands in primer") for prime in PRIMING),
    *(("clean", prime, "primer goes on clean surface") for prime in PRIMING),
    ("dry-fit", "last-wipe", "bare metal does not wait for tape and scissors"),
    *(("last-wipe", prime, "the last wipe is what primer goes on") for prime in PRIMING),
    *((prime, "mix", "the mixed pack does not wait for primer") for prime in PRIMING),
    ("prime-metal", "prime-sheet", "slowest first: the two-part primer takes hours"),
    ("prime-masonry", "prime-sheet", "slowest first: the sheet primer takes minutes"),
    ("reclean", "mix", "what lay overnight is cleaned before resin"),
    ("dry-fit", "mix", "everything is cut before the first pail is opened"),
    ("mix", "base-coat", "resin is mixed before it is spread"),
    ("base-coat", "fleece", "fleece is laid into wet resin"),
    ("fleece", "top-coat", "the top coat closes over the fleece"),
    ("top-coat", "second-coat", "a second coat lies on the first"),
    ("base-coat", "unmask", "the tape is pulled while the resin is wet"),
    ("top-coat", "unmask", "the tape is pulled after the last coat out to it"),
    ("unmask", "paint", "paint wants its own tape, after cure"),
    ("top-coat", "paint", "paint goes on after the film"),
    ("plug-night", "reclean", "plugs are in again before any solvent"),
    ("top-coat", "plug-out", "the plug stays until no resin can run"),
    *((name, "clean-up", "clean-up is last") for name in ("mix", "top-coat", "unmask", "paint")),
)
"""(earlier, later, why): holds wherever a detail has both."""

CHAIN = ("mix", "base-coat", "fleece", "top-coat")


def check(source: Source) -> Iterator[Fault]:
    """Yield activities before their time, named twice, or a fleece left without its coats."""
    in_order = activities_in_order(source)
    places = {thing.id: order_of(thing) for thing in in_order}
    for earlier, later, why in BEFORE:
        if places.get(earlier, -1) > places.get(later, 999):
            thing = next(t for t in in_order if t.id == earlier)
            say, cure = f"comes after {later}: {why}", f"give it a number under {places[later]}"
            yield thing.fault("order", places[earlier], "trade-order", say, cure)
    for thing in source.kind("details"):
        names = [path.removeprefix("activities/") for path in held_by(thing, in_order)]
        place = {name: number for number, name in enumerate(names)}
        for name in sorted({name for name in names if names.count(name) > 1}):
            path = f"activities.{place[name]}"
            yield thing.fault(path, name, "trade-order", "is named twice", "name it once")
        if isinstance(thing.node.get("activities"), list):
            yield from _order(thing, place)
        if "fleece" in place:
            for name in CHAIN:
                if name not in place:
                    why = f"has fleece and no {name}"
                    cure = f"add activities/{name}"
                    yield thing.fault("activities", None, "trade-order", why, cure)


def _order(thing: Thing, place: dict[str, int]) -> Iterator[Fault]:
    for earlier, later, why in BEFORE:
        if earlier in place and later in place and place[earlier] > place[later]:
            path = f"activities.{place[earlier]}"
            cure = f"put {earlier} before {later}"
            yield thing.fault(path, earlier, "trade-order", f"comes after {later}: {why}", cure)
