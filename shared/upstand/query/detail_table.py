"""A table of details, as a spreadsheet saves it: one detail a row, each input in its column.

    columns  id, count, detail, member, member-2 …, plate, plate-2 …, designation with substrate,
             each input by its name (height, opening-width), and the parts by theirs (wall, sill)
    parted   by commas, semicolons or tabs; whichever the heading uses
    text     UTF-8, with a byte order mark or without

It makes the body that `read_take_off` judges, and knows the cell that each place of it came from.
"""

from __future__ import annotations

import csv
import re
from codecs import BOM_UTF8, BOM_UTF16_BE, BOM_UTF16_LE
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from io import StringIO
from typing import Any, Final

from upstand.edition import Edition
from upstand.query.detail_columns import OWN, SHAPES, STANDARD, columns_of
from upstand.query.faults import Fault, QueryFaults, nearest, pointer
from upstand.query.shape_text import TextFault, read_member, read_plate
from upstand.query.table import inputs
from upstand.query.takeoff import TakeOffQuery, read_take_off
from upstand.telling.said import Said, say

__all__ = ["CellFault", "DetailTable", "TableFaults", "read_table", "read_take_off_table"]

MAX_BYTES: Final = 1024 * 1024
MAX_COLUMNS: Final = 100
MAX_CELL: Final = 500
_NUMBERED: Final = re.compile(r"(member|plate)(?:-([1-9]\d?))?")
_FLAGS: Final = {"true": True, "yes": True, "false": False, "no": False}
_SEPARATORS: Final = (",", ";", "\t")


@dataclass(frozen=True, slots=True, order=True)
class CellFault:
    """What is wrong with one cell: its row as a spreadsheet counts, its column by the heading."""

    row: int
    column: str
    detail: str

    def where(self) -> str:
        """Say where it stands; nothing where it is about the whole table."""
        return ", ".join(filter(None, (f"row {self.row}" if self.row else "", self.column)))

    def __str__(self) -> str:
        """Say where, and what."""
        return f"{self.where()}: {self.detail}" if self.where() else self.detail


class TableFaults(ValueError):
    """A table that can't be used; carries every fault found, each with its cell."""

    def __init__(self, faults: Iterable[CellFault]) -> None:
        """Keep the faults in the order of the rows."""
        self.faults = tuple(faults)
        super().__init__("; ".join(str(fault) for fault in self.faults))


@dataclass(slots=True)
class DetailTable:
    """The rows of `details` that a table makes, its own faults, and the cell of each place."""

    details: list[dict[str, Any]] = field(default_factory=list)
    faults: list[CellFault] = field(default_factory=list)
    cells: dict[str, tuple[int, str]] = field(default_factory=dict)
    rows: list[int] = field(default_factory=list)

    def retell(self, faults: Iterable[Fault]) -> list[CellFault]:
        """Tell faults of the body by row and column; those without a row keep their pointer."""
        told = [self._told(fault) for fault in faults]
        return sorted({*self.faults, *(one for one in told if one is not None)})

    def _told(self, fault: Fault) -> CellFault | None:
        place, below = fault.pointer, ""
        while place and place not in self.cells:
            place, _, last = place.rpartition("/")
            below = last if not below else f"{last} {below}"
        row, column = self.cells.get(place, (0, fault.pointer.lstrip("/")))
        if (row, column) in {(own.row, own.column) for own in self.faults}:
            return None  # the cell could not be read at all, and is told already
        if not column:
            column, below = below.replace("_", "-"), ""
        told = fault.detail
        if isinstance(told, Said) and told.id == "detail-twice":
            told = say("row-twice", row=str(self.rows[int(told.slots["other"])]))
        elif below:
            told = say("cell-below", below=below.replace("_", " "), fault=told)
        return CellFault(row, column, told)


def read_take_off_table(
    content: bytes, shared: Mapping[str, Any], edition: Edition
) -> TakeOffQuery:
    """Read a table with what its details share; raises TableFaults, or QueryFaults of `shared`."""
    made = read_table(content, edition)
    if not made.details:
        raise TableFaults(made.faults)
    try:
        query = read_take_off({**shared, "details": made.details}, edition)
    except QueryFaults as error:
        raise TableFaults(made.retell(error.faults)) from None
    if made.faults:
        raise TableFaults(sorted(set(made.faults)))
    return query


