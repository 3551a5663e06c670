"""The numbers behind an answer: one walk from what it shows down to what went in."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from upstand.answer import Answer
from upstand.quantity.traced import Traced
from upstand.stages.ground import Ground

__all__ = ["Graph", "graph_of", "ground_graph", "named_quantities", "walk"]


@dataclass(frozen=True, slots=True)
class Graph:
    """Every number behind the named ones, each once.

    names : by identity, what a shown number is called. computed : inputs before what was computed
    from them. leaves : numbers that were not computed. seen : all of them, by identity.
    """

    names: dict[int, str]
    computed: tuple[Traced, ...]
    leaves: tuple[Traced, ...]
    seen: frozenset[int] = frozenset()


_NOTHING = Graph({}, (), ())


def walk(named: Iterable[tuple[str, Traced]], known: Graph = _NOTHING) -> Graph:
    """Walk all numbers behind those named, after those known; the first name of a number stays."""
    names = dict(known.names)
    computed, leaves = list(known.computed), list(known.leaves)
    seen = set(known.seen)
    roots = list(named)
    for name, traced in roots:
        names.setdefault(id(traced), name)
    for _, traced in roots:
        if id(traced) not in seen:
            _visit(traced, seen, computed, leaves)
    return Graph(names, tuple(computed), tuple(leaves), frozenset(seen))


# a function inside `walk` would name itself, and keep the whole answer until a collection
def _visit(traced: Traced, seen: set[int], computed: list[Traced], leaves: list[Traced]) -> None:
    """Visit a number that was not seen yet."""
    seen.add(id(traced))
    if traced.working is None:
        leaves.append(traced)
        return
    for _, part in traced.working.inputs:
        if id(part) in seen:
            continue
        if part.working is None:
            seen.add(id(part))
            leaves.append(part)
        else:
            _visit(part, seen, computed, leaves)
    computed.append(traced)


def graph_of(answer: Answer) -> Graph:
    """Walk every number of an answer; those of its ground once for all answers that share it."""
    return walk(named_quantities(answer), ground_graph(answer.ground))


def ground_graph(ground: Ground) -> Graph:
    """Walk the numbers of a layout and its coats; their needs lend names alone."""
    if "graph" not in ground.written:
        graph = walk(_of_ground(ground))
        for need in ground.needs.needs:
            place = f"materials/{need.record.id}"
            for line in need.lines:
                graph.names.setdefault(id(line.amount), f"{place}/lines/{line.id}")
            if need.amount is not None:
                graph.names.setdefault(id(need.amount), f"{place}/need")
        ground.written["graph"] = graph
    found: Graph = ground.written["graph"]
    return found


def _of_ground(ground: Ground) -> Iterator[tuple[str, Traced]]:
    layout, coats = ground.layout, ground.needs.coats
    for surface in layout.surfaces:
        if surface.area is not None:
            yield f"surfaces/{surface.id}/area", surface.area
    if layout.fleece is not None:
        for piece in layout.fleece.pieces:
            yield f"fleece/pieces/{piece.id}/width", piece.width
            yield f"fleece/pieces/{piece.id}/length", piece.length
        for name in ("zone", "net", "cut", "lap_area", "extra"):
            yield f"fleece/{name}", getattr(layout.fleece, name)
    if layout.masking is not None:
        yield "masking/tape", layout.masking.tape
        yield "masking/corners", layout.masking.corners
        if layout.masking.line_height is not None:
            yield "masking/line_height", layout.masking.line_height
    for coat in coats.coats:
        yield f"coats/{coat.id}/thickness", coat.thickness
        yield f"coats/{coat.id}/volume", coat.volume
    if coats.film is not None:
        yield "film", coats.film
    for name, wet in coats.gauge.items():
        yield f"gauge/{name}", wet


def named_quantities(answer: Answer) -> Iterator[tuple[str, Traced]]:
    """Name every quantity that an answer shows, by its place in the document."""
    takeoff = answer.takeoff
    yield from _of_ground(answer.ground)
    for material in takeoff.materials:
        place = f"materials/{material.record.id}"
        for line in material.lines:
            yield f"{place}/lines/{line.id}", line.amount
        for name in ("need", "with_allowance", "leftover"):
            amount = getattr(material.one, name)
            if amount is not None:
                yield f"{place}/{name}", amount
            many = getattr(material.all, name)
            if many is not None:
                yield f"totals/{place}/{name}", many
        for where, supply in ((place, material.one), (f"totals/{place}", material.all)):
            if supply.mixes is not None and supply.mixes.number is not None:
                yield f"{where}/mixes", supply.mixes.number
            if supply.mixes is not None and supply.mixes.left is not None:
                yield f"{where}/lay_within", supply.mixes.left
    for name, amount in takeoff.totals.items():
        yield f"totals/{name}", amount
    for time in answer.timing.times:
        if time.low is not None:
            yield f"times/{time.id}/low", time.low
        if time.high is not None:
            yield f"times/{time.id}/high", time.high
    for path, usable in answer.timing.usable_of.items():
        yield f"times/usable/{path.partition('/')[2]}", usable
    if answer.dew.point is not None:
        yield "conditions/dew_point", answer.dew.point
    if answer.dew.margin is not None:
        yield "conditions/margin", answer.dew.margin
    if answer.dew.least is not None:
        yield "conditions/least_surface", answer.dew.least
    for name, size in answer.settled.sizes.items():
        yield f"sizes/{name}", size
