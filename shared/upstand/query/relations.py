"""What is wrong between the fields of a question: lists too long, what its detail does not take."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import reduce
from typing import Any

from upstand.edition import Edition
from upstand.edition.applies import Taken, inputs_of
from upstand.query.faults import Fault, pointer
from upstand.query.model import Member
from upstand.query.sizes import MAX_POINTS
from upstand.query.table import CHOICES, LISTS, Input, inputs
from upstand.telling.said import say

__all__ = ["faults", "taken_now", "within_lengths"]

MEMBER = (
    '{"section": "angle", "leg_a": "3 in", "leg_b": "3 in", '
    '"thickness": "1/4 in", "substrate": "carbon-steel"}'
)


def within_lengths(
    body: Mapping[str, Any], most: Mapping[str, int]
) -> tuple[dict[str, Any], list[Fault]]:
    """Return the body without lists that are too long, which are never looked into, and faults."""
    kept, found = dict(body), []
    for name, limit in most.items():
        rows = body.get(name)
        if isinstance(rows, list | tuple) and len(rows) > limit:
            found.append(Fault(pointer(name), say("more-than", most=str(limit), what=name)))
            del kept[name]
    rows = kept.get("members")
    members = rows if isinstance(rows, list | tuple) else ()
    lengths = {
        i: len(row["points"])
        for i, row in enumerate(members)
        if isinstance(row, Mapping) and isinstance(row.get("points"), list | tuple)
    }
    if sum(lengths.values()) > MAX_POINTS:
        long = [i for i, n in lengths.items() if n > MAX_POINTS]
        told = say("more-points", most=str(MAX_POINTS))
        found += [Fault(pointer("members", i, "points"), told) for i in long]
        if not long:
            total = sum(lengths.values())
            told = say("points-together", total=str(total), most=str(MAX_POINTS))
            found.append(Fault("/members", told))
        del kept["members"]
    return kept, found


def taken_now(rows: Sequence[Taken], choices: Mapping[str, Any]) -> Taken | None:
    """Return how a detail takes an input, as the other inputs stand; None where it does not."""
    for row in rows:
        if all(choices.get(name) == value for name, value in row.when.items()):
            return row
    return None


def faults(
    loaded: Mapping[str, Any], members: Sequence[Member], edition: Edition, told: set[str]
) -> list[Fault]:
    """Find what a detail does not take, and what it can't be read without."""
    detail = loaded.get("detail")
    if not isinstance(detail, str) or not edition.records.get("inputs"):
        return []
    taken = inputs_of(edition, detail)
    every = inputs(edition)
    said = {item.name: item.given(loaded) for item in every if item.place[0] in loaded}
    choices = {
        i.name: taken[i.name][0].get("choice") if said.get(i.name) is None else said[i.name]
        for i in every
        if i.reads in CHOICES and i.name in taken
    }
    found = [
        fault
        for item in every
        if item.part is None and item.reads not in LISTS and said.get(item.name) is not None
        for fault in _field(item, taken.get(item.name, ()), choices, detail)
    ]
    if found:
        found = _with_what_it_takes(found, taken, every)
    for name in LISTS:
        given = bool(loaded.get(name)) or any(p.startswith(f"/{name}") for p in told)
        rows = taken.get(name, ())
        if rows and rows[0].measured and not given:
            needed = say("members-needed", [MEMBER], detail=detail, example=MEMBER)
            found.append(Fault(f"/{name}", needed))
        if not rows and loaded.get(name):
            found.append(Fault(f"/{name}", say("detail-has-no", detail=detail, name=name)))
    found += _surfaces(loaded, [i.part for i in every if i.part and i.name in taken], detail)
    found += _sections(members, edition, detail)
    return found


def _with_what_it_takes(
    found: Sequence[Fault], taken: Mapping[str, Sequence[Taken]], every: Sequence[Input]
) -> list[Fault]:
    """Say behind each fault what the detail takes of its own."""
    known = [i.name for i in every if i.name in taken and i.part is None and "now" not in i.place]
    own = [n for n in known if taken[n][0].input.get("taken.0.details")]
    return [
        Fault(f.pointer, say("detail-takes", own, fault=f.detail, own=own)) if own else f
        for f in found
    ]


def _field(
    item: Input, rows: Sequence[Taken], choices: Mapping[str, Any], detail: str
) -> list[Fault]:
    if taken_now(rows, choices) is not None:
        return []
    if not rows:
        return [Fault(item.pointer, say("detail-has-no", detail=detail, name=item.name))]
    terms = (say("name-is", name=n, value=str(value)) for n, value in rows[-1].when.items())
    when = reduce(lambda one, other: say("and-then", one=one, other=other), terms)
    return [Fault(item.pointer, say("only-where", when=when))]


def _surfaces(loaded: Mapping[str, Any], parts: list[str], detail: str) -> list[Fault]:
    surfaces = loaded.get("surfaces") or ()
    if surfaces and not parts:
        return [Fault("/surfaces", say("detail-has-no", detail=detail, name="surfaces"))]
    found = []
    seen: set[str | None] = set()
    for number, surface in enumerate(surfaces):
        part = surface.get("part") if isinstance(surface, Mapping) else None
        where = pointer("surfaces", number, "part")
        if part is not None and part not in parts:
            found.append(
                Fault(where, say("no-such-part", parts, detail=detail, part=part, parts=parts))
            )
        elif part in seen and part is not None:
            found.append(Fault(where, say("part-twice", part=part)))
        seen.add(part)
    return found


def _sections(members: Sequence[Member], edition: Edition, detail: str) -> list[Fault]:
    listed = edition.record(f"details/{detail}").get("sections", ())
    return [
        Fault(
            pointer("members", number, "designation" if member.designation else "section"),
            say("takes-no-section", listed, detail=detail, section=member.section, listed=listed),
        )
        for number, member in enumerate(members)
        if listed and member.section not in listed
    ]