def read_table(content: bytes, edition: Edition) -> DetailTable:
    """Read a table of details. What can't be read at all is in its faults, each by its cell."""
    made = DetailTable()
    text = _text(content, made.faults)
    if text is None:
        return made
    try:
        rows = list(csv.reader(StringIO(text, newline=""), delimiter=_separator(text), strict=True))
    except csv.Error as error:
        wrong = say("table-unreadable", why=str(error))
        made.faults.append(CellFault(0, "", wrong))
        return made
    heading = next((n for n, row in enumerate(rows) if any(cell.strip() for cell in row)), None)
    if heading is None:
        made.faults.append(CellFault(0, "", say("table-empty")))
        return made
    names = _heading(rows[heading], heading + 1, edition, made.faults)
    if names is None:
        return made
    reader = _Reader(names, edition, made)
    for number, row in enumerate(rows[heading + 1 :], heading + 2):
        if any(cell.strip() for cell in row):
            reader.row(number, row)
    if not made.details and not made.faults:
        made.faults.append(CellFault(0, "", say("table-no-rows")))
    return made


def _text(content: bytes, faults: list[CellFault]) -> str | None:
    if len(content) > MAX_BYTES:
        faults.append(CellFault(0, "", say("table-too-large", most=f"{MAX_BYTES // 1024:,}")))
        return None
    if content.startswith((BOM_UTF16_LE, BOM_UTF16_BE)):
        faults.append(CellFault(0, "", say("table-utf16")))
        return None
    body = content.removeprefix(BOM_UTF8)
    try:
        text = body.decode("utf-8")
    except UnicodeDecodeError as error:
        before = body[: error.start].decode("utf-8")
        row = before.count("\n") + 1
        line = before.rpartition("\n")[2]
        column = line.count(_separator(before or ",")) + 1
        wrong = say("table-not-utf8", byte=f"{body[error.start]:#04x}")
        faults.append(CellFault(row, f"column {column}", wrong))
        return None
    if "\0" in text:
        row = text[: text.index("\0")].count("\n") + 1
        faults.append(CellFault(row, "", say("table-nul")))
        return None
    return text


def _separator(text: str) -> str:
    """Return what the heading is parted by: a spreadsheet with decimal commas writes semicolons."""
    first = next((line for line in text.splitlines() if line.strip()), "")
    return max(_SEPARATORS, key=first.count)


def _name(cell: str) -> str:
    return re.sub(r"[\s_-]+", "-", cell.strip().lower())


def _heading(
    cells: list[str], row: int, edition: Edition, faults: list[CellFault]
) -> list[str] | None:
    """Return the names of the columns; None where nothing below could be told by them."""
    if len(cells) > MAX_COLUMNS:
        faults.append(
            CellFault(row, "", say("columns-most", many=str(len(cells)), most=str(MAX_COLUMNS)))
        )
        return None
    known = [*OWN, *columns_of(edition), *SHAPES, *STANDARD]
    names: list[str] = []
    for number, cell in enumerate(cells, 1):
        name = _name(cell)
        shape = _NUMBERED.fullmatch(name)
        if not name:
            pass
        elif name not in known and shape is None:
            faults.append(
                CellFault(
                    row,
                    f"column {number}",
                    say("unknown-column", word=cell.strip()[:40], nearest=nearest(name, known)),
                )
            )
        elif name in names:
            faults.append(CellFault(row, f"column {number}", say("column-twice", name=name)))
        names.append(name)
    faults += [
        CellFault(row, name, say("column-missing"))
        for name in ("id", "detail")
        if name not in names
    ]
    return names if not faults else None


