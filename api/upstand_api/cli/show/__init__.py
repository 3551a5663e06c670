"""An answer's document as a page for the terminal, in the order in which a crew needs it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from upstand.edition import Edition
from upstand_api.cli.labels import Labels
from upstand_api.cli.paper import Paper, Screen
from upstand_api.cli.show.asked import show_asked
from upstand_api.cli.show.material import (
    show_bring,
    show_coats,
    show_cut,
    show_dimensions,
    show_surfaces,
    show_tape,
)
from upstand_api.cli.show.start import show_assumed, show_confirm, show_dangers, show_verdict
from upstand_api.cli.show.work import show_checks, show_steps, show_times
from upstand_api.cli.show.working import show_grades, show_sources, show_working

__all__ = ["show"]


def show(
    document: Mapping[str, Any],
    body: Mapping[str, Any],
    edition: Edition,
    screen: Screen,
    *,
    invented: bool = False,
    short: bool = False,
    working: bool = False,
) -> str:
    """Return the page of an answer.

    `document` is the answer's, `body` the request it answers; `invented` marks an example, `short`
    leaves out how each thing is done, and `working` adds where each number comes from. Every number
    on the page is a text of the document.
    """
    paper, labels = Paper(screen), Labels(edition, document["lang"])
    if invented:
        paper.para(labels.say("invented"), bold=True)
        paper.blank()
    show_verdict(paper, document, labels)
    show_asked(paper, document, body, labels)
    show_dangers(paper, document, labels, short=short, rules=working)
    show_bring(paper, document, labels, short=short, working=working)
    show_cut(paper, document, labels)
    show_tape(paper, document, labels)
    show_dimensions(paper, document, labels)
    if not short:
        show_surfaces(paper, document, labels)
        show_coats(paper, document, labels)
    if document["steps"]:  # where a hazard stops all work, nothing here leads on to it
        show_steps(paper, document, labels, short=short)
        show_times(paper, document, labels)
        if not short:
            show_checks(paper, document, labels)
    show_confirm(paper, document, labels, short=short)
    show_assumed(paper, document, labels, short=short)
    show_grades(paper, document, labels)
    if working:
        show_sources(paper, document, labels)
        show_working(paper, document, labels)
    else:
        paper.para(labels.say("working-hint"))
    if short:
        paper.para(labels.say("short-hint"))
    return paper.text()
