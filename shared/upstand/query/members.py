"""Members of a detail: a section by its dimensions, by pipe size, or by a standard designation."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from upstand.query.faults import Fault, nearest, pointer
from upstand.query.model import Member
from upstand.sections import (
    FIELDS,
    UnknownDesignation,
    find_designation,
    find_pipe_size,
    polygon_faults,
    section_faults,
)
from upstand.spec import Edition
from upstand.traced import Traced, asked

PLACED = ("section", "designation", "substrate", "at", "turn", "points", "nps")


def read_members(
    loaded: Sequence[Mapping[str, Any]], edition: Edition
) -> tuple[tuple[Member, ...], list[Fault]]:
    """Read the members that the schema let through, and list what can't be."""
    members: list[Member] = []
    faults: list[Fault] = []
    # what the schema refused may arrive as a mapping by index, with gaps
    rows = loaded.items() if isinstance(loaded, Mapping) else enumerate(loaded)
    for index, row in rows:
        if not isinstance(row, Mapping):
            continue
        reader = _Reader(row, int(index), edition)
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
        if section is None or substrate is None:
            return None
        points = tuple(tuple(p) for p in row.get("points", ()))
        if section == "polygon":
            if not points:
                self.fault("points", "is missing: a polygon needs its corner points, in order")
            else:
                for fault in polygon_faults(points):
                    self.fault(fault.field, fault.message)
        elif points:
            self.fault("points", f"belong to a polygon, not to {FIELDS[section].called}: leave out")
        if section != "polygon" or dimensions:
            sizes = {name: traced.value for name, traced in dimensions.items()}
            for fault in section_faults(section, sizes):
                self.fault(fault.field, fault.message)
        at, turn = row.get("at"), row.get("turn")
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

    def substrate(self) -> str | None:
        given = self.row.get("substrate")
        known = [
            i
            for i, r in self.edition.kind("substrates").items()
            if "member" in r.get("used_as", ())
        ]
        if given is None:
            self.fault(
                "substrate", f"is missing: what is the member made of? Known: {_listed(known)}"
            )
        elif not isinstance(given, str) or given not in known:
            word = given if isinstance(given, str) else str(given)
            self.fault(
                "substrate",
                f"“{word[:64]}” is not a known substrate for a member: {nearest(word, known)}",
            )
        else:
            return given
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
            self.fault("section", f"is missing: write one of {_listed(FIELDS)}, or a designation")
            return None, dimensions, None
        if not isinstance(given, str) or given not in FIELDS:
            word = given if isinstance(given, str) else str(given)
            self.fault("section", f"“{word[:64]}” is not a known section: {nearest(word, FIELDS)}")
            return None, dimensions, None
        if "nps" in row:
            if given != "pipe":
                self.fault("nps", f"belongs to a pipe, not to {FIELDS[given].called}: leave it out")
            elif "od" in dimensions:
                self.fault("nps", "and od are both given: write the one you measured")
            else:
                self.pipe_size(dimensions)
                if "od" not in dimensions:
                    return None, dimensions, None
        return given, dimensions, None

    def pipe_size(self, dimensions: dict[str, Traced]) -> None:
        try:
            size = find_pipe_size(self.edition, str(self.row["nps"]))
        except UnknownDesignation as error:
            self.fault("nps", str(error))
        else:
            dimensions["od"] = size.traced("od")

    def standard_shape(
        self, dimensions: dict[str, Traced]
    ) -> tuple[str | None, dict[str, Traced], str | None]:
        given = self.row["designation"]
        if not isinstance(given, str):
            self.fault("designation", 'is not text: write a standard shape, such as "L3x3x1/4"')
            return None, dimensions, None
        extra = sorted(dimensions) + [k for k in ("section", "nps", "points") if k in self.row]
        for name in extra:
            self.fault(name, "is already said by the designation: leave one of them out")
        try:
            shape = find_designation(self.edition, given)
        except UnknownDesignation as error:
            self.fault("designation", str(error))
            return None, dimensions, None
        traced = {field: shape.traced(field) for field in shape.dimensions}
        return shape.kind, traced, shape.designation


def _listed(names: object) -> str:
    return ", ".join(sorted(names))  # type: ignore[call-overload]