class _Reader:
    """Makes one detail of each row."""

    def __init__(self, names: list[str], edition: Edition, made: DetailTable) -> None:
        self.names, self.made = names, made
        self.inputs = columns_of(edition)
        sizes = {item.record.id: item for item in inputs(edition) if item.part is None}
        self.sizes = sizes
        self.parts = {item.part: item for item in inputs(edition) if item.part is not None}

    def fault(self, row: int, column: str, detail: str) -> None:
        self.made.faults.append(CellFault(row, column, detail))

    def row(self, number: int, cells: list[str]) -> None:
        made = self.made
        self.at = pointer("details", len(made.details))
        self.number = number
        self.body: dict[str, Any] = {}
        made.cells[self.at] = (number, "")
        made.rows.append(number)
        for place, cell in enumerate(cells):
            value = cell.replace("\u00a0", " ").strip()
            name = self.names[place] if place < len(self.names) else ""
            if not value:
                continue
            if not name:
                told = say("cell-without-column", text=value[:40])
                self.fault(number, f"column {place + 1}", told)
            elif len(value) > MAX_CELL:
                told = say("cell-too-long", length=f"{len(value):,}", most=str(MAX_CELL))
                self.fault(number, name, told)
            else:
                self.cell(name, value)
        self.whole_shape()
        made.details.append(self.body)

    def cell(self, name: str, value: str) -> None:
        shape = _NUMBERED.fullmatch(name)
        if shape is not None:
            self.shape(name, f"{shape[1]}s", value)
        elif name in OWN:
            self.put((name,), _whole(value) if name == "count" else value, name)
        elif name in STANDARD:
            self.made.cells[f"{self.at}/{name}"] = (self.number, name)
            self.body[name] = value
        else:
            self.input(name, value)

    def put(self, place: tuple[str, ...], value: Any, name: str) -> None:
        at: dict[str, Any] = self.body
        for step in place[:-1]:
            at = at.setdefault(step, {})
        at[place[-1]] = value
        self.made.cells[self.at + pointer(*place)] = (self.number, name)

    def input(self, name: str, value: str) -> None:
        item = self.inputs[name]
        part = self.parts.get(name)
        # riser, sill and back are a size and a part: sizes begin with a number
        if part is not None and not value.lstrip("-.")[:1].isdigit():
            item = part
        elif part is not None and name in self.sizes:
            item = self.sizes[name]
        if item.part is not None:
            rows = self.body.setdefault("surfaces", [])
            self.made.cells[f"{self.at}/surfaces/{len(rows)}"] = (self.number, name)
            rows.append({"part": item.part, "substrate": value})
        elif item.reads == "whole":
            self.put(item.place, _whole(value), name)
        elif item.reads == "flag":
            flag = _FLAGS.get(value.lower())
            if flag is None:
                self.fault(self.number, name, say("cell-not-a-flag", _FLAGS, text=value[:40]))
            else:
                self.put(item.place, flag, name)
        else:
            self.put(item.place, value, name)

    def shape(self, name: str, listed: str, value: str) -> None:
        read: Callable[[str], Mapping[str, Any]] = (
            read_member if listed == "members" else read_plate
        )
        rows = self.body.setdefault(listed, [])
        self.made.cells.setdefault(f"{self.at}/{listed}", (self.number, name))
        self.made.cells[f"{self.at}/{listed}/{len(rows)}"] = (self.number, name)
        try:
            rows.append(dict(read(value)))
        except TextFault as fault:
            rows.append({})
            self.fault(self.number, name, fault.message)

    def whole_shape(self) -> None:
        """Make a member of the columns designation and substrate; a lone substrate completes."""
        given = {name: self.body.pop(name) for name in STANDARD if name in self.body}
        if not given:
            return
        members = self.body.setdefault("members", [])
        if "designation" in given:
            self.made.cells[f"{self.at}/members/{len(members)}"] = (self.number, "designation")
            if "substrate" in given:
                place = f"{self.at}/members/{len(members)}/substrate"
                self.made.cells[place] = (self.number, "substrate")
            members.append(given)
            return
        for index, member in enumerate(members):
            if "substrate" not in member:
                member["substrate"] = given["substrate"]
                self.made.cells[f"{self.at}/members/{index}/substrate"] = (self.number, "substrate")
        if not members:
            self.fault(self.number, "substrate", say("material-alone"))


def _whole(value: str) -> object:
    return int(value) if re.fullmatch(r"\d{1,9}", value, re.ASCII) else value
