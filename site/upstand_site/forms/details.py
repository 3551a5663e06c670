"""A detail of one's own size: tape, pieces and what to take along, as the engine counts them.

Everything but the sizes is as in the made-up theater: roof, substrates, resin. What depends on more
than formulas (packs, plates, free outlines) is not in a form.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import partial
from typing import Any

from upstand.edition import Edition
from upstand.formulas.pieces import parts_needed
from upstand.layout import Layout, Piece, lay_out
from upstand.quantity.traced import Traced, constant, trail
from upstand.query import read_requirements
from upstand.query.defaults import settle
from upstand.query.model import Now, Query
from upstand.scene import question
from upstand.stages.materials import Stock
from upstand.stages.needs import find_needs
from upstand_site.forms.model import Answered, Field, Form, Given, Line, Test

#: The engine is asked a whole detail each time; where its answers fork is told by few draws.
PROBES = 60


def detail(
    edition: Edition,
    given: Given,
    pick: str,
    *,
    asked: Mapping[str, Any],
    across: tuple[str, str] | None,
) -> Answered:
    """Lay out a detail of the theater with the given sizes."""
    settled = settle(with_sizes(read_requirements(asked, edition), given), edition)
    layout = lay_out(settled, edition)
    assert layout.fleece is not None and layout.masking is not None
    lines = [
        Line("mask", {"width": (width, None), "length": (length, None)})
        for width, length in layout.masking.flat
    ]
    lines += [_piece(piece) for piece in layout.fleece.pieces]
    stock = Stock(edition)
    for need in find_needs(settled, layout, edition).needs:
        ready = stock.supply(need).with_allowance
        assert ready is not None
        lines.append(
            Line(
                f"need/{need.record.path}",
                {"ready": (ready, "run" if ready.unit == "in" else None)},
            )
        )
    tests = [] if across is None else [Test("<=", given[across[0]], given[across[1]])]
    return Answered([*tests, *_splits(layout, edition)], lines=lines)


def with_sizes(query: Query, given: Given) -> Query:
    """Put the given sizes into the question; those of its member by their names."""
    sizes, members = dict(query.sizes), list(query.members)
    for name, size in given.items():
        if members and name in members[0].dimensions:
            members[0] = replace(members[0], dimensions={**members[0].dimensions, name: size})
        else:
            sizes[name] = size
    return replace(query, sizes=sizes, members=tuple(members), now=Now())


def _piece(piece: Piece) -> Line:
    slots: dict[str, tuple[Traced, str | None] | str] = {
        "letter": piece.letter,
        "count": str(piece.count),
        "n": str(piece.number),
        "width": (piece.width, "up-quarter"),
        "length": (piece.length, "up-quarter"),
    }
    return Line(f"piece/{piece.kind}", slots)


def _splits(layout: Layout, edition: Edition) -> Iterator[Test]:
    """Compare what tells into how many pieces a run is split, kind by kind."""
    most = edition.record("parameters/longest-piece").value("value").traced("in")
    assert layout.fleece is not None
    first = {piece.kind: piece for piece in reversed(layout.fleece.pieces)}
    for kind in ("base", "wall", "strip"):
        if kind not in first:
            continue
        even = [t for t in trail(first[kind].length) if t.origin.where == "even_part"]
        if not even or even[0].working is None:
            yield Test("<=", first[kind].length, most)
            continue
        parts = dict(even[0].working.inputs)
        yield Test("<=", parts["side"], most)
        if parts["parts"].origin.where != parts_needed.__name__:
            continue
        number = 1
        while number < parts["parts"].value:
            number += 1
            yield Test("<=", parts["parts"], constant(float(number), "1", "pieces of a run"))


def _lengths(prefix: str = "", /, **spans: tuple[float, float]) -> tuple[Field, ...]:
    return tuple(
        Field(name, "in", low, high, (low, high), pointer=f"{prefix}/{name}")
        for name, (low, high) in spans.items()
    )


def _form(asked: Mapping[str, Any], *fields: Field, across: tuple[str, str] | None = None) -> Form:
    members = asked.get("members", [])
    section = str(members[0]["section"]) if members else ""
    of = str(asked["detail"])
    return Form(
        f"{of}-{section}" if section else of,
        fields,
        partial(detail, asked=asked, across=across),
        probes=PROBES,
        detail=of,
        section=section,
    )


UP, FLANGE = {"height": (8.0, 16.0)}, {"flange": (2.0, 8.0)}
RUN = {"length": (12.0, 360.0)}
FIRST = "/members/0"

TUBE = question("screen-post")
LEGS = {"leg_a": "3 in", "leg_b": "3 in", "thickness": "1/4 in"}
ANGLE = {
    **TUBE,
    "members": [{"section": "angle", **LEGS, "substrate": TUBE["members"][0]["substrate"]}],
}

DETAILS = (
    _form(
        TUBE,
        *_lengths(FIRST, width=(2.0, 10.0), depth=(2.0, 10.0)),
        *_lengths("", **UP, **FLANGE),
        across=("width", "depth"),
    ),
    _form(
        ANGLE,
        *_lengths(FIRST, leg_a=(1.5, 8.0), leg_b=(1.5, 8.0), thickness=(0.125, 0.5)),
        *_lengths("", **UP, **FLANGE),
        across=("leg_a", "leg_b"),
    ),
    _form(question("soil-vent"), *_lengths(FIRST, od=(1.5, 10.0)), *_lengths("", **UP, **FLANGE)),
    _form(question("parapet-east"), *_lengths("", **RUN, **UP)),
    _form(
        question("stage-door"), *_lengths(length=(24.0, 96.0), riser=(2.0, 8.0), sill=(3.0, 10.0))
    ),
    _form(question("unit-curb"), *_lengths(width=(12.0, 60.0), length=(12.0, 60.0), **UP)),
    _form(question("deck-crack"), *_lengths("", **RUN)),
    _form(question("puncture"), *_lengths(width=(0.5, 12.0), length=(0.5, 12.0))),
    _form(question("old-film"), *_lengths("", **RUN)),
)
