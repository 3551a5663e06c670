"""The question `takeoff`: many details, what they share said once, and what is in stock."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from upstand.edition import Edition
from upstand.query.cutlist import NAME
from upstand.query.faults import Fault, QueryFaults, nearest, pointer
from upstand.query.model import Language, Query, System
from upstand.query.requirements import read_requirements
from upstand.telling.said import say

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
        example = f'{{"details": [{EXAMPLE}]}}'
        raise QueryFaults([Fault("", say("not-an-object", [example], example=example))])
    rows = body.get("details")
    if not isinstance(rows, list | tuple) or not rows:
        told = say("no-list-of-details", [f"[{EXAMPLE}]"], example=EXAMPLE)
        raise QueryFaults([Fault("/details", told)])
    if most is not None and len(rows) > most:
        told = say("details-most", many=f"{len(rows):,}", most=str(most))
        raise QueryFaults([Fault("/details", told)])
    faults = [
        Fault(pointer(name), say("unknown-field", nearest=nearest(str(name), KNOWN)))
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
            faults.append(Fault(where, say("not-a-detail", [EXAMPLE], example=EXAMPLE)))
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
        faults.append(Fault(f"{where}/id", say("not-a-name")))
    elif name in first:
        faults.append(Fault(f"{where}/id", say("detail-twice", other=str(first[name]))))
    else:
        first[name] = index
    if isinstance(count, bool) or not isinstance(count, int) or not 1 <= count <= MAX_COUNT:
        faults.append(Fault(f"{where}/count", say("not-a-count", most=str(MAX_COUNT))))
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
        faults.append(Fault("/stock", say("no-list-of-packs")))
        return {}
    packs = edition.kind("packs")
    found: dict[str, int] = {}
    for index, row in enumerate(given):
        where = pointer("stock", index)
        held = row if isinstance(row, Mapping) else {}
        pack, count = held.get("pack"), held.get("count", 1)
        if not isinstance(pack, str) or pack not in packs:
            told = say("unknown-pack", sorted(packs), known=sorted(packs))
            faults.append(Fault(f"{where}/pack", told))
        elif isinstance(count, bool) or not isinstance(count, int) or not 1 <= count <= 10_000:
            faults.append(Fault(f"{where}/count", say("not-a-count", most="10,000")))
        elif set(held) - {"pack", "count"}:
            faults.append(Fault(where, say("more-than-pack")))
        else:
            found[pack] = found.get(pack, 0) + count
    return found
