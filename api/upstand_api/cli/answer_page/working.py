"""Where each number comes from: grades, sources, and the formula of every quantity."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from upstand.edition.schema.values import GRADES
from upstand_api.cli.labels import Labels
from upstand_api.cli.paper import Paper

#: The sheet of the product first, which governs.
RANKED: Final = (GRADES[-1], *GRADES[:-1])
FROM_DATA: Final = ("edition", "overlay")


def show_grades(paper: Paper, document: Mapping[str, Any], labels: Labels) -> None:
    """Count the data's values that went into the answer, by how well each is known."""
    grades: dict[str, set[str]] = {}
    for entry in document["workings"]:
        for part in entry["inputs"]:
            origin = part["origin"]
            if origin["kind"] in FROM_DATA:
                grades.setdefault(origin["grade"], set()).add(origin["where"])
    paper.blank()
    counted = [f"{labels.grade(grade)} {len(grades[grade])}" for grade in RANKED if grade in grades]
    if counted:
        paper.para(labels.say("grades", counted="; ".join(counted)))


def show_sources(paper: Paper, document: Mapping[str, Any], labels: Labels) -> None:
    """List the sources with what each was used for."""
    if not document["sources"]:
        return
    paper.heading(labels["sources"])
    for source in document["sources"]:
        year = f", {source['year']}" if source["year"] else ""
        paper.para(f"{source['title']}. {source['issuer']}{year}", 0, "- ")
        grades = "; ".join(labels.grade(grade) for grade in source["grades"])
        paper.para(f"{grades}: {', '.join(source['used_for'])}", 4)


def show_working(paper: Paper, document: Mapping[str, Any], labels: Labels) -> None:
    """Show every quantity: its formula in words, and each input with where it is from."""
    paper.heading(labels["working"])
    for entry in document["workings"]:
        paper.para(entry["result"]["text"], 0, f"{entry['id']} = ", bold=True)
        paper.para(f"= {entry['words']}", 2)
        for part in entry["inputs"]:
            paper.para(f"{part['label']} {part['text']} ({_origin(part, labels)})", 4, "- ")


def _origin(part: Mapping[str, Any], labels: Labels) -> str:
    """Say where an input is from: another working, what was asked, or the data with its grade."""
    origin = part["origin"]
    if part["from"]:
        return f"{labels['from']} {part['from']}"
    if origin["kind"] in FROM_DATA:
        known = [labels.grade(origin["grade"])] if origin["grade"] else []
        source = [origin["source"]] if origin["source"] else []
        return ", ".join([origin["where"], *known, *source])
    return f"{labels[origin['kind'] + '-origin']}: {origin['where']}"
