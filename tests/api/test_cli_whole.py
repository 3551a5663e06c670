"""Every text of an answer stands on the terminal's whole page."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import pytest

from upstand.answer import answer
from upstand.document.requirements import write
from upstand.edition import Edition
from upstand.query import read_requirements
from upstand_api.cli.answer_page import show
from upstand_api.cli.paper import Screen

FAIR = {
    "air": "72 degF", "surface": "75 degF", "material": "70 degF", "humidity": "45 %",
    "wind": "5 mph", "rain_chance": "0 %", "wet": False,
}  # fmt: skip
PIPE = {"section": "pipe", "nps": "4", "substrate": "carbon-steel"}
TUBE = {"section": "tube", "width": "4 in", "depth": "4 in", "thickness": "1/4 in"}
ASKED: dict[str, dict[str, Any]] = {
    "pipe with methacrylate": {"detail": "pipe", "members": [PIPE], "resin": "pmma"},
    "three of them": {"detail": "pipe", "members": [PIPE], "count": 3},
    "support": {"detail": "support", "members": [{**TUBE, "substrate": "galvanized-steel"}]},
    "wall": {"detail": "wall-base", "surfaces": [{"part": "wall", "substrate": "brick"}]},
    "drain": {"detail": "drain", "surfaces": [{"part": "bowl", "substrate": "cast-iron"}]},
    "threshold": {"detail": "threshold"},
    "crack": {"detail": "crack", "surfaces": [{"part": "ground", "substrate": "concrete"}]},
    "lead": {"detail": "pipe", "members": [{**PIPE, "substrate": "lead"}]},
    "asbestos": {"detail": "pipe", "members": [{**PIPE, "substrate": "asbestos-cement"}]},
    "no weather": {"detail": "cable", "members": [PIPE], "now": {}},
}

#: Keys whose text names a record, a place or a state for software; a crew reads its name or label.
FOR_SOFTWARE = frozenset(
    {
        "id", "kind", "substrate", "orientation", "primer", "activity", "state", "severity", "sort",
        "stage", "by", "grade", "source", "locator", "pointer", "because", "surface", "surfaces",
        "tools", "pack", "edition", "overlay", "software", "units", "lang", "unit", "grades",
        "from", "formula", "where", "origin", "cautions",
    }
)  # fmt: skip


def texts(node: Any, path: str = "") -> Iterator[tuple[str, str]]:
    """Yield every text of a document that is for people, with its place."""
    if isinstance(node, str):
        if node:
            yield path, node
    elif isinstance(node, dict):
        for key, part in node.items():
            listed = part if isinstance(part, list) else [part]
            ids = key in FOR_SOFTWARE and all(isinstance(each, str) for each in listed)
            argument = key == "name" and "label" in node  # of a formula: its label says it
            if not (ids or argument):
                yield from texts(part, f"{path}/{key}")
    elif isinstance(node, list):
        for number, part in enumerate(node):
            yield from texts(part, f"{path}/{number}")


def one_line(text: str) -> str:
    """Put a page on one line, so that wrapped paragraphs are found."""
    return re.sub(r"\s+", " ", text.replace("\u00a0", " "))


@pytest.mark.parametrize("lang", ["en", "es"])
@pytest.mark.parametrize("asked", ASKED.values(), ids=ASKED.keys())
def test_every_text_of_an_answer_stands_on_the_page(
    edition: Edition, asked: dict[str, Any], lang: str
) -> None:
    body = {"roof": "tpo", "now": FAIR, "lang": lang, **asked}
    document = write(answer(read_requirements(body, edition), edition), no_break=True)
    for software in ("question", "digest", "overlay_digest"):  # the page repeats what was typed
        del document[software]
    page = one_line(show(document, body, edition, Screen(), ("all", "working"))).casefold()
    told = list(texts(document))
    assert len(told) > 20
    missing = [f"{path}: {text}" for path, text in told if one_line(text).casefold() not in page]
    assert not missing, "\n".join(missing)
