"""A take-off as tables for a spreadsheet: what each detail takes, and what to order.

One number a cell, its unit in the heading. What waits for somebody's word has columns of its own,
so that the sum of a column is the total. No text can run as a formula.
"""

from __future__ import annotations

import csv
from codecs import BOM_UTF8
from collections.abc import Iterable, Mapping, Sequence
from io import StringIO
from typing import Any

from upstand.document.takeoff import write
from upstand.quantity.shown import Speech
from upstand.quantity.units import System
from upstand.takeoff import TakeOff
from upstand.words.fill import Words

__all__ = ["write_details", "write_order"]

Cell = str | int | float | None
#: A spreadsheet takes what begins so for a formula, or drops it and looks at what follows.
FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n")


def write_details(found: TakeOff, lang: str | None = None, units: System | None = None) -> bytes:
    """Write a row for each detail, as CSV in UTF-8."""
    document, words = write(found, lang, units), _words(found, lang, units)
    details = document["details"]
    columns: list[tuple[str, list[Cell]]] = [
        (words.say("column-id"), [row["id"] for row in details]),
        (words.say("column-detail"), [row["detail"]["name"] for row in details]),
        (words.say("column-count"), [row["count"] for row in details]),
        (words.say("column-state"), [words.say(f"state-{row['state']}") for row in details]),
        _measured(words.say("column-area"), [row["area"] for row in details]),
        _measured(words.say("column-zone"), [row["zone"] for row in details]),
    ]
    names = {m["id"]: m["name"] for row in details for m in row["materials"]}
    for in_total in (True, False):
        for id, name in names.items():
            needs = [_need(row, id) if row["in_total"] == in_total else None for row in details]
            if any(needs):
                heading = name if in_total else words.say("column-apart", name=name)
                columns.append(_measured(heading, needs))
    mixed = dict.fromkeys(id for row in details if row["in_total"] for id in row["mixes"])
    for id in mixed:
        counted = [row["mixes"].get(id) if row["in_total"] else None for row in details]
        columns.append((words.say("column-mixes", name=names[id]), counted))
    spent = [
        sum(m["minutes"]["value"] for m in row["minutes"]) if row["in_total"] else None
        for row in details
    ]
    columns.append((f"{words.say('column-minutes')} [min]", list(spent)))
    columns.append((words.say("column-why"), [_why(row) for row in details]))
    return _csv([[heading for heading, _ in columns], *zip(*(c for _, c in columns), strict=True)])


def write_order(found: TakeOff, lang: str | None = None, units: System | None = None) -> bytes:
    """Write a row for each pack to have, as CSV in UTF-8; a need stands beside its first pack."""
    document, words = write(found, lang, units), _words(found, lang, units)
    materials = document["totals"]["materials"]
    used = dict.fromkeys(m[kind]["unit"] for m in materials for kind in NEEDS if m[kind])
    heading = [
        words.say("column-material"),
        *(f"{words.say(say)} [{_unit(u)}]" for say in NEEDS.values() for u in used),
        *(words.say(f"column-{name}") for name in ("pack", "packs", "stock", "buy")),
        words.say("column-mixes-least"),
        words.say("column-keeps"),
    ]
    rows: list[Sequence[Cell]] = [heading]
    for material in materials:
        needs = [
            _number(material[kind]) if material[kind] and material[kind]["unit"] == unit else None
            for kind in NEEDS
            for unit in used
        ]
        held = {pack["pack"]: pack["count"] for pack in material["in_stock"]}
        buy = {pack["pack"]: pack["count"] for pack in material["to_buy"]}
        for number, pack in enumerate(material["packs"] or [{}]):
            id, first = pack.get("pack"), number == 0
            counts = (pack["count"], held.get(id, 0), buy.get(id, 0)) if id else (None,) * 3
            rows.append(
                [
                    material["name"],
                    *(needs if first else [None] * len(needs)),
                    pack.get("name"),
                    *counts,
                    material["mixes"] if first else None,
                    material["keeps"] if first else None,
                ]
            )
    return _csv(rows)


#: The two amounts of a material, and what their columns are called.
NEEDS: Mapping[str, str] = {"need": "column-need", "with_allowance": "column-allowed"}


def _words(found: TakeOff, lang: str | None, units: System | None) -> Words:
    return Words(lang or found.query.lang, Speech(units or found.query.units or "us"))


def _need(row: Mapping[str, Any], id: str) -> Mapping[str, Any] | None:
    return next((m["need"] for m in row["materials"] if m["id"] == id), None)


def _why(row: Mapping[str, Any]) -> str | None:
    if row["in_total"]:
        return None
    waits = [reason["text"] for reason in row["reasons"] if reason["state"] in ("ask", "hold")]
    return " ".join(waits) or None


def _unit(unit: str) -> str:
    return unit.replace("^2", "²")


def _number(quantity: Mapping[str, Any] | None) -> float | None:
    return None if quantity is None else round(quantity["value"], 6)


def _measured(name: str, quantities: Sequence[Mapping[str, Any] | None]) -> tuple[str, list[Cell]]:
    """Make a column of one unit: every amount of a material is written in the same."""
    units = {quantity["unit"] for quantity in quantities if quantity is not None}
    unit = f" [{_unit(min(units))}]" if len(units) == 1 else ""
    return f"{name}{unit}", [_number(quantity) for quantity in quantities]


def _csv(rows: Iterable[Sequence[Cell]]) -> bytes:
    held = StringIO(newline="")
    writer = csv.writer(held, lineterminator="\r\n")
    writer.writerows([_cell(cell) for cell in row] for row in rows)
    return BOM_UTF8 + held.getvalue().encode("utf-8")


def _cell(cell: Cell) -> Cell:
    if isinstance(cell, str) and cell.startswith(FORMULA):
        return f"'{cell}"
    return cell
