"""The pieces of fleece of a detail: numbered by kind, counted, lettered in the order of laying."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from shapely.geometry.base import BaseGeometry

from upstand.edition import Edition
from upstand.formulas import areas
from upstand.layout.model import Band, Line, Lying, Piece, PieceKind, Rectangle
from upstand.layout.splitting import refuse_many
from upstand.quantity.traced import Traced, constant, reckon
from upstand.query.defaults import Settled


def longest_roll(settled: Settled, edition: Edition) -> tuple[Traced, Traced]:
    """Width and length of the widest roll of the fleece [in]."""
    rolls = [
        (pack.value("width").traced("in"), pack.value("length").traced("in"))
        for pack in edition.kind("packs").values()
        if pack.get("of") == settled.fleece.path
    ]
    none = constant(float("inf"), "in", "no roll on file")
    return max(rolls, key=lambda roll: roll[0].value, default=(none, none))


class Pieces:
    """Collects the pieces of one detail; `roll` is the widest that its fleece is sold in."""

    def __init__(self, settled: Settled, edition: Edition, given: dict[str, Traced]) -> None:
        """Keep the lengths that pieces are made with."""
        self.given, self.roll = given, longest_roll(settled, edition)
        self.made: list[Piece] = []
        self._numbers: dict[PieceKind, int] = {}
        self._count = 0

    def add(
        self,
        kind: PieceKind,
        width: Traced,
        length: Traced,
        *,
        net: Traced | None = None,
        count: int = 1,
        slit: bool = False,
        joint: str | None = None,
        shape: BaseGeometry | None = None,
        sheet: Rectangle | None = None,
        lies: Sequence[Lying] = (),
        across: Sequence[Band] = (),
        slits: Sequence[Line] = (),
    ) -> None:
        """Add a piece, or a number of equal ones that lie alike."""
        self._count += count
        refuse_many(self._count)
        number = self._numbers[kind] = self._numbers.get(kind, 0) + 1
        self.made.append(
            Piece(
                id=f"{kind}-{number}",
                kind=kind,
                number=number,
                width=width,
                length=length,
                count=count,
                order=0,
                net=net or reckon(areas.rectangle_area, width=width, length=length),
                slit=slit or bool(slits),
                joint=joint,
                shape=shape,
                sheet=sheet,
                lies=tuple(lies),
                across=tuple(across),
                slits=tuple(slits),
            )
        )

    def finished(self, order: Sequence[PieceKind] = ()) -> tuple[Piece, ...]:
        """Put the pieces in the order in which they are laid, lowest first, and letter them.

        The letter tells the kind, its number the piece: B2 is the second base piece. Without an
        order of kinds they are laid as they were made.
        """
        kinds = list(order or dict.fromkeys(piece.kind for piece in self.made))
        letters = {kind: chr(ord("A") + n) for n, kind in enumerate(kinds)}
        laid = sorted(self.made, key=lambda p: kinds.index(p.kind)) if order else self.made
        return tuple(
            replace(piece, order=n, letter=f"{letters[piece.kind]}{piece.number}")
            for n, piece in enumerate(laid, 1)
        )
