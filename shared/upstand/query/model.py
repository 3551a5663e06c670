"""A question about one detail, read and checked: numbers in inches, °F, percent, as asked."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from upstand.quantity.traced import Traced

System = Literal["us", "si"]
Language = Literal["en", "es"]
Choice = str | bool | int

#: The keys of an answer about one detail, which `fields` may name, in their order.
ANSWER_KEYS = (
    "edition",
    "digest",
    "overlay",
    "overlay_digest",
    "software",
    "notices",
    "question",
    "detail",
    "roof",
    "resin",
    "units",
    "lang",
    "verdict",
    "confirm",
    "assumed",
    "conditions",
    "sizes",
    "surfaces",
    "coats",
    "film",
    "fleece",
    "masking",
    "dimensions",
    "materials",
    "totals",
    "times",
    "since",
    "steps",
    "checks",
    "cautions",
    "tools",
    "sources",
    "workings",
)


@dataclass(frozen=True, slots=True)
class Member:
    """One upright member: its section, its dimensions in inches, where it stands."""

    section: str
    dimensions: Mapping[str, Traced]
    substrate: str
    at: tuple[Traced, Traced] | None = None
    turn: Traced | None = None
    points: tuple[tuple[float, float], ...] = ()
    designation: str | None = None


@dataclass(frozen=True, slots=True)
class Plate:
    """One fastener plate: width along x, length along y, inches; centre at `at`."""

    width: Traced
    length: Traced
    at: tuple[Traced, Traced] | None = None
    substrate: str | None = None


@dataclass(frozen=True, slots=True)
class OtherSurface:
    """A surface besides roof, members and plates: the wall, sill, bowl or edge it is built on.

    part: the part of the detail it is; None serves every part that no other entry names.
    """

    substrate: str
    orientation: Literal["flat", "upright"] | None = None
    part: str | None = None


@dataclass(frozen=True, slots=True)
class Now:
    """What was measured on the roof; None is unknown, never zero.

    air, surface (the coldest), surface_warmest, material in °F; humidity and rain_chance in
    percent; wind in mph; at is when it was measured (ISO 8601, as written).
    """

    air: Traced | None = None
    surface: Traced | None = None
    surface_warmest: Traced | None = None
    humidity: Traced | None = None
    material: Traced | None = None
    wind: Traced | None = None
    rain_chance: Traced | None = None
    wet: bool | None = None
    at: str | None = None


@dataclass(frozen=True, slots=True)
class Done:
    """Work done before the question: which activity, and when it ended (ISO 8601, as written)."""

    activity: str
    at: str


@dataclass(frozen=True, slots=True)
class Query:
    """One detail as it was asked for. What is left out takes its default when it is settled.

    sizes and choices hold what was given, by the name of its input (`inputs/<name>`).
    """

    detail: str
    roof: str
    members: tuple[Member, ...] = ()
    plates: tuple[Plate, ...] | None = None
    surfaces: tuple[OtherSurface, ...] = ()
    sizes: Mapping[str, Traced] = field(default_factory=dict)
    choices: Mapping[str, Choice] = field(default_factory=dict)
    mask_turn: Traced | None = None
    resin: str | None = None
    fleece: str | None = None
    count: int | None = None
    crew: int | None = None
    confirmed: tuple[str, ...] = ()
    since: tuple[Done, ...] = ()
    fields: tuple[str, ...] | None = None
    now: Now = Now()
    units: System | None = None
    lang: Language | None = None
