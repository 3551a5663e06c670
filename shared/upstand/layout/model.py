"""What a layout is: faces, surfaces, tape, pieces of fleece, the areas that coats are laid over."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from upstand.quantity.traced import Traced

Orientation = Literal["flat", "upright"]
PieceKind = Literal[
    "cap",
    "cover",
    "bowl",
    "floor",
    "base",
    "wrap",
    "throat",
    "head",
    "patch",
    "sill",
    "side",
    "wall",
    "jamb",
    "strip",
    "top",
]
Point = tuple[float, float]
Line = tuple[Point, Point]
Space = tuple[float, float, float]


class LayoutRefusal(ValueError):
    """A detail that can't be laid out as described: (JSON pointer, sentence) for each reason."""

    def __init__(self, reasons: Sequence[tuple[str, str]]) -> None:
        """Keep the reasons."""
        self.reasons = reasons
        super().__init__("; ".join(f"{where}: {what}" for where, what in reasons))


@dataclass(frozen=True, slots=True)
class Surface:
    """One surface to prepare and prime, out to the tape. `area` in in², None where not computed.

    A part of the detail (`role` "part") has its name as id; `substrate` is None where nobody said.
    """

    id: str
    role: Literal["roof", "plate", "member", "part", "other"]
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
        return shapely.box(self.left, self.low, self.right, self.high)

    def grown(self, margin: float) -> Rectangle:
        """Return the rectangle with a margin added on every side."""
        return Rectangle(
            self.left - margin, self.low - margin, self.right + margin, self.high + margin
        )


@dataclass(frozen=True, slots=True)
class Frame:
    """Where a face stands: its origin and its two axes in space (x, y along the roof, z up)."""

    origin: Space
    along: Space
    up: Space


@dataclass(frozen=True, slots=True)
class Fold:
    """Where a face meets another: the line in the face's own axes, and the other face's id.

    `there` is the same line in the other face's axes, its ends in the same order.
    """

    face: str
    line: Line
    there: Line


@dataclass(frozen=True, slots=True)
class Face:
    """One plane face of a detail, in its own axes, inches.

    `sheet` is what lies within the tape, `opening` taken out of it; `zone` where fleece lies once,
    out of which the opening is taken too. `tape` are the free edges. An `unrolled` face goes round
    an upright; it has no frame. `surface` is the id of what is prepared on it.
    """

    id: str
    surface: str
    orientation: Orientation
    sheet: BaseGeometry = field(compare=False, repr=False)
    zone: BaseGeometry = field(compare=False, repr=False)
    tape: tuple[BaseGeometry, ...] = field(compare=False, repr=False)
    opening: BaseGeometry | None = field(default=None, compare=False, repr=False)
    folds: tuple[Fold, ...] = ()
    joined: tuple[Line, ...] = ()
    frame: Frame | None = None
    unrolled: bool = False


@dataclass(frozen=True, slots=True)
class Lying:
    """Where a piece, or the part of it on one side of a fold, lies: on which face, which shape."""

    face: str
    shape: BaseGeometry = field(compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Band:
    """A strip of a piece between two folds, from one edge: `face` is what it lies on."""

    face: str
    first: float
    last: float


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece of fleece, flat, in inches.

    `width` and `length` are the rectangle it is cut from, `net` its area as laid in in²; `shape`
    its outline in its own plane (mask axes for base and cover), `sheet` the rectangle of a base
    piece before it is cut round what stands in it; `order` counts from the bottom.

    `letter` tells it from every other piece. `lies` says where each part of it lies, `across`
    between which folds over its width, from the low edge, `slits` where it is cut in without
    anything being taken out, in its own plane.
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
    letter: str = ""
    lies: tuple[Lying, ...] = ()
    across: tuple[Band, ...] = ()
    slits: tuple[Line, ...] = ()


@dataclass(frozen=True, slots=True)
class Region:
    """One masked rectangle on the roof: what stands in it, its target and its tape.

    `width` and `length` are the target's sides as counted.
    """

    target: Rectangle
    mask: Rectangle
    turn_deg: float
    outline: BaseGeometry
    members: tuple[int, ...]
    plates: tuple[int, ...]
    width: Traced
    length: Traced


@dataclass(frozen=True, slots=True)
class Masking:
    """Tape, inches: all of it, the overlaps at corners apart, and each rectangle.

    Without an upright there is no line on one, and `line_height` is None.
    """

    tape: Traced
    corners: Traced
    flat: tuple[tuple[Traced, Traced], ...]
    line_height: Traced | None


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
class Ask:
    """What the description leaves for somebody to say: the sentence `id`, with its numbers.

    `state` "ask" is asked of `whom`; "confirm" is ticked on the roof.
    """

    id: str
    whom: str
    state: Literal["ask", "confirm"] = "ask"
    found: Traced | None = None
    least: Traced | None = None
    name: str = ""


class Unanswerable(Exception):
    """A detail whose quantities nobody can say before somebody is asked."""

    def __init__(self, *asks: Ask) -> None:
        """Keep what is asked."""
        self.asks = asks
        super().__init__(", ".join(ask.id for ask in asks))


@dataclass(frozen=True, slots=True)
class Fault:
    """What the proof found: which rule does not hold, on which face, by how much."""

    id: str
    face: str
    found: float = 0.0
    least: float = 0.0

    def __str__(self) -> str:
        """Say it for a log or a test."""
        return f"{self.id} on {self.face}: {self.found:.4f}, least {self.least:g}"


@dataclass(frozen=True, slots=True)
class Marked:
    """What fleece is laid over on a flat face: a crack, a joint, an old edge, or damage."""

    kind: Literal["crack", "joint", "old-edge", "damage"]
    face: str
    shape: BaseGeometry = field(compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Layout:
    """Where everything lies. Without geometry (`built` False) only the surfaces are known.

    `coated` is the area of the top coat: all surfaces, and the bond breaker, which is drawn as
    `breaker`. `sizes` are those of the question with what is worked out here, such as the height
    over a riser. `facts` are lengths of the layout that limits are compared with, by name.
    `marked` is what lies under a strip or patch, `shared` which surface lies where on a face of
    several. `why` names the wording that says why there are no quantities.
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
    faces: tuple[Face, ...] = ()
    sizes: Mapping[str, Traced] = field(default_factory=dict)
    plates: tuple[Lying, ...] = ()
    bond_breaker: Traced | None = None
    breaker: BaseGeometry | None = field(default=None, compare=False, repr=False)
    marked: Marked | None = None
    shared: tuple[tuple[str, BaseGeometry], ...] = field(default=(), compare=False, repr=False)
    asks: tuple[Ask, ...] = ()
    facts: Mapping[str, Traced] = field(default_factory=dict)
    unproved: tuple[Fault, ...] = ()
    why: str = "geometry-not-built"
    parameters: Mapping[str, Traced] = field(default_factory=dict)

    @property
    def stopped(self) -> bool:
        """Whether nobody may touch a surface: then that surface alone is listed."""
        return self.why == "no-quantity-hazard"

    @property
    def substrates(self) -> tuple[str, ...]:
        """What the surfaces are made of, each once; a surface nobody named is left out."""
        named = (s.substrate for s in self.surfaces)
        return tuple(dict.fromkeys(s for s in named if s is not None))
