"""The page of a smaller door: its rows in brief, then what they were computed from."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Mapping
from typing import Any, Final

import click

from upstand.document.brief import Row
from upstand.edition import Edition
from upstand_api.cli.labels import Labels
from upstand_api.cli.paper import Paper, Screen

__all__ = ["echo_page"]

HANG: Final = 2
COLORS: Final = {"go": "green", "plan": "cyan", "hold": "red", "ask": "yellow"}


def echo_page(document: Mapping[str, Any], rows: Iterable[Row], edition: Edition) -> None:
    """Print the rows; a row `verdict-…` stands out."""
    screen = Screen.here(sys.stdout)
    paper, labels = Paper(screen), Labels(edition, document["lang"])
    for row in rows:
        kind, _, state = row.id.partition("-")
        if kind == "verdict":
            paper.hung(row.text, f">>> {row.label}: ", HANG, bold=True, fg=COLORS[state])
        else:
            paper.hung(row.text, f"{row.label}: " if row.label else "", HANG, bold=True)
    stamp = [f"{labels.term('edition')} {document['edition']}"]
    if document["overlay"]:
        stamp.append(f"{labels.term('overlay')} {document['overlay']}")
    stamp.append(f"upstand {document['software']}")
    paper.para(" ".join([*document["notices"], " · ".join(stamp)]), 0, "* ")
    click.echo(paper.text(), nl=False, color=screen.colour)
