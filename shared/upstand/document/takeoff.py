"""A take-off as a document: what to order for the whole, and what each detail takes of it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from upstand.document.cutlist import write_plan
from upstand.document.parts import (
    write_amount,
    write_assumed,
    write_head,
    write_reason,
    write_record,
)
from upstand.document.sentences import safe_style, say_time
from upstand.document.shelf import shelf_of
from upstand.quantity.shown import Speech
from upstand.quantity.traced import Traced
from upstand.quantity.units import System
from upstand.stages.needs import Need
from upstand.takeoff import Bought, Share, TakeOff
from upstand.words.fill import Words

__all__ = ["write"]


def write(
    found: TakeOff,
    lang: str | None = None,
    units: System | None = None,
    *,
    no_break: bool = False,
) -> dict[str, Any]:
    """Write the take-off down, in the language and units it was asked in where none are named."""
    query = found.query
    words = Words(lang or query.lang, Speech(units or query.units or "us", no_break))
    apart = [share for share in found.shares if not share.ordered]
    return {
        **write_head(found.edition, found.software, words, found.query),
        "units": words.speech.system,
        "lang": words.lang,
        "count": sum(share.asked.count for share in found.shares),
        "assumed": _assumed(found, words),
        "totals": {
            "materials": [_bought(each, found, words) for each in found.bought],
            "minutes": _minutes(found.minutes, words),
            "visits": _visits(found, words),
        },
        "apart": {
            "details": [share.asked.id for share in apart],
            "materials": [_need(need, words) for need in found.apart],
            "notes": [
                words.say(
                    "takeoff-apart",
                    id=share.asked.id,
                    state=words.say(f"state-{share.one.state}"),
                )
                for share in apart
            ],
        },
        "details": [_share(share, words) for share in found.shares],
        "tools": _tools(found, words),
        "cutting": None if found.cutting is None else write_plan(found.cutting, words),
        "cutting_why": words.say("takeoff-not-nested", pieces=f"{found.pieces:,}")
        if found.cutting is None and found.pieces
        else None,
    }


def _assumed(found: TakeOff, words: Words) -> list[dict[str, Any]]:
    """Write each default that was filled in once, with the lines that it was taken for.

    How many there are of a line stands in the line.
    """
    said: dict[int, list[dict[str, Any]]] = {}
    lines: dict[tuple[str, str], list[str]] = {}
    for share in found.shares:
        if id(share.one) not in said:
            said[id(share.one)] = write_assumed(share.one.assumptions, words)
        for row in said[id(share.one)]:
            if row["pointer"] != "/count":
                lines.setdefault((row["pointer"], row["text"]), []).append(share.asked.id)
    return [{"pointer": p, "text": t, "details": ids} for (p, t), ids in lines.items()]


def _need(need: Need, words: Words) -> dict[str, Any]:
    return {
        "id": need.record.id,
        "kind": need.kind,
        "name": words.name(need.record),
        "need": write_amount(need.amount, words),
    }


def _packs(packs: tuple[tuple[str, int], ...], found: TakeOff, words: Words) -> list[Any]:
    return [
        {
            "pack": pack,
            "name": words.name(found.edition.record(f"packs/{pack}")),
            "count": count,
        }
        for pack, count in packs
        if found.edition.has(f"packs/{pack}")
    ]


def _bought(each: Bought, found: TakeOff, words: Words) -> dict[str, Any]:
    mixes = None if each.mixes is None or each.mixes.number is None else each.mixes.number
    workers = "two" if (found.query.crew or 1) > 1 else "one"
    return {
        **_need(each.need, words),
        "with_allowance": write_amount(each.supply.with_allowance, words),
        "packs": _packs(each.supply.packs, found, words),
        "in_stock": _packs(each.in_stock, found, words),
        "to_buy": _packs(each.to_buy, found, words),
        "leftover": write_amount(each.supply.leftover, words),
        "mixes": None if mixes is None else int(mixes.value),
        "mixes_text": None
        if mixes is None
        else words.say(
            "takeoff-mixes",
            mixes=f"{mixes.value:,.0f}",
            workers=words.say(f"takeoff-{workers}-worker{'s' if workers == 'two' else ''}"),
        ),
        "keeps": words.say("takeoff-keeps" if each.keeps else "takeoff-keeps-not")
        if each.need.kind in ("resin", "primer")
        else None,
    }


def _minutes(minutes: Mapping[str, Traced], words: Words) -> list[dict[str, Any]]:
    return [
        {"activity": activity, "minutes": words.speech.json(spent)}
        for activity, spent in minutes.items()
    ]


def _visits(found: TakeOff, words: Words) -> dict[str, Any]:
    if found.visits is None:
        return {"at_least": None, "text": words.say("takeoff-visits-none")}
    crew, days = found.query.crew or 1, int(found.visits.value)
    text = words.say(
        "takeoff-visits",
        days=words.say("takeoff-one-day" if days == 1 else "takeoff-days", days=f"{days:,}"),
        workers=words.say("takeoff-one-of-crew" if crew == 1 else "takeoff-crew", crew=f"{crew}"),
    )
    return {"at_least": days, "text": text}


def _share(share: Share, words: Words) -> dict[str, Any]:
    one, json = share.one, words.speech.json
    by_kind: dict[str, list[dict[str, Any]]] = {}
    for need in share.needs:
        by_kind.setdefault(need.kind, []).append(_need(need, words))
    return {
        "id": share.asked.id,
        "detail": write_record(one.detail, words),
        "count": share.asked.count,
        "state": one.state,
        "in_total": share.ordered,
        "reasons": [write_reason(reason, words) for reason in one.reasons],
        # of one; what follows is for the count
        "area": json(one.area),
        "zone": None if one.zone is None else json(one.zone),
        "materials": [row for rows in by_kind.values() for row in rows],
        "mixes": {id: number * share.asked.count for id, number in one.mixes.items()},
        "minutes": _minutes(share.minutes, words),
        "waits": _waits(share, words),
        "pieces": [
            {
                "letter": piece.letter,
                "kind": piece.kind,
                "width": json(piece.width, "up-quarter"),
                "length": json(piece.length, "up-quarter"),
                "count": piece.count * share.asked.count,
            }
            for piece in one.pieces
        ],
    }


def _waits(share: Share, words: Words) -> list[dict[str, Any]]:
    """Write what nobody works through: primers till they are dry, the resin till it is tight."""
    return [
        {
            "id": time.id,
            "product": words.name(time.product),
            "low": words.speech.json(time.low, safe_style(time)),
            "high": words.speech.json(time.high, safe_style(time)),
            "text": say_time(time, words),
        }
        for time in share.one.waits
    ]


def _tools(found: TakeOff, words: Words) -> list[dict[str, Any]]:
    """Tools and consumables once for the crew, whichever detail calls for them."""
    shelf = shelf_of(found.edition, words.lang)
    tools = {tool.path: tool for s in found.shares if s.ordered for tool in s.one.tools}
    return [shelf.tool(tool) for tool in tools.values()]
