"""Members of a detail: a section by its dimensions, by pipe size, or by a standard designation."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from upstand.edition import Edition
from upstand.formulas.closed_sections import corner_radius
from upstand.quantity.traced import Traced, asked
from upstand.query.faults import Fault, nearest, pointer
from upstand.query.fields import find_id
from upstand.query.ids import known_ids, said_ids
from upstand.query.model import Member
from upstand.sections import (
    FIELDS,
    UnknownDesignation,
    find_designation,
    find_pipe_size,
    polygon_faults,
    section_faults,
)
from upstand.sections.model import Fault as SectionFieldFault
from upstand.telling.said import say

KINDS = tuple(sorted(FIELDS))
PLACED = ("section", "designation", "substrate", "at", "turn", "points", "nps")


def read_members(
    given: object, loaded: Sequence[Mapping[str, Any]], edition: Edition
) -> tuple[tuple[Member, ...], list[Fault]]:
    """Read the members that the schema let through, and list what can't be.

    `given` is the list as it came, of which the schema drops what is null.
    """
    members: list[Member] = []
    faults: list[Fault] = []
    every = list(given) if isinstance(given, list | tuple) else []
    kept = [index for index, row in enumerate(every) if row is not None]
    for index, row in zip(kept, loaded, strict=False):
        if not isinstance(every[index], Mapping):
            continue
        reader = _Reader(row, index, edition)
        member = reader.member()
        faults += reader.faults
        if member is not None and not reader.faults:
            members.append(member)
    return tuple(members), faults


class _Reader:
    """Reads one member and keeps every fault found on the way."""

    def __init__(self, row: Mapping[str, Any], index: int, edition: Edition) -> None:
        self.row, self.index, self.edition = row, index, edition
        self.faults: list[Fault] = []

    def fault(self, name: str, detail: str) -> None:
        self.faults.append(Fault(pointer("members", self.index, *([name] if name else [])), detail))

    def asked(self, value: float, unit: str, *where: str | int) -> Traced:
        return asked(value, unit, pointer("members", self.index, *where))

    def member(self) -> Member | None:
        row = self.row
        substrate = self.substrate()
        dimensions = {k: self.asked(v, "in", k) for k, v in row.items() if k not in PLACED}
        section, dimensions, designation = self.section(dimensions)
        if section is None:
            return None
        # a place of which the schema refused a part is no pair
        points = tuple((p[0], p[1]) for p in row.get("points", ()) if len(p) == 2)
        if section == "polygon":
            if not points:
                self.fault("points", say("points-missing"))
            else:
                for fault in polygon_faults(points):
                    self.fault(fault.field, fault.message)
        elif points:
            self.fault("points", say("points-not-taken", called=FIELDS[section].called))
        if section != "polygon" or dimensions:
            sizes = {name: traced.value for name, traced in dimensions.items()}
            found = section_faults(section, sizes)
            for fault in found or self.default_faults(section, sizes):
                self.fault(fault.field, fault.message)
        if substrate is None:
            return None
        at, turn = row.get("at"), row.get("turn")
        if at is not None and len(at) != 2:
            return None
        return Member(
            section=section,
            dimensions=dimensions,
            substrate=substrate,
            at=None
            if at is None
            else (self.asked(at[0], "in", "at", 0), self.asked(at[1], "in", "at", 1)),
            turn=None if turn is None else self.asked(turn, "deg", "turn"),
            points=points,
            designation=designation,
        )

    def default_faults(self, section: str, sizes: Mapping[str, float]) -> list[SectionFieldFault]:
        """List what the default corner radius of a tube would make impossible."""
        if section != "tube" or "corner_radius" in sizes:
            return []
        walls = self.edition.record("sections/tube").value("corner_radius_in_walls").magnitude("1")
        radius = corner_radius(wall=sizes["thickness"], walls=walls)
        found = section_faults(section, {**sizes, "corner_radius": radius})
        return [fault._replace(message=say("by-default", fault=fault.message)) for fault in found]

    def substrate(self) -> str | None:
        given = self.row.get("substrate")
        known = known_ids(self.edition, "substrates", "member")
        if given is None:
            self.fault("substrate", say("member-made-of", sorted(known), known=sorted(known)))
        elif not isinstance(given, str):
            self.fault("substrate", say("not-text-choice", sorted(known), known=sorted(known)))
        else:
            said = said_ids(self.edition, "substrates")
            found = find_id(given, say("thing-member-substrate"), known, said)
            if isinstance(found, str):
                return found
            self.fault("substrate", found[0])
        return None

    def section(
        self, dimensions: dict[str, Traced]
    ) -> tuple[str | None, dict[str, Traced], str | None]:
        """Find the section and its dimensions in inches."""
        row = self.row
        if "designation" in row:
            return self.standard_shape(dimensions)
        given = row.get("section")
        if given is None:
            self.fault("section", say("section-missing", KINDS, known=KINDS))
            return None, dimensions, None
        if not isinstance(given, str):
            self.fault("section", say("not-text-choice", KINDS, known=KINDS))
            return None, dimensions, None
        if given not in FIELDS:
            told = say(
                "unknown-id",
                word=given[:64],
                what=say("thing-section"),
                nearest=nearest(given, FIELDS),
            )
            self.fault("section", told)
            return None, dimensions, None
        if "nps" in row:
            if given != "pipe":
                self.fault("nps", say("nps-not-taken", called=FIELDS[given].called))
            elif "od" in dimensions:
                self.fault("nps", say("nps-and-od"))
            else:
                self.pipe_size(dimensions)
                if "od" not in dimensions:
                    return None, dimensions, None
        return given, dimensions, None

    def pipe_size(self, dimensions: dict[str, Traced]) -> None:
        given = self.row["nps"]
        if isinstance(given, bool) or not isinstance(given, str | int | float):
            self.fault("nps", say("not-nominal", ("1-1/2",)))
            return
        try:
            size = find_pipe_size(
                self.edition, given if isinstance(given, str) else f"{min(abs(given), 1e6):g}"
            )
        except UnknownDesignation as error:
            self.fault("nps", error.message)
        else:
            dimensions["od"] = size.traced("od")

    def standard_shape(
        self, dimensions: dict[str, Traced]
    ) -> tuple[str | None, dict[str, Traced], str | None]:
        given = self.row["designation"]
        if not isinstance(given, str):
            self.fault("designation", say("not-text-shape", ("L3x3x1/4",)))
            return None, dimensions, None
        extra = sorted(dimensions) + [k for k in ("section", "nps", "points") if k in self.row]
        for name in extra:
            self.fault(name, say("said-by-designation"))
        try:
            shape = find_designation(self.edition, given)
        except UnknownDesignation as error:
            self.fault("designation", error.message)
            return None, dimensions, None
        made_of = self.row.get("substrate")
        if shape.substrates and isinstance(made_of, str) and made_of not in shape.substrates:
            self.fault(
                "designation",
                say(
                    "shape-of-others",
                    shape=shape.designation,
                    known=sorted(shape.substrates),
                    given=made_of[:64],
                ),
            )
            return None, dimensions, None
        traced = {field: shape.traced(field) for field in shape.dimensions}
        return shape.kind, traced, shape.designation
