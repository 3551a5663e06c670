"""Planted errors: layouts of plane faces, each spoiled in one way; the proof finds every one."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
import yaml
from shapely import affinity
from shapely.geometry import box

from upstand.edition import Edition
from upstand.layout import Layout, Piece, lay_out
from upstand.layout.model import Lying
from upstand.layout.proof_of_faces import prove_faces
from upstand.quantity.traced import Origin, Traced
from upstand.query import read_requirements
from upstand.query.defaults import Settled, settle

FILE = Path(__file__).parent / "worked" / "details.yaml"
BODIES = {case["name"]: case["body"] for case in yaml.safe_load(FILE.read_text(encoding="utf-8"))}
Spoil = Callable[[Layout], Layout]


def asked(name: str, edition: Edition) -> tuple[Layout, Settled]:
    settled = settle(read_requirements(BODIES[name], edition), edition)
    return lay_out(settled, edition), settled


def pieces(spoil: Callable[[Piece], Piece | None]) -> Spoil:
    """Put each piece through `spoil`; one given back as None is left out."""

    def change(layout: Layout) -> Layout:
        assert layout.fleece is not None
        kept = tuple(p for p in map(spoil, layout.fleece.pieces) if p is not None)
        return replace(layout, fleece=replace(layout.fleece, pieces=kept))

    return change


def without(id: str) -> Spoil:
    return pieces(lambda p: None if p.id == id else p)


def lying(id: str, face: str, *by: float) -> Spoil:
    """The piece's part on a face, cut back at left, low, right and high."""

    def cut(one: Lying) -> Lying:
        if one.face != face:
            return one
        left, low, right, high = one.shape.bounds
        keep = box(left + by[0], low + by[1], right - by[2], high - by[3])
        return replace(one, shape=one.shape.intersection(keep))

    return pieces(lambda p: replace(p, lies=tuple(cut(x) for x in p.lies)) if p.id == id else p)


def moved(id: str, face: str, x: float, y: float) -> Spoil:
    def shift(one: Lying) -> Lying:
        if one.face != face:
            return one
        return replace(one, shape=affinity.translate(one.shape, x, y))

    return pieces(lambda p: replace(p, lies=tuple(shift(x) for x in p.lies)) if p.id == id else p)


def sized(id: str, **sizes: float) -> Spoil:
    made: dict[str, Any] = {
        name: Traced(size, "in", Origin("computed", "here")) for name, size in sizes.items()
    }
    return pieces(lambda p: replace(p, **made) if p.id == id else p)


def face(id: str, **changed: Any) -> Spoil:
    return lambda layout: replace(
        layout,
        faces=tuple(replace(f, **changed) if f.id == id else f for f in layout.faces),
    )


def counted(part: str, name: str, by: float) -> Spoil:
    """A figure of the layout, off by so much."""

    def change(layout: Layout) -> Layout:
        inner = getattr(layout, part)
        figure = getattr(inner, name)
        off = figure._replace(value=figure.value + by)
        return replace(layout, **{part: replace(inner, **{name: off})})

    return change


def surface(id: str, by: float) -> Spoil:
    def change(layout: Layout) -> Layout:
        found = tuple(
            replace(s, area=s.area._replace(value=s.area.value + by))
            if s.id == id and s.area is not None
            else s
            for s in layout.surfaces
        )
        return replace(layout, surfaces=found)

    return change


WALL, DOOR, BACK = "wall base of block, 20 ft", "threshold", "threshold with a back"
IN, OUT, CURB = "corner, inside", "corner, outside", "curb of lumber"
DRAIN, SCUPPER, CRACK, PATCH = (
    "drain",
    "scupper through block",
    "crack in concrete that moves",
    "patch on a hole",
)


def swapped(layout: Layout) -> Layout:
    return surface("roof", 9.0)(surface("wall", -9.0)(layout))


def on_the_seat(layout: Layout) -> Layout:
    more = Lying("bowl", box(-1, -1, 1, 1))
    spoil = pieces(lambda p: replace(p, lies=(*p.lies, more)) if p.id == "bowl-1" else p)
    return spoil(layout)


def unbonded(layout: Layout) -> Layout:
    return replace(layout, breaker=box(-1, 3, 131, 5))


def nowhere(layout: Layout) -> Layout:
    return pieces(lambda p: replace(p, lies=(Lying("wall", box(0, 0, 1, 1)),)))(layout)


