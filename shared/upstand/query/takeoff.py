"""The question `takeoff`: many details, what they share said once, and what is in stock."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from upstand.edition import Edition
from upstand.query.cutlist import NAME
from upstand.query.faults import Fault, QueryFaults, pointer
from upstand.query.model import Language, Query, System
from upstand.query.requirements import read_requirements

__all__ = ["Asked", "TakeOffQuery", "read_take_off"]

MAX_DETAILS = 500
MAX_COUNT = 500
SHARED = ("roof", "resin", "fleece", "crew", "now", "units", "lang")
KNOWN = (*SHARED, "details", "stock", "edition", "overlay")
EXAMPLE = '{"id": "post-1", "detail": "post", "roof": "tpo", "members": [{…}]}'


@dataclass(frozen=True, slots=True)
class Asked:
    """One detail of the list; `query` is shared by all that are alike."""

    id: str
    count: int
    query: Query


@dataclass(frozen=True, slots=True)
class TakeOffQuery:
    """Details in the order in which they were given; `stock` is pack -> how many are there."""

    details: tuple[Asked, ...]
    stock: Mapping[str, int]
    crew: int | None = None
    units: System | None = None
    lang: Language = "en"


def read_take_off(body: object, edition: Edition, most: int | None = MAX_DETAILS) -> TakeOffQuery:
    """Read a list of details.

    Details that are alike are read once. `most` None takes any number, for lists that do not come
    from outside. Raises QueryFaults: everything wrong with any of them, each with its JSON pointer.
    """
    if not isinstance(body, Mapping):
        raise QueryFaults([Fault("", f'is not an object: write {{"details": [{EXAMPLE}]}}')])
    rows = body.get("details")
    if not isinstance(rows, list | tuple) or not rows:
        raise QueryFaults([Fault("/details", f"is no list of details: write [{EXAMPLE}]")])
    if most is not None and len(rows) > most:
        raise QueryFaults([Fault("/details", f"has {len(rows):,} details: the most is {most}")])
    faults = [
        Fault(pointer(name), f"is not a field here. Known: {', '.join(sorted(KNOWN))}")
        for name in body
        if name not in KNOWN
    ]
    shared = {name: body[name] for name in SHARED if name in body}
    faults += _shared_faults(shared, rows[0], edition)
    read: dict[str, Query | QueryFaults] = {}
    first: dict[str, int] = {}
    details = []
    for index, row in enumerate(rows):
        where = pointer("details", index)
        if not isinstance(row, Mapping):
            faults.append(Fault(where, f"is not a detail: write {EXAMPLE}"))
            continue
        name, count = row.get("id"), row.get("count", 1)
        faults += _own_faults(where, name, count, first, index)
        asked = {**shared, **{k: v for k, v in row.items() if k not in ("id", "count")}}
        query = _read_once(asked, read, edition)
        if isinstance(query, QueryFaults):
            faults += [Fault(where + fault.pointer, fault.detail) for fault in query.faults]
        elif isinstance(name, str) and isinstance(count, int):
            details.append(Asked(name, count, query))
    stock = _stock(body.get("stock"), edition, faults)
    if faults:
        raise QueryFaults(faults)
    return TakeOffQuery(
        tuple(details), stock, body.get("crew"), body.get("units"), body.get("lang", "en")
    )


def _shared_faults(shared: Mapping[str, Any], row: object, edition: Edition) -> list[Fault]:
    """Find what is wrong with what is shared, also where every detail says its own."""
    if not shared or not isinstance(row, Mapping):
        return []
    own = {name: value for name, value in row.items() if name not in ("id", "count")}
    try:
        read_requirements({**own, **shared}, edition)
    except QueryFaults as error:
        return [
            fault
            for fault in error.faults
            if fault.pointer.partition("/")[2].partition("/")[0] in shared
        ]
    return []


def _own_faults(
    where: str, name: object, count: object, first: dict[str, int], index: int
) -> list[Fault]:
    faults = []
    if not isinstance(name, str) or not NAME.fullmatch(name) or name.startswith("-"):
        faults.append(
            Fault(
                f"{where}/id",
                "is not a name: write 1 to 64 of A-Z, a-z, 0-9, space, point, _ and -, "
                "not beginning with - or a space",
            )
        )
    elif name in first:
        faults.append(Fault(f"{where}/id", f"stands twice: detail {first[name]} has it too"))
    else:
        first[name] = index
    if isinstance(count, bool) or not isinstance(count, int) or not 1 <= count <= MAX_COUNT:
        faults.append(
            Fault(f"{where}/count", f"is no count: write a whole number from 1 to {MAX_COUNT}")
        )
    return faults


def _read_once(
    asked: Mapping[str, Any], read: dict[str, Query | QueryFaults], edition: Edition
) -> Query | QueryFaults:
    try:
        key = json.dumps(asked, sort_keys=True)
    except (TypeError, ValueError):
        key = repr(asked)
    if key not in read:
        try:
            read[key] = read_requirements(dict(asked), edition)
        except QueryFaults as error:
            read[key] = error
    return read[key]


def _stock(given: object, edition: Edition, faults: list[Fault]) -> dict[str, int]:
    if given is None:
        return {}
    if not isinstance(given, list | tuple) or len(given) > 100:
        say = 'is no list of packs: write at most 100 of [{"pack": "pu-2k-1-qt", "count": 4}]'
        faults.append(Fault("/stock", say))
        return {}
    packs = edition.kind("packs")
    found: dict[str, int] = {}
    for index, row in enumerate(given):
        where = pointer("stock", index)
        held = row if isinstance(row, Mapping) else {}
        pack, count = held.get("pack"), held.get("count", 1)
        if not isinstance(pack, str) or pack not in packs:
            known = ", ".join(sorted(packs))
            faults.append(Fault(f"{where}/pack", f"is not a known pack. Known: {known}"))
        elif isinstance(count, bool) or not isinstance(count, int) or not 1 <= count <= 10_000:
            faults.append(
                Fault(f"{where}/count", "is no count: write a whole number from 1 to 10,000")
            )
        elif set(held) - {"pack", "count"}:
            faults.append(Fault(where, "has more than pack and count: leave the rest out"))
        else:
            found[pack] = found.get(pack, 0) + count
    return found
