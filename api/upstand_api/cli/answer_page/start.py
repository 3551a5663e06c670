"""Before a tool is lifted: verdict, dangers, what to confirm, what was assumed."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any, Final

from upstand_api.cli.labels import Labels
from upstand_api.cli.paper import Paper

COLOURS: Final = {"go": "green", "plan": "cyan", "hold": "red", "ask": "yellow"}
TICK: Final = "[ ] "
SENTENCE_END: Final = re.compile(r"(?<=\.) (?=[A-ZÁÉÍÓÚÑ])")


def show_verdict(paper: Paper, document: Mapping[str, Any], labels: Labels) -> None:
    """Say first whether work may start, then every reason and what clears it."""
    verdict = document["verdict"]
    state = verdict["state"]
    count = document["totals"]["count"]
    names = [document[thing]["name"] for thing in ("detail", "roof", "resin")]
    paper.para((f"{count} × " if count > 1 else "") + " · ".join(names))
    paper.blank()
    word = labels[f"state-{state}"]
    many = str(len(document["confirm"]))
    sentence = labels.say(f"verdict-{state}", confirm=labels["confirm"], count=many)
    paper.para(sentence, 0, f">>> {word}: ", bold=True, fg=COLOURS[state])
    reasons = verdict["reasons"]
    for number, reason in enumerate(reasons, 1):
        paper.blank()
        lead = f"{number}. {labels['state-' + reason['state']]}: "
        paper.para(reason["text"], 2, lead, bold=True, fg=COLOURS[reason["state"]])
        paper.para(reason["clears"], 5, f"{labels['clears']}: ")
        if reason["whom"]:
            paper.para(f"{labels['ask-whom']}: {reason['whom']}", 5)
        if reason["facts"]:
            paper.para(f"{labels['facts']}:", 5)
            for fact in reason["facts"]:
                paper.para(fact, 7, "- ")
    paper.blank()
    for notice in document["notices"]:
        paper.para(notice, 0, "* ")
    stamp = f"{labels.term('edition')} {document['edition']}"
    if document["overlay"]:
        stamp += f" · {labels.term('overlay')}: {document['overlay']}"
    paper.para(f"{stamp} · upstand {document['software']}", 0, "* ")


def show_dangers(paper: Paper, document: Mapping[str, Any], labels: Labels) -> None:
    """Show every caution with its measure, the gravest first.

    What rules there are stand at the step that they are for; here only where no step is.
    """
    told = {id for step in document["steps"] for id in step["cautions"]}
    if not document["cautions"]:
        return
    paper.heading(labels["dangers"])
    paper.para("; ".join(caution["short"] for caution in document["cautions"]), bold=True)
    for caution in document["cautions"]:
        severity = caution["severity"]
        lead = f"{labels[f'severity-{severity}']}: "
        colour = {"danger": {"fg": "red"}}.get(severity, {})
        paper.para(f"{caution['name']}. {caution['text']}", 0, lead, bold=True, **colour)
        paper.para(caution["measure"], 2, f"{labels['measure']}: ")
        for rule in () if caution["id"] in told else caution["rules"]:
            paper.para(labels.rule(rule), 2, f"{labels['rule']}: ")
    defers = [SENTENCE_END.split(caution["defers"]) for caution in document["cautions"]]
    governs = dict.fromkeys(sentence for sentences in defers for sentence in sentences)
    paper.blank()
    paper.para(" ".join(governs), 0, f"{labels['governs']}: ", bold=True)


def show_confirm(paper: Paper, document: Mapping[str, Any], labels: Labels) -> None:
    """List what a person ticks on the roof."""
    if not document["confirm"]:
        return
    paper.heading(labels["confirm"])
    last = None
    for point in document["confirm"]:
        if point["by"] and point["by"] != last:
            last = point["by"]
            paper.para(f"{labels[f'by-{last}']}:", bold=True)
        name = f"{point['name']}. " if point["name"] else ""
        paper.para(f"{name}{point['text']}", 0, TICK)
        if point["acceptance"]:
            paper.para(point["acceptance"], 4, f"{labels['good']}: ")
        _statement(paper, point["standard"], labels)
        if point["whom"]:
            paper.para(f"{labels['if-not']}: {point['whom']}", 4)


def _statement(paper: Paper, standard: Mapping[str, Any] | None, labels: Labels) -> None:
    """Say the number that a check goes by."""
    if standard is not None:
        paper.para(labels.rule(standard), 4, labels.rule_lead(standard))


def show_assumed(paper: Paper, document: Mapping[str, Any], labels: Labels) -> None:
    """List every default that was filled in, and every figure that is our own."""
    if not document["assumed"]:
        return
    paper.heading(labels["assumed"])
    for assumed in document["assumed"]:
        paper.para(assumed["text"], 0, "- ")
