"""Fill in what was not asked for, and say so: every default is listed, none is silent."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from upstand.edition import Edition, Record
from upstand.formulas.closed_sections import corner_radius
from upstand.quantity.traced import Traced, assumed, reckon
from upstand.query.faults import pointer
from upstand.query.model import Choice, Member, Plate, Query
from upstand.words.model import Said, Sentence, Slot

#: Size -> the limit that holds its default.
DEFAULTS = {"height": "upright-height", "flange": "flange", "reveal": "reveal"}


@dataclass(frozen=True, slots=True)
class Assumption:
    """One default that was filled in: where, and what to say of it."""

    pointer: str
    text: Said


@dataclass(frozen=True, slots=True)
class Settled:
    """A question with its defaults: the records it names and every size.

    missing names the sizes that have no default and were not given: no quantity without them.
    parts holds what each part of the detail is made of; None where nobody said.
    """

    query: Query
    detail: Record
    roof: Record
    resin: Record
    fleece: Record
    members: tuple[Member, ...]
    plates: tuple[Plate, ...]
    sizes: Mapping[str, Traced]
    choices: Mapping[str, Choice]
    missing: tuple[str, ...]
    parts: Mapping[str, str | None]
    mask_turn: Traced
    count: int
    assumptions: tuple[Assumption, ...]

    @property
    def height(self) -> Traced:
        """The reinforced height on the upright."""
        return self.sizes["height"]

    @property
    def flange(self) -> Traced:
        """How far fleece reaches on to the roof."""
        return self.sizes["flange"]

    @property
    def reveal(self) -> Traced:
        """Fleece edge to tape."""
        return self.sizes["reveal"]


class _Settler:
    """Collects assumptions while the fields are filled in."""

    def __init__(self, query: Query, edition: Edition) -> None:
        self.query, self.edition = query, edition
        self.assumptions: list[Assumption] = []

    def assume(self, where: str, sentence: str, **slots: Slot) -> None:
        self.assumptions.append(Assumption(where, Sentence(sentence, slots)))

    def from_limit(self, given: Traced | None, name: str, limit: str) -> Traced:
        if given is not None:
            return given
        value = self.edition.record(f"limits/{limit}").value("default").traced("in")
        self.assume(f"/{name}", f"assumed-{name}", value=value)
        return value

    def place(
        self, at: tuple[Traced, Traced] | None, what: str, number: int
    ) -> tuple[Traced, Traced]:
        if at is not None:
            return at
        where = pointer(f"{what}s", number, "at")
        shown = Sentence(f"surface-{what}-n", {"n": str(number + 1)})
        self.assume(where, "assumed-at", what=shown)
        zero = assumed(0.0, "in", where)
        return (zero, zero)

    def member(self, member: Member, number: int) -> Member:
        at = self.place(member.at, "member", number)
        turn = member.turn
        if turn is None:
            where = pointer("members", number, "turn")
            turn = assumed(0.0, "deg", where)
            shown = Sentence("surface-member-n", {"n": str(number + 1)})
            self.assume(where, "assumed-turn", what=shown)
        dimensions = dict(member.dimensions)
        if member.section == "tube" and "corner_radius" not in dimensions:
            walls = self.edition.record("sections/tube").value("corner_radius_in_walls").traced("1")
            radius = reckon(corner_radius, wall=dimensions["thickness"], walls=walls)
            dimensions["corner_radius"] = radius
            self.assume(
                pointer("members", number, "corner_radius"),
                "assumed-corner-radius",
                n=str(number + 1),
                value=radius,
            )
        return replace(member, at=at, turn=turn, dimensions=dimensions)

    def plate(self, plate: Plate, number: int) -> Plate:
        substrate = plate.substrate
        if substrate is None:
            substrate = str(self.edition.record("limits/plate-substrate").get("choice")).partition(
                "/"
            )[2]
            self.assume(
                pointer("plates", number, "substrate"),
                "assumed-plate-substrate",
                n=str(number + 1),
                value=self.edition.record(f"substrates/{substrate}"),
            )
        return replace(plate, at=self.place(plate.at, "plate", number), substrate=substrate)

    def record(self, given: str | None, name: str, default: str) -> Record:
        path = default if given is None else f"{name}s/{given}"
        record = self.edition.record(path)
        if given is None:
            self.assume(f"/{name}", f"assumed-{name}", value=record)
        return record

    def mask_turn(self, members: tuple[Member, ...]) -> Traced:
        if self.query.mask_turn is not None:
            return self.query.mask_turn
        turns = {m.turn.value for m in members if m.turn is not None}
        common = turns.pop() if len(turns) == 1 else 0.0
        turn = assumed(common, "deg", "/mask_turn")
        self.assume("/mask_turn", "assumed-mask-turn", value=turn)
        return turn


def settle(query: Query, edition: Edition) -> Settled:
    """Give every field left open its default from the edition.

    Returns the settled question; `assumptions` lists each default.
    """
    s = _Settler(query, edition)
    detail = edition.record(f"details/{query.detail}")
    default = "" if query.resin else str(edition.record("limits/default-resin").get("choice"))
    resin = s.record(query.resin, "resin", default)
    fleece = s.record(query.fleece, "fleece", str(resin.get("fleece")))
    members = tuple(s.member(m, i) for i, m in enumerate(query.members))
    if query.plates is None and detail.get("inputs", {}).get("plates") == "optional":
        s.assume("/plates", "assumed-plates")
    if query.count is None:
        s.assume("/count", "assumed-count")
    if query.units is None:
        s.assume("/units", "assumed-units")
    if query.lang is None:
        s.assume("/lang", "assumed-lang")
    return Settled(
        query=query,
        detail=detail,
        roof=edition.record(f"substrates/{query.roof}"),
        resin=resin,
        fleece=fleece,
        members=members,
        plates=tuple(s.plate(p, i) for i, p in enumerate(query.plates or ())),
        sizes={
            **query.sizes,
            **{
                name: s.from_limit(query.sizes.get(name), name, limit)
                for name, limit in DEFAULTS.items()
            },
        },
        choices=query.choices,
        missing=(),
        parts={},
        mask_turn=s.mask_turn(members),
        count=query.count or 1,
        assumptions=tuple(s.assumptions),
    )
