"""The engine's own proof finds a layout that does not hold: each is spoiled in one way here."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from shapely import affinity
from shapely.geometry import box
from shapely.geometry.base import BaseGeometry

from upstand.answer import Answer, answer
from upstand.document.requirements import write
from upstand.edition import Edition
from upstand.layout import Fault, Layout, Piece
from upstand.layout.placed import place_members, place_plates
from upstand.layout.proof import prove
from upstand.quantity.traced import Origin, Traced
from upstand.query import QueryFaults, read_requirements
from upstand.scene import question

Ask = Callable[..., Answer]
Spoil = Callable[[Piece], Piece | None]


def proved(answer: Answer, layout: Layout) -> tuple[str, ...]:
    """What the proof says of a layout."""
    settled = answer.settled
    turn = settled.mask_turn.value
    members = place_members(settled.members, turn)
    margin = layout.parameters["plate-margin"].value
    plates = place_plates(settled.plates, margin, turn, members)
    return tuple(map(str, prove(layout, settled, members, plates).unproved))


def with_pieces(answer: Answer, spoil: Spoil) -> Layout:
    """The layout with each piece put through `spoil`; one given back as None is left out."""
    layout = answer.layout
    assert layout.fleece is not None
    pieces = tuple(p for p in map(spoil, layout.fleece.pieces) if p is not None)
    return replace(layout, fleece=replace(layout.fleece, pieces=pieces))


def trimmed(piece: Piece, id: str, *by: float) -> Piece:
    """The piece, if it has this id, cut back at left, low, right and high."""
    if piece.id != id or piece.shape is None:
        return piece
    left, low, right, high = piece.shape.bounds
    keep = box(left + by[0], low + by[1], right - by[2], high - by[3])
    return moved(piece, piece.shape.intersection(keep))


def moved(piece: Piece, shape: BaseGeometry) -> Piece:
    """The piece with another shape, where it lies too."""
    return replace(piece, shape=shape, lies=(replace(piece.lies[0], shape=shape),))


def inches(value: float) -> Traced:
    return Traced(value, "in", Origin("computed", "here"))


def test_the_layout_as_it_is_holds(ask: Ask) -> None:
    answer = ask()
    assert proved(answer, answer.layout) == ()


# The example: base-1 lies from x -5.5 to 1, base-2 from -1 to 9.5, ±5.5 along y. Without base-1
# 4.5 × 11 is bare, less the angle there, 0.5 × 0.25 of leg_a and 0.25 × 2.75 of leg_b.
SPOILED: list[tuple[str, Spoil, str]] = [
    ("a base piece left out", lambda p: None if p.id == "base-1" else p, "roof-1: 48.6875"),
    ("a corner bare", lambda p: trimmed(p, "base-1", 0.25, 0.0, 0.0, 0.0), "roof-1: 2.7500"),
    (
        "a lap of 1 1/2 in",
        lambda p: trimmed(p, "base-1", 0.0, 0.0, 0.5, 0.0),
        "joint-short on roof-1: 1.5",
    ),
    ("a cover left out", lambda p: None if p.id == "cover-1" else p, "plate-bare on plate-1"),
    ("a cover too small", lambda p: trimmed(p, "cover-1", 0.0, 0.5, 0.0, 0.0), "plate-bare"),
    ("no wrap", lambda p: None if p.kind == "wrap" else p, "no-wrap"),
    (
        "a wrap too short",
        lambda p: replace(p, length=inches(13.0)) if p.kind == "wrap" else p,
        "wrap-short on upright-1: 130.0000, least 140",
    ),
    (
        "a wrap too low",
        lambda p: replace(p, width=inches(9.0)) if p.kind == "wrap" else p,
        "wrap-short on upright-1: 126.0000, least 140",
    ),
    (
        "a piece up to the tape",
        lambda p: (
            moved(p, affinity.translate(p.shape, 0.3, 0.0))
            if p.id == "base-2" and p.shape is not None
            else p
        ),
        "fleece-near-tape on roof-1: 0.2000, least 0.25",
    ),
]


@pytest.mark.parametrize(("name", "spoil", "words"), SPOILED, ids=[row[0] for row in SPOILED])
def test_a_spoiled_layout_is_found_out(ask: Ask, name: str, spoil: Spoil, words: str) -> None:
    answer = ask()
    found = proved(answer, with_pieces(answer, spoil))
    assert any(words in fault for fault in found), found


def test_pieces_between_do_not_bridge_what_they_do_not_lie_over(ask: Ask) -> None:
    """Two bars, three pieces along x; the middle one trimmed by 1/2 in laps short."""
    members = [
        {"section": "bar", "width": "3 in", "depth": "3 in", "substrate": "carbon-steel"},
        {
            "section": "bar", "width": "3 in", "depth": "3 in", "substrate": "carbon-steel",
            "at": ["9 in", "9 in"],
        },
    ]  # fmt: skip
    answer = ask(members=members, plates=[])
    assert proved(answer, answer.layout) == ()
    layout = with_pieces(answer, lambda p: trimmed(p, "base-2", 0.0, 0.5, 0.0, 0.0))
    assert any("joint-short" in fault for fault in proved(answer, layout))


def test_an_unproved_layout_is_asked_about(ask: Ask, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever the proof finds, an answer never says go on it."""
    import upstand.layout.families.upright as upright
    import upstand.stages.ground as ground

    def refuse(layout: Layout, *rest: object) -> Layout:
        return replace(layout, unproved=(Fault("zone-bare", "roof-1", 1.0),))

    monkeypatch.setattr(upright, "prove", refuse)
    monkeypatch.setattr(ground, "USUAL", 0)  # nothing is remembered
    document = write(ask())
    assert document["verdict"]["state"] == "ask"
    reason = document["verdict"]["reasons"][0]
    assert "stays bare" in reason["text"] and reason["whom"] and len(reason["facts"]) >= 2


@pytest.mark.parametrize(("name", "size"), [("parapet-east", "height"), ("drain", "bowl")])
def test_a_piece_that_no_roll_is_wide_enough_for_is_refused(
    edition: Edition, name: str, size: str
) -> None:
    """The widest roll is 40 in: what needs a wider piece is told so, never an error within."""
    with pytest.raises(QueryFaults, match="the widest roll on file is 40 in"):
        answer(read_requirements({**question(name), size: "600 in"}, edition), edition)
