"""A take-off on a terminal: what to order first, then who takes it, the work and the cuts."""

from __future__ import annotations

from typing import Any

from upstand.document.takeoff import write
from upstand.quantity.shown import Speech
from upstand.takeoff import TakeOff
from upstand.words.fill import Words
from upstand_api.cli.paper import Paper, Screen

__all__ = ["page"]


def page(found: TakeOff, screen: Screen) -> str:
    """Write the page in the language and units that were asked for."""
    words = Words(found.query.lang, Speech(found.query.units or "us", no_break=True))
    document, paper = write(found, no_break=True), Paper(screen)
    say = words.say
    paper.para(say("sheet-from", edition=str(document["edition"]), count=str(document["count"])))
    if document["totals"]["materials"]:
        paper.heading(say("sheet-order"))
        for material in document["totals"]["materials"]:
            _material(material, paper, words)
    _apart(document, paper, words)
    ordered = [row for row in document["details"] if row["in_total"]]
    if ordered:
        paper.heading(say("sheet-details"))
        for row in ordered:
            _share(row, paper, words)
        _work(document, found, paper, words)
    cutting = document["cutting"]
    if cutting or document["cutting_why"]:
        paper.heading(say("cutting-title"))
        for number, line in enumerate(cutting["order"] if cutting else [], 1):
            paper.para(line, 2, f"{number}. ")
        if not cutting:
            paper.para(document["cutting_why"])
    return paper.text()


def _share(row: dict[str, Any], paper: Paper, words: Words) -> None:
    needs = "; ".join(f"{m['name']} {_amount(m, words)}" for m in row["materials"])
    state = words.say(f"state-{row['state']}")
    said = f"{row['detail']['name']}, {state}. {needs}"
    paper.para(said, 2, f"{row['count']} × {row['id']}: ")


def _work(document: dict[str, Any], found: TakeOff, paper: Paper, words: Words) -> None:
    paper.heading(words.say("sheet-work"))
    paper.para(document["totals"]["visits"]["text"])
    paper.para(words.say("sheet-minutes-note"))
    names = found.edition.kind("activities")
    paper.table(
        (words.say("column-activity"), words.say("column-minutes")),
        [
            (words.name(names[row["activity"]]), row["minutes"]["text"])
            for row in document["totals"]["minutes"]
        ],
    )


def _amount(material: dict[str, Any], words: Words) -> str:
    return str(material["need"]["text"]) if material["need"] else words.say("sheet-unknown")


def _material(material: dict[str, Any], paper: Paper, words: Words) -> None:
    paper.para(_amount(material, words), 2, f"{material['name']}: ", bold=True)
    held = {pack["pack"]: pack["count"] for pack in material["in_stock"]}
    for pack in material["packs"]:
        there = held.get(pack["pack"], 0)
        stock = f" ({pack['count']} − {there} {words.say('column-stock')})" if there else ""
        paper.para(f"{pack['count'] - there} × {pack['name']}{stock}", 4, "- ")
    for more in (material["mixes_text"], material["keeps"]):
        if more:
            paper.para(more, 6)


def _apart(document: dict[str, Any], paper: Paper, words: Words) -> None:
    rows = [row for row in document["details"] if not row["in_total"]]
    if not rows:
        return
    paper.heading(words.say("sheet-apart"))
    for row in rows:
        state = words.say(f"state-{row['state']}")
        waits = [r for r in row["reasons"] if r["state"] in ("ask", "hold")]
        said = " ".join(f"{reason['text']} {reason['clears']}" for reason in waits)
        paper.para(f"{state}. {said}", 2, f"{row['count']} × {row['id']}: ")
    for material in document["apart"]["materials"]:
        paper.para(_amount(material, words), 4, f"- {material['name']}: ")
