"""The answer in brief: verdict, dangers and what decides the day, on one screen."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any, Final

from upstand.document.brief import LOOSE, TIGHTEST, Row, write_brief
from upstand_api.cli.answer_page.start import COLOURS
from upstand_api.cli.labels import Labels
from upstand_api.cli.paper import WIDEST, Paper

HANG: Final = 2
#: A screen, as a call needs it: so many lines, each so wide.
MOST_LINES, USUAL = 40, 80
ON_TOP: Final = ("verdict", "reason", "hazards")
"""Rows that stand above every part of an answer."""


def show_brief(paper: Paper, document: Mapping[str, Any], labels: Labels) -> None:
    """Show every row, then what the answer was computed from and how to see more of it.

    Rows are written as loosely as a screen of usual width has room for.
    """
    for tight in range(LOOSE, TIGHTEST + 1):
        measured = Paper(replace(paper.screen, width=min(max(paper.screen.width, USUAL), WIDEST)))
        measured.lines = list(paper.lines)
        _brief(measured, document, labels, tight)
        if len(measured.lines) <= MOST_LINES:
            break
    _brief(paper, document, labels, tight)


def _brief(paper: Paper, document: Mapping[str, Any], labels: Labels, tight: int) -> None:
    _head(paper, document)
    for row in write_brief(document, tight):
        _row(paper, row, document)
    _foot(paper, document, labels)
    paper.para(labels.say("brief-hint"))


def show_top(paper: Paper, document: Mapping[str, Any], labels: Labels) -> None:
    """Show verdict, reasons and dangers, which go before any part."""
    _head(paper, document)
    for row in write_brief(document):
        if row.id in ON_TOP:
            _row(paper, row, document)
    _foot(paper, document, labels)


def _head(paper: Paper, document: Mapping[str, Any]) -> None:
    count = document["totals"]["count"]
    names = [document[thing]["name"] for thing in ("detail", "roof")]
    paper.para((f"{count} × " if count > 1 else "") + " · ".join(names), bold=True)


def _row(paper: Paper, row: Row, document: Mapping[str, Any]) -> None:
    colour: dict[str, str] = {}
    lead = f"{row.label}: "
    if row.id == "verdict":
        colour, lead = {"fg": COLOURS[document["verdict"]["state"]]}, f">>> {lead}"
    elif row.id == "hazards":
        colour = {"fg": "red"}
    paper.hung(row.text, lead, HANG, bold=True, **colour)


def _foot(paper: Paper, document: Mapping[str, Any], labels: Labels) -> None:
    stamp = [f"{labels.term('edition')} {document['edition']}"]
    if document["overlay"]:
        stamp.append(f"{labels.term('overlay')} {document['overlay']}")
    stamp.append(f"upstand {document['software']}")
    paper.para(" ".join([*document["notices"], " · ".join(stamp)]), 0, "* ")
