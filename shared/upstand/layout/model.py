"""What a layout is: surfaces, tape, pieces of fleece, and the areas that coats are laid over."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from shapely.geometry import Polygon, box
from shapely.geometry.base import BaseGeometry

from upstand.quantity.traced import Traced

Orientation = Literal["flat", "upright"]
PieceKind = Literal["cover", "base", "wrap", "patch"]


class LayoutRefusal(ValueError):
    """A detail that can't be laid out as described: (JSON pointer, sentence) for each reason."""

    def __init__(self, reasons: list[tuple[str, str]]) -> None:
        """Keep the reasons."""
        self.reasons = reasons
        super().__init__("; ".join(f"{where}: {what}" for where, what in reasons))


@dataclass(frozen=True, slots=True)
class Surface:
    """One surface to prepare and prime, out to the tape. `area` in in², None where not computed."""

    id: str
    role: Literal["roof", "plate", "member", "other"]
    number: int
    substrate: str | None
    orientation: Orientation
    area: Traced | None


@dataclass(frozen=True, slots=True)
class Rectangle:
    """A rectangle along the mask's axes (or a plate's own), inches: left, low, right, high."""

    left: float
    low: float
    right: float
    high: float

    @property
    def width(self) -> float:
        """Across x [in]."""
        return self.right - self.left

    @property
    def length(self) -> float:
        """Along y [in]."""
        return self.high - self.low

    def sheet(self) -> Polygon:
        """Draw the rectangle."""
        return box(self.left, self.low, self.right, self.high)

    def grown(self, margin: float) -> Rectangle:
        """Return the rectangle with a margin added on every side."""
        return Rectangle(
            self.left - margin, self.low - margin, self.right + margin, self.high + margin
        )


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece of fleece, flat, in inches.

    `width` and `length` are the rectangle it is cut from, `net` its area as laid in in²; `shape`
    its outline in its own plane (mask axes for base and cover), `sheet` the rectangle of a base
    piece before it is cut round what stands in it; `order` counts from the bottom.
    """

    id: str
    kind: PieceKind
    number: int
    width: Traced
    length: Traced
    count: int
    order: int
    net: Traced
    slit: bool = False
    joint: str | None = None
    shape: BaseGeometry | None = field(default=None, compare=False, repr=False)
    sheet: Rectangle | None = field(default=None, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Region:
    """One masked rectangle on the roof: what stands in it, its target and its tape."""

    target: Rectangle
    mask: Rectangle
    turn_deg: float
    outline: BaseGeometry
    members: tuple[int, ...]
    plates: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Masking:
    """Tape, inches: all of it, the overlaps at corners apart, and each rectangle."""

    tape: Traced
    corners: Traced
    flat: tuple[tuple[Traced, Traced], ...]
    line_height: Traced


@dataclass(frozen=True, slots=True)
class Fleece:
    """Fleece: the pieces, and areas in in²."""

    pieces: tuple[Piece, ...]
    zone: Traced
    net: Traced
    cut: Traced
    lap_area: Traced
    extra: Traced


@dataclass(frozen=True, slots=True)
class Layout:
    """Where everything lies. Without geometry (`built` False) only the surfaces are known.

    `why` names the wording that says why there are no quantities.
    """

    family: str
    built: bool
    surfaces: tuple[Surface, ...]
    regions: tuple[Region, ...] = ()
    masking: Masking | None = None
    fleece: Fleece | None = None
    coated: Traced | None = None
    girth: Traced | None = None
    gap_in: float | None = None
    unproved: tuple[str, ...] = ()
    why: str = "geometry-not-built"
    parameters: Mapping[str, Traced] = field(default_factory=dict)
