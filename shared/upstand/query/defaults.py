"""Fill in what was not asked for, and say so: every default is listed, none is silent."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache

from upstand.edition import Edition, Record
from upstand.edition.applies import Taken, inputs_of, takes
from upstand.formulas.closed_sections import corner_radius
from upstand.quantity.traced import Traced, asked, assumed, reckon
from upstand.query.faults import pointer
from upstand.query.model import Choice, Member, Plate, Query
from upstand.query.relations import taken_now
from upstand.query.table import CHOICES, SIZES, Input, inputs
from upstand.words.model import Said, Sentence, Slot, TradeText

#: Sizes whose defaults have sentences of their own.
SAID_OF_OLD = ("height", "flange", "reveal")


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
    crew: Traced
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


@lru_cache(maxsize=256)
def _asked_of(edition: Edition, detail: str) -> tuple[Input, ...]:
    """List what a detail takes; choices first, since sizes may hang on them."""
    taken = inputs_of(edition, detail)
    return tuple(
        item
        for reads in (CHOICES, SIZES)
        for item in inputs(edition)
        if item.reads in reads and item.name in taken
        if item.name not in ("count", "crew") and item.place[0] != "now"
    )


class _Settler:
    """Collects assumptions while the fields are filled in."""

    def __init__(self, query: Query, edition: Edition) -> None:
        self.query, self.edition = query, edition
        self.assumptions: list[Assumption] = []

    def assume(self, where: str, sentence: str, **slots: Slot) -> None:
        self.assumptions.append(Assumption(where, Sentence(sentence, slots)))

    def inputs(
        self,
    ) -> tuple[dict[str, Traced], dict[str, Choice], tuple[str, ...]]:
        """Return (sizes, choices, missing): what was given, and the defaults of the rest."""
        query = self.query
        taken = inputs_of(self.edition, query.detail)
        sizes, choices = dict(query.sizes), dict(query.choices)
        missing = []
        for item in _asked_of(self.edition, query.detail):
            if item.name in sizes or item.name in choices:
                continue
            row = taken_now(taken[item.name], choices)
            if row is None:
                continue
            if row.measured:
                missing.append(item.name)
                continue
            default = self.default(row, item)
            if isinstance(default, Traced):
                sizes[item.name] = default
            elif default is not None:
                choices[item.name] = default
        return sizes, choices, tuple(missing)

    def default(self, row: Taken, item: Input) -> Traced | Choice | None:
        """Return what is taken where nothing was said; None where nothing is assumed here."""
        word: Choice | None = row.get("choice")
        value = row.get("default")
        if row.get("parameter"):
            value = self.edition.record(row.get("parameter")).value("value")
        if value is not None:
            if item.reads == "length":
                size: Traced = value.traced("in")
                self.say(item, size)
                return size
            word = value.flag if item.reads == "flag" else int(value.magnitude("1"))
        if word is not None:
            shown = {True: "yes", False: "no"}.get(word) if isinstance(word, bool) else None
            self.say(item, Sentence(f"word-{shown}") if shown else self.word(item, str(word)))
        return word

    def word(self, item: Input, word: str) -> Slot:
        """Return a word of an input's choices, or a number, as it is said."""
        named = item.record.has(f"choices.{word}")
        return TradeText(item.record, f"choices.{word}", small=True) if named else word

    def say(self, item: Input, value: Slot) -> None:
        """List a default: in its own sentence where there is one."""
        if item.name in SAID_OF_OLD:
            self.assume(item.pointer, f"assumed-{item.name}", value=value)
        else:
            self.assume(item.pointer, "assumed-input", what=item.record, value=value)

    def parts(self) -> dict[str, str | None]:
        """Return what each part of the detail is made of; None where nobody said."""
        query, found = self.query, {}
        taken = inputs_of(self.edition, query.detail)
        named = {s.part: s.substrate for s in query.surfaces if s.part is not None}
        common = next((s.substrate for s in query.surfaces if s.part is None), None)
        for item in inputs(self.edition):
            if item.part is None or item.name not in taken:
                continue
            made_of = named.get(item.part)
            if made_of is None and not item.record.get("named"):
                made_of = common
            if made_of is None:
                row = taken[item.name][0]
                if row.get("parameter"):
                    choice = self.edition.record(row.get("parameter")).get("choice")
                    made_of = str(choice).partition("/")[2]
                elif row.get("same") == "roof":
                    made_of = query.roof
                if made_of is not None:
                    self.say(item, self.edition.record(f"substrates/{made_of}"))
            found[item.part] = made_of
        return found

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
            substrate = str(
                self.edition.record("parameters/plate-substrate").get("choice")
            ).partition("/")[2]
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
        if not takes(self.edition, self.query.detail, "mask_turn"):
            return assumed(0.0, "deg", "/mask_turn")
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
    default = "" if query.resin else str(edition.record("parameters/default-resin").get("choice"))
    resin = s.record(query.resin, "resin", default)
    fleece = s.record(query.fleece, "fleece", str(resin.get("fleece")))
    members = tuple(s.member(m, i) for i, m in enumerate(query.members))
    sizes, choices, missing = s.inputs()
    if query.plates is None and takes(edition, detail.id, "plates"):
        s.assume("/plates", "assumed-plates")
    if query.count is None:
        s.assume("/count", "assumed-count")
    if query.crew is None:
        s.assume("/crew", "assumed-crew")
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
        sizes=sizes,
        choices=choices,
        missing=missing,
        parts=s.parts(),
        mask_turn=s.mask_turn(members),
        count=query.count or 1,
        crew=(assumed if query.crew is None else asked)(float(query.crew or 1), "1", "/crew"),
        assumptions=tuple(s.assumptions),
    )
