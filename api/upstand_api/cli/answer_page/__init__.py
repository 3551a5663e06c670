"""An answer's document as a page for the terminal: in brief, in one of its parts, or whole."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import Any, Final

from upstand.edition import Edition
from upstand_api.cli.answer_page.asked import show_asked, show_sizes
from upstand_api.cli.answer_page.brief import show_brief, show_top
from upstand_api.cli.answer_page.material import (
    show_bring,
    show_coats,
    show_cut,
    show_dimensions,
    show_surfaces,
    show_tape,
)
from upstand_api.cli.answer_page.start import (
    show_assumed,
    show_confirm,
    show_dangers,
    show_verdict,
)
from upstand_api.cli.answer_page.work import show_checks, show_since, show_steps, show_times
from upstand_api.cli.answer_page.working import show_grades, show_sources, show_working
from upstand_api.cli.labels import Labels
from upstand_api.cli.paper import Paper, Screen

__all__ = ["PARTS", "show"]

PARTS: Final = {
    "all": "Print all of the answer.",
    "steps": "Print the steps with their hold points and times.",
    "checks": "Print the points to confirm and the checks.",
    "cut": "Print what to cut, and where to tape.",
    "working": "Print where each number comes from, and how.",
}
"""Parts of the page that can be asked for, and what each is."""


def show(
    document: Mapping[str, Any],
    body: Mapping[str, Any],
    edition: Edition,
    screen: Screen,
    parts: Collection[str] = (),
    *,
    invented: bool = False,
) -> str:
    """Return the page of an answer: in brief where no part is asked for.

    `document` is the answer's, `body` the request it answers; `invented` marks an example. Verdict
    and dangers stand on top of every part. Every number on the page is a text of the document.
    """
    paper, labels = Paper(screen), Labels(edition, document["lang"])
    if invented:
        paper.para(labels.say("invented"), bold=True)
    if not parts:
        show_brief(paper, document, labels)
        return paper.text()
    if "all" in parts:
        _show_all(paper, document, body, labels)
    else:
        show_top(paper, document, labels)
        _show_parts(paper, document, labels, parts)
    if "working" in parts:
        show_sources(paper, document, labels)
        show_working(paper, document, labels)
    return paper.text()


def _show_parts(
    paper: Paper, document: Mapping[str, Any], labels: Labels, parts: Collection[str]
) -> None:
    if "cut" in parts:
        show_cut(paper, document, labels)
        show_tape(paper, document, labels)
    if "steps" in parts and document["steps"]:
        show_steps(paper, document, labels)
        show_times(paper, document, labels)
    if "checks" in parts:
        show_confirm(paper, document, labels)
        if document["steps"]:
            show_checks(paper, document, labels)


def _show_all(
    paper: Paper, document: Mapping[str, Any], body: Mapping[str, Any], labels: Labels
) -> None:
    """Show the whole in the order in which a crew needs it."""
    if paper.lines:
        paper.blank()
    show_verdict(paper, document, labels)
    show_since(paper, document, labels)
    show_asked(paper, document, body, labels)
    show_dangers(paper, document, labels)
    show_bring(paper, document, labels)
    show_cut(paper, document, labels)
    show_tape(paper, document, labels)
    show_sizes(paper, document, labels)
    show_dimensions(paper, document, labels)
    show_surfaces(paper, document, labels)
    show_coats(paper, document, labels)
    if document["steps"]:  # where a hazard stops all work, nothing here leads on to it
        show_steps(paper, document, labels)
        show_times(paper, document, labels)
        show_checks(paper, document, labels)
    show_confirm(paper, document, labels)
    show_assumed(paper, document, labels)
    show_grades(paper, document, labels)