PLANTED: list[tuple[str, str, Spoil, str]] = [
    ("a base piece left out", WALL, without("base-2"), "zone-bare"),
    ("a wall piece left out", WALL, without("wall-1"), "zone-bare"),
    ("a joint of 1 1/2 in", WALL, lying("base-1", "roof", 0, 0, 0.5, 0), "joint-short"),
    ("joints that only meet", WALL, lying("wall-1", "wall", 0, 0, 2, 0), "joint-short"),
    ("a foot of 1 1/2 in", WALL, lying("wall-2", "roof", 0, 0, 0, 0.5), "fold-not-crossed"),
    ("no foot at all", WALL, lying("wall-2", "roof", 0, 0, 0, 2), "fold-not-crossed"),
    ("fleece up to the tape", WALL, moved("base-1", "roof", 0, 0.3), "fleece-near-tape"),
    ("fleece over the line", WALL, moved("wall-3", "wall", 0, 0.6), "fleece-near-tape"),
    ("a piece cut too short", WALL, sized("wall-2", length=80.0), "piece-too-small"),
    ("tape not counted at an end", WALL, counted("masking", "tape", -13.0), "counted-otherwise"),
    ("a corner of tape too many", WALL, counted("masking", "corners", 2.0), "counted-otherwise"),
    ("the reveal counted as zone", WALL, counted("fleece", "zone", 120.5), "counted-otherwise"),
    ("the wall without its reveal", WALL, surface("wall", -120.5), "counted-otherwise"),
    ("areas swapped", WALL, swapped, "counted-otherwise"),
    ("a zone drawn up to the tape", WALL, face("wall", zone=box(0, 0, 240, 8.5)), "reveal-off"),
    ("a jamb piece left out", DOOR, without("jamb-2"), "zone-bare"),
    ("a return up to the jamb", DOOR, lying("wall-1", "jamb-left", 2, 0, 0, 0), "fold-not-crossed"),
    ("a sill without ears", DOOR, lying("sill-1", "jamb-right", 0, 0, 0, 2), "fold-not-crossed"),
    ("a back not turned up", BACK, lying("sill-1", "back", 0, 0, 0, 1), "zone-bare"),
    ("a piece of the other corner", IN, lying("wall-1", "wall-2", 0, 0, 2, 0), "fold-not-crossed"),
    ("a V left open", OUT, lying("base-2", "roof", 0, 2, 0, 0), "joint-short"),
    ("a flank cut to its side", CURB, lying("base-2", "roof-1", 0, 2, 0, 2), "joint-short"),
    ("a side not round its corner", CURB, lying("side-1", "left", 0, 0, 2, 0), "fold-not-crossed"),
    ("the fleece on the seat", DRAIN, on_the_seat, "in-seat"),
    ("a ring too narrow", DRAIN, without("bowl-1"), "zone-bare"),
    ("a scupper without its head", SCUPPER, without("head-1"), "zone-bare"),
    ("a floor cut at the wall", SCUPPER, lying("floor-1", "wall", 0, 0, 0, 1), "fold-not-crossed"),
    ("the opening counted as wall", SCUPPER, surface("wall", 32.0), "counted-otherwise"),
    ("no fleece past the tape", CRACK, unbonded, "not-bonded"),
    ("the bond breaker counted twice", CRACK, surface("ground", 244.0), "counted-otherwise"),
    ("a patch on nothing", PATCH, moved("base-1", "roof-1", 0.4, 0.0), "fleece-near-tape"),
    ("a face that there is not", PATCH, nowhere, "no-such-face"),
]  # fmt: skip


@pytest.mark.parametrize("name", list(BODIES))
def test_as_it_is_nothing_is_found(name: str, edition: Edition) -> None:
    layout, _ = asked(name, edition)
    assert layout.unproved == ()


@pytest.mark.parametrize(
    ("what", "name", "spoil", "found"), PLANTED, ids=[row[0] for row in PLANTED]
)
def test_a_planted_error_is_found(
    what: str, name: str, spoil: Spoil, found: str, edition: Edition
) -> None:
    layout, settled = asked(name, edition)
    faults = prove_faces(spoil(layout), settled)
    assert found in {fault.id for fault in faults}, (what, list(map(str, faults)))


def test_there_are_twenty_at_least() -> None:
    assert len(PLANTED) >= 20
